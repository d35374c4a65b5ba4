// Levels by the names that a shop has for them: a name and its number are one value wherever something is computed or compared, what is told says the
// name, and no name is half understood.
import { describe, expect, test } from 'vitest'
import { panelOf } from '../../server/src/areas/machine/panel.ts'
import { keyedOf } from '../../server/src/areas/machine/read-back.ts'
import { suctionOf } from '../../server/src/areas/suction/facts.ts'
import { webOf } from '../../server/src/areas/web/facts.ts'
import { applyEdits, editsOf } from '../../server/src/base/text-edit.ts'
import { stateSummary } from '../../server/src/features/references.ts'
import { addState } from '../../server/src/model/state-add.ts'
import { settingsNow } from '../../server/src/model/states.ts'
import { ran } from '../cli/shell.ts'
import { told } from '../review/reviewed.ts'
import { cursorOf, openFixture, parseFixture, ROOT } from '../support/fixture.ts'
import { completions, findings, hints, hover } from '../support/render.ts'

const PRINTER = `#- bay-1.printer.yaml
printer: bay-1
modes: { fine: { passes: 8, directions: one-way, resolution: 720 x 720 dpi, carriage-speed: 1 m/s } }
feed: { range: [-2 %, 2 %], step: 0.01 %, entry: percent }
suction:
  levels: { 1: 100 Pa, 2: 200 Pa, 3: 320 Pa }
  level-names: { low: 1, mid: 2 } # the knob has no word for 3
  depth: 120 mm
  open-area: 3 %
  hole: 2 mm
web:
  tension-levels: { 1: 8 N/m, 2: 15 N/m }
  tension-level-names: { slack: 1, firm: 2 }
panel: [{ key: suction, where: the knob }, { key: web.tension, where: the wheel }]
`
const STOCK = `#- film.stock.yaml
stock: film
family: film-pvc-cast
thickness: 60 µm
wound: out
`
/** The sum in the state's name is over the numbers. */
const STATE = 's5aku'
const profile = (suction: string, tension: string, more = ''): string => `profile: example
stock: film
printer: bay-1
mode: fine
suction: ${suction}
web: { tension: ${tension} }
feed:
  correction: 0 %
  checks:
    - { date: 2026-03-20, commanded: 1000 mm, measured: 1000 mm, applied: 0 %, under: ${STATE} }
${more}`
const states = (suction: string, tension: string): string =>
  `conditions:\n  ${STATE}: { from: profile, stock: film, printer: bay-1, mode: fine, suction: ${suction}, web.tension: ${tension} }\n`
const keyed = (suction: string, tension: string): string =>
  `keyed:\n  - { date: 2026-03-22, suction: ${suction}, tension: ${tension} }\n`

const BY_NAME = profile('mid', 'firm', states('mid', 'firm') + keyed('mid', 'firm'))
const BY_NUMBER = profile('2', '2', states('2', '2') + keyed('2', '2'))

async function setupOf(text: string) {
  const fixture = parseFixture(text + PRINTER + STOCK)
  const analysis = await openFixture(fixture)
  return { analysis, fixture, ...analysis.context(fixture.file)!, setup: analysis.context(fixture.file)!.setup! }
}

describe('one value', () => {
  test('what is computed is the same, and nothing else is told', async () => {
    const [name, number] = [await setupOf(BY_NAME), await setupOf(BY_NUMBER)]
    for (const reckon of [suctionOf, webOf] as const) {
      const [a, b] = [name, number].map(({ setup }) =>
        JSON.stringify(reckon(setup), (key, value) => (key === 'place' ? 0 : value)),
      )
      expect(a).toBe(b)
    }
    expect(suctionOf(name.setup).set).toEqual({ level: 2, name: 'mid', pressure: 200 })
    expect(webOf(name.setup).tension).toMatchObject({ level: 2, value: 15 })
    const codes = ({ analysis, fixture }: typeof name): readonly string[] =>
      analysis.findings(fixture.file).map(({ code, message }) => `${code} ${message}`)
    expect(codes(name)).toEqual(codes(number))
    expect(codes(name).join('\n')).not.toMatch(/state-|-level|keyed/)
  })

  test('in each of the places by itself', async () => {
    for (const text of [
      profile('mid', '2', states('2', '2') + keyed('2', '2')),
      profile('2', '2', states('mid', '2') + keyed('2', '2')),
      profile('2', '2', states('2', 'firm') + keyed('mid', 'firm')),
      profile('200 Pa', '15 N/m', keyed('mid', 'firm')).replace(`, under: ${STATE}`, ''),
    ]) {
      const { setup, analysis, fixture } = await setupOf(text)
      expect(keyedOf(setup).map(({ same }) => same)).toEqual([true, true])
      expect(analysis.findings(fixture.file).map(({ code }) => code)).not.toContain('state-differs')
      if (text.includes('conditions'))
        expect(stateSummary(setup, STATE, setup.own.conditions!.entries.get(STATE)!)).toMatch(
          /^As today\.[\s\S]*suction `mid` · tension `firm`/,
        )
    }
  })

  test('from a base, which repeats it or is repeated', async () => {
    const base = '#- base.media.yaml\nprofile: base\nprinter: bay-1\nsuction: mid\n'
    const { setup } = await setupOf(`profile: example\nbase: base\nstock: film\nmode: fine\n${base}`)
    expect(suctionOf(setup).set?.level).toBe(2)
    expect(await findings(`profile: example\nbase: base\nstock: film\nmode: fine\nsuction: 2\n${base}${PRINTER}`)).toContain(
      'suction is mid in base already',
    )
  })

  test('in the number that a finding is known by', async () => {
    const marks = await Promise.all(
      ['3', 'high'].map(async (level) => {
        const printer = PRINTER.replace('mid: 2 }', 'mid: 2, high: 3 }').replace('320 Pa', '9 kPa')
        const fixture = parseFixture(profile(level, '2', '').replace(/ {2}checks:[\s\S]*/, '') + printer + STOCK)
        const analysis = await openFixture(fixture)
        const { document } = analysis.context(fixture.file)!
        const found = analysis.findings(fixture.file).filter(({ code }) => code.startsWith('suction-'))
        expect(found.length).toBeGreaterThan(0)
        return found.map((finding) => analysis.fingerprint(finding, document))
      }),
    )
    expect(marks[0]).toEqual(marks[1])
  })
})

describe('what is told', () => {
  test('what to key in, however the file says it; a level without a name by its number', async () => {
    const panel = async (text: string) => panelOf((await setupOf(text)).setup).map(({ key, text: in_ }) => `${key} ${in_}`)
    const wanted = ['suction mid', 'web.tension firm']
    expect((await panel(BY_NUMBER)).slice(0, 2)).toEqual(wanted)
    expect((await panel(BY_NAME)).slice(0, 2)).toEqual(wanted)
    expect((await panel(profile('3', '8 N/m'))).slice(0, 2)).toEqual(['suction 3', 'web.tension slack'])
    expect((await panel(profile('wild', '1'))).slice(0, 1)).toEqual(['suction undefined'])
  })

  test('beside a name its number, beside a number its name', async () => {
    expect(
      (await hints(profile('mid', '3', states('2', 'firm') + keyed('low', '1')) + PRINTER)).match(/\S+⟦(?!→|doubtful)[^⟧]*⟧/g),
    ).toEqual(['mid⟦level 2⟧', '2⟦mid⟧', 'firm⟦level 2⟧', 'low⟦level 1⟧', '1⟦slack⟧'])
  })

  test('on a name, a number and in the printer', async () => {
    const said = async (text: string) => (await hover(text)).split('\n').find((line) => line.includes(' is level '))
    expect(await said(profile('m$0id', '2') + PRINTER)).toBe('`mid` is level 2, 200 Pa.')
    expect(await said(profile('mid', '$01') + PRINTER)).toBe('`slack` is level 1, 8 N/m.')
    expect(await said(profile('2', '2') + PRINTER.replace('low: 1', 'low: $01'))).toBe('`low` is level 1, 100 Pa.')
    expect(await hover(profile('$03', '2') + PRINTER)).not.toContain('is level')
    // Of another printer's state nothing is said of this one's levels.
    const other = states('$02', '2').replace('printer: bay-1', 'printer: bay-2')
    expect(await hover(profile('2', '2', other) + PRINTER)).not.toContain('is level')
  })

  test('a difference by name: states keep numbers', async () => {
    const { setup } = await setupOf(profile('low', 'firm', states('2', 'firm')))
    expect(stateSummary(setup, STATE, setup.own.conditions!.entries.get(STATE)!)).toContain('suction mid instead of low')
  })
})

describe('what is written', () => {
  test('a state with the numbers, under the name of its content', async () => {
    const { document, setup } = await setupOf(profile('mid', 'firm'))
    const added = addState(document as never, setup, settingsNow(setup), 'profile')
    expect(added).toMatchObject({ ok: true, name: STATE })
    expect(applyEdits(document.text, editsOf(document.text, added.ok ? added.edits : []))).toContain(
      'suction: 2, web.tension: 2 }',
    )
  })

  test('none where nobody knows which level a word is', async () => {
    const { document, setup } = await setupOf(profile('wild', 'firm'))
    expect(addState(document as never, setup, settingsNow(setup), 'profile')).toEqual({
      ok: false,
      refused: "The printer has no level 'wild'.",
    })
  })

  test('an offered level by its name', async () => {
    const text = `profile: example\nprinter: bay-1\nsuction: 190 Pa\n`
    expect(await findings(text + PRINTER)).toContain('the nearest is level mid (200 Pa).  (fix: Set suction mid)')
  })

  test('names are offered before numbers, and where one was begun alone', async () => {
    expect((await completions(profile('$0', '2') + PRINTER)).labels).toEqual(['low', 'mid', '1', '2', '3'])
    expect((await completions(profile('2', '2', keyed('$0', '2')) + PRINTER)).labels).toEqual(['low', 'mid'])
    expect((await completions(profile('m$0', '2') + PRINTER, 'mid')).after).toContain('suction: mid\n')
    expect((await completions(profile('mid$0', '2') + PRINTER)).labels).toEqual([])
  })
})

describe('where names lead', () => {
  test('a name to where it is given, and from there to the level', async () => {
    for (const [text, line] of [
      [profile('m$0id', '2') + PRINTER, 'mid'],
      [profile('mid', '2') + PRINTER.replace('mid: 2', 'mid: $02'), '2'],
    ] as const) {
      const fixture = parseFixture(text)
      const found = (await openFixture(fixture)).definition(fixture.file, cursorOf(fixture))
      expect(found.map(({ file, span }) => fixture.files.get(file)!.slice(span.start, span.end))).toEqual([line])
    }
  })

  async function renamed(text: string, name: string): Promise<string> {
    const fixture = parseFixture(text)
    const renaming = await (await openFixture(fixture)).rename(fixture.file, cursorOf(fixture), name)
    if (!renaming?.ok) return renaming?.refused ?? 'nothing'
    const out = [...renaming.edits].flatMap(([{ file, text: before }, edits]) => {
      const lines = before.split('\n')
      const after = applyEdits(before, editsOf(before, edits)).split('\n')
      return after.filter((line, i) => line !== lines[i]).map((line) => `${file.slice(ROOT.length)}: ${line.trim()}`)
    })
    return out.join('\n')
  }

  test('another name, in every file; the sums of states stay', async () => {
    const other =
      '#- other.media.yaml\nprofile: other\nprinter: bay-2\nsuction: mid\n#- bay-2.printer.yaml\nprinter: bay-2\nsuction: { level-names: { mid: 4 } }\n'
    expect(await renamed(BY_NAME.replace('suction: mid', 'suction: mi$0d') + PRINTER + STOCK + other, 'half')).toBe(
      [
        'bay-1.printer.yaml: level-names: { low: 1, half: 2 } # the knob has no word for 3',
        'example.media.yaml: suction: half',
        `example.media.yaml: ${states('half', 'firm').split('\n')[1]!.trim()}`,
        'example.media.yaml: - { date: 2026-03-22, suction: half, tension: firm }',
      ].join('\n'),
    )
  })

  test('a mode, which states that give a level by name have in their sums', async () => {
    const text = BY_NAME.replace('mode: fine', 'mode: fi$0ne') + PRINTER + STOCK
    const after = await renamed(text, 'best')
    expect(after).toMatch(/under: (s\w{4}) }[\s\S]*\1: { from: profile, stock: film, printer: bay-1, mode: best, suction: mid/)
    expect(after).not.toContain(STATE)
  })

  test('not a name that is taken or reads like a number; not the number below a name', async () => {
    const at = (level: string): string => profile(level, '2') + PRINTER
    expect(await renamed(at('$0mid'), 'low')).toBe("bay-1.printer.yaml has the suction level 'low' already.")
    expect(await renamed(at('$0mid'), '2nd')).toMatch(/^'2nd' is no name for a suction level/)
    expect(await renamed(at('$02'), '5')).toMatch(/^The suction level 2 is called 'mid'/)
    expect(await renamed(at('$03'), '5')).toContain('levels: { 1: 100 Pa, 2: 200 Pa, 5: 320 Pa }')
  })
})

test('a word that is no level is told, and nothing is concluded from it', async () => {
  const text = profile('midd', 'fast', states('midd', '2') + keyed('meh', 'firm'))
  const { setup, analysis, fixture } = await setupOf(text)
  expect(suctionOf(setup).set).toBeUndefined()
  expect(webOf(setup).tension).toBeUndefined()
  expect(
    analysis
      .findings(fixture.file)
      .filter(({ code }) => /level|state/.test(code))
      .map(({ code, message }) => `${code}: ${message}`),
  ).toEqual([
    "unknown-level-name: bay-1 has no suction level 'midd'; it has low, mid and 3.",
    "unknown-level-name: bay-1 has no tension level 'fast'; it has slack and firm.",
    "state-setting-unknown: 'bay-1' has no suction level midd: what it was then is not known.",
    "unknown-level-name: bay-1 has no suction level 'meh'; it has low, mid and 3.",
  ])
})

test('a name that is given to another level is another setting in every profile, at once', async () => {
  const { analysis, fixture } = await setupOf(BY_NAME)
  const printer = `${ROOT}bay-1.printer.yaml`
  const codes = () => analysis.findings(fixture.file).map(({ code }) => code)
  expect(codes()).not.toContain('state-differs')
  const text = fixture.files.get(printer)!
  analysis.workspace.update(printer, text.replace('mid: 2', 'mid: 3'))
  // The state is no longer what its name was made of: what ran then is not changed in silence.
  expect(codes()).toContain('state-differs')
  analysis.workspace.update(printer, text.replace(', mid: 2', ''))
  expect(codes()).toContain('unknown-level-name')
  analysis.workspace.update(printer, text)
  expect(codes()).not.toContain('state-differs')
})

describe('two versions', () => {
  const shop = (level: string, printer = PRINTER): string => `#- example.media.yaml\n${profile(level, '2')}${printer}${STOCK}`

  test('a name for its number is the same value written anew', async () => {
    const page = await told(shop('2'), `#- example.media.yaml\n${profile('mid', 'firm')}`, { all: true })
    expect(page).toContain('suction: 2 → mid, same value written anew')
    expect(page).toContain('is the same as before: 2 written anew')
  })

  test('another name is another value', async () => {
    expect(await told(shop('2'), `#- example.media.yaml\n${profile('low', '2')}`, { all: true })).toMatch(/200 Pa[\s\S]*100 Pa/)
  })
})

describe('tables', () => {
  const shop = (cell: string): string =>
    `#- rollbook.yaml\nshop: S\n#- example.media.yaml\n${profile('2', '2')}${PRINTER}${STOCK}#- t.csv\ndate,suction\n2026-03-25,${cell}\n`

  test('a read-back by name', async () => {
    expect((await ran('import t.csv --into example --as keyed', shop('mid'))).out).toContain(
      'keyed: { date: 2026-03-25, suction: mid }',
    )
    expect((await ran('import t.csv --into example --as keyed', shop('Mid!'))).out).toContain(
      "suction: 'Mid!' is not what stands there",
    )
  })
})
