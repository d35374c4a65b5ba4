// `rollbook explain --handbook`: all there is to explain as one HTML file that needs no other. Without its one script it has all of it, but for the search box.
import { createHash } from 'node:crypto'
import { escapedHtml } from '../base/html.ts'
import { explainTopic, explainTopics, type Topic, type TopicKind, withLinks } from '../features/explain.ts'
import { STYLES } from '../picture/looks.ts'
import { passageHtml } from '../report/page-html.ts'
import { MACHINE_FIRST, WAYS, workOutPage } from '../report/work-out/ways.ts'
import { RULE_AREAS } from '../rules/generated/index.ts'
import { VERSION } from '../version.ts'
import { GROUPS } from './explain-groups.ts'

interface HandbookPage {
  readonly id: string
  readonly label: string
  /** What a person may look for it by. */
  readonly names: readonly string[]
  /** Begins with its heading. */
  readonly html: string
}

/** The whole handbook: what it holds is the program's own, so it is the same for every shop. */
export function handbookHtml(): string {
  const topics = explainTopics().filter((topic, n, all) => all.findIndex((other) => idOf(other) === idOf(topic)) === n)
  const cautions = new Map<string, string>()
  const paged = (topic: Topic): HandbookPage => {
    const { kind, label, also } = topic
    const sameKind = (name: string): Topic =>
      topics.find((one) => one.kind === kind && one.label === name) ?? topics.find((one) => one.label === name)!
    const text = withLinks(explainTopic(topic.topic)!, (name) => `#${idOf(sameKind(name))}`)
    const id = idOf(topic)
    const measured = kind === 'printer' ? WAYS.filter(({ into }) => into.replace(/\.\*/g, '') === label) : []
    const how = measured.map(({ name, title }) => `<p>To measure it: <a href="#work-out.${name}">${escapedHtml(title)}</a></p>`)
    for (const [, caution] of text.matchAll(/\bCaution:(?:\*\*)? (.+)/g))
      cautions.set(caution!, `${cautions.has(caution!) ? `${cautions.get(caution!)}, ` : ''}<a href="#${id}">${label}</a>`)
    return { id, label, names: [label, label.slice(label.lastIndexOf('.') + 1), ...also], html: htmlOf(text) + how.join('') }
  }
  const of = (kind: TopicKind, only?: ReadonlySet<string>): readonly HandbookPage[] =>
    topics.filter((topic) => topic.kind === kind && (only === undefined || only.has(topic.label))).map(paged)
  const ways = WAYS.map((way): HandbookPage => {
    const { title, passages } = workOutPage(way, undefined)
    const html = `<h3>${escapedHtml(title)}</h3>${passages.map((passage) => passageHtml(passage, 'h4')).join('')}`
    return { id: `work-out.${way.name}`, label: title, names: [way.name], html }
  })
  const kinds = (...names: readonly TopicKind[]) => names.map((kind) => [GROUPS[kind], of(kind)] as const)
  const parts: readonly (readonly [title: string, pages: readonly HandbookPage[]])[] = [
    ...kinds('fault'),
    ['What no data sheet tells, measured', ways],
    ...kinds('media', 'stock', 'printer', 'shop', 'family'),
    ...Object.entries(RULE_AREAS).map(
      ([area, rules]) => [`Rules: ${area}`, of('rule', new Set(rules.map(({ code }) => code)))] as const,
    ),
  ]
  const contents = parts.map(([title, pages]) => {
    const list = pages.map(({ id, label }) => `<li><a href="#${id}">${escapedHtml(label)}</a></li>`).join('')
    return `<details><summary>${title} (${pages.length})</summary><ul>${list}</ul></details>`
  })
  const sections = parts.map(([title, pages], n) => {
    const articles = pages.map(
      ({ id, names, html }) =>
        `<article data-names="${escapedHtml(names.map(plain).join('|'))}">${html.replace('<h3>', `<h3 id="${id}">`)}</article>`,
    )
    return `<section><h2 id="part-${n + 1}">${title}</h2>\n${articles.join('\n')}\n</section>`
  })
  const careful = [...cautions].map(([caution, where]) => `<li>${inline(caution)} (${where})</li>`).join('\n')
  const digest = createHash('sha256').update(SCRIPT).digest('base64')
  return `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-${digest}'; form-action 'none'; base-uri 'none'">
<meta name="viewport" content="width=device-width">
<title>Rollbook handbook</title>
<style>${STYLES.page}\n${STYLE}</style>
<main>
<h1>Rollbook handbook, ${VERSION}</h1>
<p class="first">${escapedHtml(MACHINE_FIRST)} <a href="#cautions">All cautions</a></p>
<div class="bar"><a href="#contents">Contents</a><form role="search" hidden><label>Find <input type="search"></label> <output></output><ol></ol></form></div>
<nav aria-labelledby="contents"><h2 id="contents">Contents</h2>${contents.join('\n')}</nav>
${sections.join('\n')}
<section><h2 id="cautions">All cautions</h2><ul>${careful}</ul></section>
</main>
<script>${SCRIPT}</script>
</html>
`
}

const idOf = ({ kind, label }: Topic): string => `${kind}.${label}`

/** Names as they are compared: hyphens and dots are as good as blanks. */
const plain = (name: string): string => name.toLowerCase().replace(/[-.\s]+/g, ' ')

/** The Markdown that pages of explanation are written in. */
const htmlOf = (markdown: string): string =>
  markdown
    .split(/^```yaml\n([\s\S]*?)\n```$/m)
    .map((text, n) => (n % 2 === 1 ? `<pre>${escapedHtml(text)}</pre>` : text.split('\n\n').map(blockOf).join('')))
    .join('')

function blockOf(block: string): string {
  const text = block.trim()
  const mark = /^(?:#+|-|>|\d+\.)(?= )/.exec(text)?.[0]
  const tag = mark === undefined ? 'p' : (TAGS[mark] ?? 'ol')
  if (tag === 'ul' || tag === 'ol') return `<${tag}>${text.split('\n').map(itemOf).join('')}</${tag}>`
  return text === '' ? '' : `<${tag}>${inline(text.slice(mark === undefined ? 0 : mark.length + 1))}</${tag}>`
}

const TAGS: Readonly<Record<string, string>> = { '#': 'h3', '##': 'h4', '-': 'ul', '>': 'blockquote' }

const itemOf = (line: string): string =>
  `<li${line.startsWith('- **Caution') ? ' class="caution"' : ''}>${inline(line.replace(/^\S+ /, ''))}</li>`

const inline = (text: string): string =>
  escapedHtml(text)
    .replace(/`([^`]+)`/g, '<code>$1</code>')
    .replace(/\[(<code>[^<]+<\/code>)\]\((#[^)]+)\)/g, '<a href="$2">$1</a>')
    .replace(/\*\*([^*]+)\*\*/g, '<strong>$1</strong>')
    .replace(/(?<![*\w.])\*(?=\S)(.+)\*$/g, '<em>$1</em>')

const STYLE = `h3{font-size:1em;margin:1.8em 0 .4em;padding-top:.6em;border-top:1px solid var(--grid)}h4{font-size:1em;margin:.8em 0 .2em}
h2,h3{scroll-margin-top:3.5em;overflow-wrap:anywhere}:target{color:var(--focus)}summary{padding:.2em 0;cursor:pointer}nav ul{columns:13em;margin:.2em 0;padding-left:1.2em}
li,p{overflow-wrap:anywhere}pre{white-space:pre-wrap;overflow-wrap:anywhere;border-left:3px solid var(--grid);padding-left:.6em}blockquote{margin:.4em 0;padding-left:.6em;border-left:3px solid var(--set)}
.caution{border-left:3px solid var(--limit);padding-left:.5em}em{color:var(--quiet)}[hidden]{display:none!important}
.bar{position:sticky;top:0;background:var(--paper);padding:.5em 0;display:flex;gap:1em;align-items:baseline;border-bottom:1px solid var(--grid)}
form{flex:1}input{font:inherit;color:inherit;background:var(--paper);border:1px solid var(--quiet);padding:.2em .4em;width:min(16em,50vw)}
form ol{position:absolute;left:0;right:0;margin:.5em 0 0;padding:0 0 0 2.5em;max-height:60vh;overflow:auto;background:var(--paper);border-bottom:1px solid var(--grid)}
@media print{.bar,nav{display:none}:target{color:inherit}}`

/** Names before texts, whole names before parts of them. It makes text of text: nothing becomes markup. */
const SCRIPT = `const form=document.forms[0],[box]=form.elements,[said,list]=form.querySelectorAll('output,ol')
const plain=text=>text.toLowerCase().replace(/[-.\\s]+/g,' ').trim()
const pages=[...document.querySelectorAll('article')].map(page=>({head:page.firstElementChild,names:page.dataset.names.split('|'),text:plain(page.textContent)}))
const rank=({names,text},asked)=>{
const all=text=>asked.split(' ').every(word=>text.includes(word))
return names.includes(asked)?4:names.some(name=>name.startsWith(asked))?3:all(names.join(' '))?2:all(text)?1:0}
form.oninput=()=>{
const asked=plain(box.value)
const found=asked?pages.map(({head,...page})=>[rank(page,asked),head]).filter(([rank])=>rank).sort(([a],[b])=>b-a):[]
said.textContent=asked?found.length+(found.length===1?' page':' pages')+(found.length>40?', the likeliest 40:':''):''
list.replaceChildren(...found.slice(0,40).map(([,head])=>{
const item=document.createElement('li'),link=document.createElement('a')
link.href='#'+head.id
link.textContent=head.textContent
item.append(link,' · '+head.closest('section').firstElementChild.textContent)
return item}))
list.hidden=!found.length}
form.hidden=false
list.hidden=true
box.onfocus=form.oninput
form.onkeydown=({key})=>{if(key==='Escape')list.hidden=true}
list.onclick=()=>{list.hidden=true}
form.onsubmit=event=>{
event.preventDefault()
list.querySelector('a')?.click()}`
