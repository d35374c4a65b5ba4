// How a document is looked at: the same name highlighted, a selection that grows, what folds, and what links lead to.
import { describe, expect, test } from 'vitest'
import { LineIndex } from '../../server/src/base/line-index.ts'
import { applyEdits } from '../../server/src/base/text-edit.ts'
import { cursorOf, openFixture, parseFixture } from '../support/fixture.ts'

describe('highlight', () => {
  /** The text with every place marked: «called by», «=given=». */
  async function highlighted(source: string): Promise<string> {
    const fixture = parseFixture(source)
    const found = (await openFixture(fixture)).highlights(fixture.file, cursorOf(fixture))
    const marks = found.flatMap(({ span, gives }) => [
      { start: span.start, end: span.start, newText: gives ? '«=' : '«' },
      { start: span.end, end: span.end, newText: gives ? '=»' : '»' },
    ])
    return applyEdits(fixture.text, marks)
  }

  test('a mode, wherever it is named, and nothing else of the name', async () => {
    expect(
      await highlighted(
        'profile: fine # fine\nmode: f$0ine\nconditions:\n  before: { mode: fine }\n  after: { mode: "fine" }\nnotes: fine\n',
      ),
    ).toMatchInlineSnapshot(`
      "profile: fine # fine
      mode: «fine»
      conditions:
        before: { mode: «fine» }
        after: { mode: «"fine"» }
      notes: fine
      "
    `)
  })

  test('a channel by its keys, a level by its number, an anchor by its aliases', async () => {
    expect(await highlighted('alignment:\n  one-way: { cyan: 1, black: 0 }\n  two-way: { cy$0an: 1 }\n')).toMatchInlineSnapshot(`
      "alignment:
        one-way: { «cyan»: 1, black: 0 }
        two-way: { «cyan»: 1 }
      "
    `)
    expect(await highlighted('suction: 3\nweb: { tension: 3$0 }\nkeyed: [{ tension: 3, suction: 3 }]\n')).toMatchInlineSnapshot(`
      "suction: 3
      web: { tension: «3» }
      keyed: [{ tension: «3», suction: 3 }]
      "
    `)
    expect(await highlighted('x-h: &h { platen: 40 °C }\nheat: *$0h\nx-again: *h\n')).toMatchInlineSnapshot(`
      "x-h: &h { «=platen=»: 40 °C }
      heat: «*h»
      x-again: «*h»
      "
    `)
  })

  test('where a name is given', async () => {
    expect(await highlighted('#- bay-1.printer.yaml\nprinter: bay-1\nmodes:\n  fi$0ne: { passes: 8 }\n')).toMatchInlineSnapshot(`
      "printer: bay-1
      modes:
        «=fine=»: { passes: 8 }
      "
    `)
  })

  test('nothing for plain values', async () => {
    expect(await highlighted('gap: 2$0 mm\nalignment: { gap: 2 mm }\n')).toBe('gap: 2 mm\nalignment: { gap: 2 mm }\n')
  })
})

describe('selection', () => {
  /** Each step, the smallest first. */
  async function grown(source: string): Promise<string> {
    const fixture = parseFixture(source)
    const spans = (await openFixture(fixture)).selections(fixture.file, cursorOf(fixture))
    return spans.map(({ start, end }) => fixture.text.slice(start, end).replaceAll('\n', '⏎')).join('\n')
  }

  test('from a word to its value, its key, its entry, the list and the document', async () => {
    expect(
      await grown(`profile: e
feed:
  checks:
    # The first.
    - { date: 2026-03-02, measured: 19$096.0 mm }

    - { date: 2026-03-09 }
`),
    ).toMatchInlineSnapshot(`
      "1996.0
      1996.0 mm
      measured: 1996.0 mm
       date: 2026-03-02, measured: 1996.0 mm 
      { date: 2026-03-02, measured: 1996.0 mm }
      - { date: 2026-03-02, measured: 1996.0 mm }
      - { date: 2026-03-02, measured: 1996.0 mm }⏎⏎    - { date: 2026-03-09 }
      checks:⏎    # The first.⏎    - { date: 2026-03-02, measured: 1996.0 mm }⏎⏎    - { date: 2026-03-09 }
      feed:⏎  checks:⏎    # The first.⏎    - { date: 2026-03-02, measured: 1996.0 mm }⏎⏎    - { date: 2026-03-09 }
      profile: e⏎feed:⏎  checks:⏎    # The first.⏎    - { date: 2026-03-02, measured: 1996.0 mm }⏎⏎    - { date: 2026-03-09 }
      profile: e⏎feed:⏎  checks:⏎    # The first.⏎    - { date: 2026-03-02, measured: 1996.0 mm }⏎⏎    - { date: 2026-03-09 }⏎"
    `)
  })

  test('within quotes, in a comment, on a dash', async () => {
    expect(await grown("title: 'Film, ever$0yday'\n")).toMatchInlineSnapshot(`
      "everyday
      Film, everyday
      'Film, everyday'
      title: 'Film, everyday'
      title: 'Film, everyday'⏎"
    `)
    expect(await grown('profile: e\n# One.\n# T$0wo.\ngap: 2 mm\n')).toMatchInlineSnapshot(`
      "# Two.
      # One.⏎# Two.
      profile: e⏎# One.⏎# Two.⏎gap: 2 mm
      profile: e⏎# One.⏎# Two.⏎gap: 2 mm⏎"
    `)
    expect(await grown('observed:\n  - date: 2026-01-01\n  $0- date: 2026-01-02\n    note: x\n')).toMatchInlineSnapshot(`
      "- date: 2026-01-02⏎    note: x
      - date: 2026-01-01⏎  - date: 2026-01-02⏎    note: x
      observed:⏎  - date: 2026-01-01⏎  - date: 2026-01-02⏎    note: x
      observed:⏎  - date: 2026-01-01⏎  - date: 2026-01-02⏎    note: x⏎"
    `)
  })
})

describe('folds', () => {
  /** The lines that stay, with how many go. */
  async function folded(source: string): Promise<string> {
    const fixture = parseFixture(source)
    const lines = new LineIndex(fixture.text)
    const found = (await openFixture(fixture)).folds(fixture.file)
    return found
      .map(({ start, end, kind }) => {
        const [first, last] = [lines.lineAt(start), lines.lineAt(end)]
        const line = fixture.text.slice(lines.lineStart(first), lines.lineEnd(first))
        return `${line} … ${last - first}${kind === 'comment' ? ' (comment)' : ''}`
      })
      .join('\n')
  }

  test('sections, lists, items, texts and comments, each without the blank lines behind it', async () => {
    expect(
      await folded(`# One.
# Two.
profile: e # x

feed:
  # Alone.
  checks:
    - date: 2026-03-02
      measured: 1996 mm

    # Both
    # of these.
    - { date: 2026-03-09,
        measured: 1997 mm }

notes: |
  # no comment
  # of this document

heat: { platen: 40 °C }
`),
    ).toMatchInlineSnapshot(`
      "# One. … 1 (comment)
      feed: … 9
        checks: … 7
          - date: 2026-03-02 … 1
          # Both … 1 (comment)
          - { date: 2026-03-09, … 1
      notes: | … 2"
    `)
  })
})

describe('links', () => {
  async function linked(source: string): Promise<string> {
    const fixture = parseFixture(source)
    const found = (await openFixture(fixture)).links(fixture.file)
    return found.map(({ span, target }) => `${fixture.text.slice(span.start, span.end)} → ${target}`).join('\n')
  }

  test('the documents a profile rests on and its colour files', async () => {
    expect(
      await linked(`#- profiles/e.media.yaml
profile: e
base: every$0day
stock: film
printer: nowhere
colour: { icc: "../colour/a b.icc", reference: /etc/passwd, measured: [{ file: ../../out.txt }, { file: m.txt }] }
#- everyday.media.yaml
profile: everyday
#- film.stock.yaml
stock: film
#- rollbook.yaml
shop: Tern Quay Print Works
`),
    ).toMatchInlineSnapshot(`
      "everyday → file:///shop/everyday.media.yaml
      film → file:///shop/film.stock.yaml
      ../colour/a b.icc → file:///shop/colour/a%20b.icc
      m.txt → file:///shop/profiles/m.txt"
    `)
  })

  test('a datasheet: a web page, a file beside the stock, and nothing that runs', async () => {
    const sheet = (path: string): Promise<string> => linked(`#- f.stock.yaml\nstock: f\ndatasheet: ${path}\n`)
    expect(await sheet('https://example.org/f.pdf')).toBe('https://example.org/f.pdf → https://example.org/f.pdf')
    expect(await sheet('sheets/f.pdf')).toBe('sheets/f.pdf → file:///shop/sheets/f.pdf')
    expect(await sheet('command:workbench.action.quit')).toBe('')
    expect(await sheet('"javascript:alert(1)"')).toBe('')
    expect(await sheet('file:///etc/passwd')).toBe('')
  })
})
