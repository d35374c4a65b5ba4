// `rollbook explain --handbook`: all there is to explain is in the one file, word for word; every link leads inside it, and only its own script may run.
import { createHash } from 'node:crypto'
import { expect, test } from 'vitest'
import { handbookHtml } from '../../server/src/cli/handbook.ts'
import { explainTopic, explainTopics } from '../../server/src/features/explain.ts'
import { WAYS } from '../../server/src/report/work-out/ways.ts'
import { RULE_AREAS, RULES } from '../../server/src/rules/generated/index.ts'
import { shopWith } from '../picture/shop.ts'
import { ran, run } from './shell.ts'

const html = handbookHtml()
const ids = [...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id!)

const ENTITIES: Readonly<Record<string, string>> = { '&amp;': '&', '&lt;': '<', '&gt;': '>', '&quot;': '"', '&#39;': "'" }

/** What a person reads, its letters and digits alone: what marks a list or sets it in bold is none. */
const read = (text: string): string => text.replace(/[^\p{L}\p{N}%±−+<>&'"=]+/gu, ' ').trim()

const articles = new Map(
  [...html.matchAll(/<article data-names="[^"]*"><h3 id="([^"]+)">[\s\S]*?<\/article>/g)].map(([article, id]) => {
    const text = article.replace(/<[^>]*>/g, ' ').replace(/&(?:amp|lt|gt|quot|#39);/g, (entity) => ENTITIES[entity]!)
    return [id!, read(text)]
  }),
)

test('every topic is in it, word for word, and every way to measure', () => {
  for (const { topic, kind, label } of explainTopics()) {
    const page = explainTopic(topic)!.replace(/^(?:```yaml|```|#+ |> )/gm, '')
    // Marks of the markup, and the numbers of a list, which a browser writes.
    const words = read(page.replace(/\*\*|`/g, ' ').replace(/^\d+\. /gm, ''))
    const article = articles.get(`${kind}.${label}`)
    expect([topic, article?.slice(0, words.length)]).toEqual([topic, words])
  }
  for (const { name, cautions, steps } of WAYS)
    for (const words of [...cautions, ...steps]) expect(articles.get(`work-out.${name}`)).toContain(read(words))
  expect(articles.size).toBeGreaterThan(480)
})

test('the rules stand by their areas, each once', () => {
  expect(
    Object.values(RULE_AREAS)
      .flat()
      .sort((a, b) => (a.code < b.code ? -1 : 1)),
  ).toEqual(RULES)
  expect(new Set(RULES).size).toBe(RULES.length)
  for (const [area, rules] of Object.entries(RULE_AREAS)) {
    const part = html.split('<section>').find((section) => section.includes(`>Rules: ${area}</h2>`))!
    expect([...part.matchAll(/<h3 id="rule\.([^"]+)">/g)].map(([, code]) => code)).toEqual(rules.map(({ code }) => code))
  }
})

test('every link leads inside it, to a heading that is there once', () => {
  expect(new Set(ids).size).toBe(ids.length)
  const links = [...html.matchAll(/ (?:href|src)="([^"]*)"/g)].map(([, link]) => link!)
  expect(links.filter((link) => !link.startsWith('#') || !ids.includes(link.slice(1)))).toEqual([])
  // A name leads to the page of its own kind of document where there is one.
  const of = (id: string): string => html.slice(html.indexOf(`<h3 id="${id}">`)).split('</article>')[0]!
  expect(of('fault.bands-light')).toContain('<a href="#media.suction"><code>suction</code></a>')
  expect(of('printer.heads.nozzle-pitch')).toContain('<a href="#work-out.nozzle-pitch">')
})

test('a caution of any page stands among all cautions, and leads there', () => {
  const cautions = html.slice(html.indexOf('id="cautions"'))
  const careful = [...html.matchAll(/<h3 id="([^"]+)">(?:(?!<\/article>)[\s\S])*?\bCaution:/g)].map(([, id]) => id!)
  expect(careful.length).toBeGreaterThan(100)
  expect(careful.filter((id) => !cautions.includes(`<a href="#${id}">`))).toEqual([])
})

test('nothing may be fetched or run but the script that is in it', () => {
  const [, script] = /<script>([\s\S]*)<\/script>/.exec(html)!
  const digest = createHash('sha256').update(script!).digest('base64')
  expect(html).toContain(`default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-${digest}';`)
  expect(html.split('<script').length).toBe(2)
  expect(script).not.toMatch(/\beval|Function\(|innerHTML|fetch|import/)
  expect(html).not.toMatch(/ on\w+=|url\(|@import/)
  // Without it nothing is offered that does not work.
  expect(html).toContain('<form role="search" hidden>')
})

test('is written as a new file, the same each time, with nothing of the shop in it', async () => {
  const { created, out, err, code } = await ran('explain --handbook book.html', shopWith())
  expect([out, err, code]).toEqual(['', '', 0])
  expect([...created]).toEqual([['/shop/book.html', html]])
  expect((await ran('explain --handbook -')).out).toBe(html)
  expect(await run('explain --handbook rollbook.yaml', shopWith())).toBe(
    '! There is a file /shop/rollbook.yaml already; it is not written over.\nexit 2',
  )
  expect(await run('explain suction --handbook book.html')).toBe(
    '! --handbook writes every page there is, and takes no words and no --all.\nexit 2',
  )
})
