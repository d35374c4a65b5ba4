// biome-ignore-all lint/suspicious/noTemplateCurlyInString: the stops of a snippet look like placeholders.
// A finding that somebody has accepted until a day, and why: it is told as accepted in every face, and counts in none. What can hurt is never accepted.
import { describe, expect, test } from 'vitest'
import { acceptancesOf } from '../../server/src/rules/support/acceptance.ts'
import { SyntaxTree } from '../../server/src/syntax/parse.ts'
import { PRINTER, ran, run, shopWith } from '../cli/shell.ts'
import { actionTitles, afterAction } from '../support/render.ts'

const CODES = ['feed-correction', 'web-too-hot', 'accept-unused', 'accept-expired', 'accept-miswritten'] as const
const SHOP = shopWith(...CODES) + PRINTER

const profile = (comment: string): string => `#- profiles/banner.media.yaml
profile: banner
printer: bay-1
feed:
  ${comment}
  correction: +0.05 %
  checks:
    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: +0.05 %}
`

const ACCEPT = '# rollbook-accept feed-correction until 2026-06-01: agreed with the customer'

test('counts no longer, and is told as accepted', async () => {
  expect(await run('check --today 2026-03-31', SHOP + profile('# a note'))).toContain('exit 1')
  expect(await run('check --today 2026-03-31', SHOP + profile(ACCEPT))).toMatchInlineSnapshot(`
    "Accepted in the documents, each until a day; it does not count:

    profiles/banner.media.yaml
      5:15  warning feed-correction Name the stock first, and key in nothing before. By what is known prints come out 2 mm per metre short. 1 check asks for +0.25 % ±0.11 %, and +0.05 % is set.
            Accepted until 2026-06-01: agreed with the customer.
            fix: Set the correction to +0.25 % (from 1 check)

    3 documents checked: nothing found but what is accepted. 1 is accepted in the documents, each until a day.
    exit 0"
  `)
})

test.each(['json', 'sarif', 'junit', 'github', 'gitlab'])('is in %s, with its day and its reason', async (format) => {
  const { out, code } = await ran(`check --today 2026-03-31 --format ${format}`, SHOP + profile(ACCEPT))
  expect(code).toBe(0)
  expect(out).toContain('feed-correction')
  expect(out).toContain('2026-06-01')
  expect(out).toContain('agreed with the customer')
})

test('its last day counts, and the day after it is due again: a branch that nobody touched does not fail by the calendar', async () => {
  const on = async (day: string, ...args: readonly string[]) =>
    (await ran(['check', '--today', day, '--format', 'json', ...args], SHOP + profile(ACCEPT))).code
  expect(await on('2026-06-01')).toBe(0)
  expect(await on('2026-06-02')).toBe(0)
  expect(await on('2026-06-02', '--due')).toBe(1)
})

test('one that has run out hides no later one on the same entry', async () => {
  const expired = ACCEPT.replace('2026-06-01', '2026-03-01')
  const twice = profile(ACCEPT).replace('feed:\n', `${expired}\nfeed:\n`)
  expect((await ran('check --today 2026-03-31', SHOP + twice)).code).toBe(0)
  expect(JSON.parse((await ran('check --today 2026-03-31 --format json', SHOP + twice)).out).accepted).toBe(1)
})

test.each([
  ['below another entry', '  correction: +0.05 %\n', `  correction: +0.05 %\n  ${ACCEPT}\n`],
  ['above another section', 'printer: bay-1\n', `${ACCEPT}\nprinter: bay-1\n`],
])('%s it accepts nothing', async (_, from, to) => {
  const { out, code } = await ran('check --today 2026-03-31', SHOP + profile('# a note').replace(from, to))
  expect([code, out.includes('accept-unused')]).toEqual([1, true])
})

test.each([
  ['behind the entry', 'correction: +0.05 %\n', `correction: +0.05 % ${ACCEPT}\n`],
  ['above the section', 'feed:\n', `${ACCEPT}\nfeed:\n`],
  ['above the first entry, for the whole document', 'profile: banner\n', `${ACCEPT}\nprofile: banner\n`],
])('%s it accepts as well', async (_, from, to) => {
  const { code } = await ran('check --today 2026-03-31', SHOP + profile('# a note').replace(from, to))
  expect(code).toBe(0)
})

describe('a danger', () => {
  const HOT = `#- stocks/film.stock.yaml
stock: film
max-web-temperature: 40 °C
#- profiles/hot.media.yaml
profile: hot
stock: film
printer: bay-1
heat: {platen: 55 °C} # rollbook-accept web-too-hot until 2027-03-01: it has always been like this
`
  test('stays an error, and the comment is one more', async () => {
    const { out, code } = await ran('check --today 2026-03-31', shopWith('accept-refused') + PRINTER + HOT)
    expect(code).toBe(1)
    expect(out).toMatch(/error web-too-hot/)
    expect(out).toMatch(/error accept-refused/)
  })

  test('stays an error though the shop ignores it', async () => {
    const shop = shopWith('accept-refused') + PRINTER
    const { out } = await ran('check --today 2026-03-31', shop + HOT.replace(/ # rollbook.*/, ''))
    expect(out).toMatch(/error web-too-hot/)
    expect(out).toMatch(/error accept-refused 'web-too-hot' tells of what can hurt somebody or the machine: it stays an error/)
  })
})

describe('in the editor', () => {
  const BODY = `profile: banner
feed:
  correction: +0.0$05 %
  checks:
    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: +0.05 %}
`
  test('the comment is offered, with the day and the reason left to the person', async () => {
    expect((await actionTitles(BODY)).filter((title) => title.startsWith('Accept'))).toEqual([
      "Accept 'feed-correction' until a day, with a reason",
    ])
    expect(await afterAction(BODY, /^Accept/)).toBe(
      BODY.replace('$0', '').replace(
        '  correction',
        '  # rollbook-accept feed-correction until ${1:YYYY-MM-DD}: ${2:why}\n  correction',
      ),
    )
  })
})

test('a comment in a quoted text is none, and any text is read', () => {
  const read = (text: string) => acceptancesOf(SyntaxTree.parse(text)).map(({ code, until, reason }) => ({ code, until, reason }))
  expect(read('title: "x # rollbook-accept a until 2026-03-01: b"\n')).toEqual([])
  expect(read('a: 1 # rollbook-acceptable\n')).toEqual([])
  expect(read('[ # rollbook-accept a until 2026-03-01: b\n')).toEqual([{ code: 'a', until: '2026-03-01', reason: 'b' }])
  expect(read('# rollbook-accept a-b   until 2026-13-01 :  b c \r\n')).toEqual([{ code: 'a-b', until: undefined, reason: 'b c' }])
})
