// What is kept from one version of the documents to the next is never told from what is made fresh: whatever was edited in a profile, its base,
// its stock, its printer or the shop, typed or on disk, whatever came and went, and however late it became, a session that went through it all
// shows just what one shows that begins now. This is what makes recording reads, keeping nodes and
// letting trees go safe.
import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { reckon } from '../../server/src/areas/reckon.ts'
import { hints } from '../../server/src/features/hints.ts'
import { tokens } from '../../server/src/features/tokens.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { drawnPage } from '../../server/src/report/pictures.ts'
import { type DocumentKind, kindOfFile } from '../../server/src/schema/schema.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { runs, some } from '../support/counts.ts'
import { parseFixture, ROOT } from '../support/fixture.ts'
import { renderFindings } from '../support/render.ts'
import { edited, type RandomEdit, type Renaming, randomEdit, renamed, renaming } from '../support/texts.ts'

type Change = readonly [pattern: RegExp, by: string]

/** What matters to several areas at once: taken out, or with other numbers in it. */
const CHANGES: Readonly<Record<DocumentKind, readonly Change[]>> = {
  media: [
    [/suction: \d/, 'suction: 1'],
    [/gap: [\d.]+ \w+/, 'gap: 3.5 mm'],
    [/platen: \d+ °C/, 'platen: 50 °C'],
    [/after: \d+ °C/, 'after: 60 °C'],
    [/tension: \d/, 'tension: 4'],
    [/pause: \d+ s/, 'pause: 9 s'],
    [/turn-at: print-edge/, 'turn-at: bed-end'],
    [/strikes: 1/, 'strikes: 2'],
    [/mode: .*/, 'mode: fine-16-pass'],
    [/correction: .*/, 'correction: +0.50 %'],
    [/measured: [\d.]+ mm(?=[^\n]*\n*(?:[^\n]*\n)?(?:\n|$))/, 'measured: 990.0 mm'],
    [/web: \d+ °C/, 'web: 35 °C, climate: { temperature: 30 °C, humidity: 75 %RH }'],
    [/(?<=measured: )[\d.]+(?= mm[^\n]*\n\n)/, '1530.0'],
    [/humidity: 48 %RH/, 'humidity: 85 %RH'],
    [/humidity: 48 %RH/, 'humidity: 15 %RH'],
    [/\n {4}- \{ date[^\n]*/, ''],
    [/\n {4}- \{ date[^\n]*(?=\n\n)/, ''],
    [/wound: \w+/, 'wound: out'],
    [/stock: .*/, 'stock: nothing'],
    [/base: .*/, 'base: banner-510-bay-1'],
    [/slot: \d+/, 'slot: 11'],
    [/title: .*/, 'title: Another'],
    [/profile: .*/, 'profile: another'],
    [/\n\n/, '\n# a note\n'],
    [/^/, '# a note\n\n'],
    [/: /, ':'],
  ],
  stock: [
    [/thickness: \d+ µm/, 'thickness: 900 µm'],
    [/expansion: \d+ ppm\/K/, 'expansion: 300 ppm/K'],
    [/max-web-temperature: \d+ °C/, 'max-web-temperature: 35 °C'],
    [/family: .*/, 'family: paper-coated'],
    [/curl-radius: \d+ mm/, 'curl-radius: 40 mm'],
    [/wound: in/, 'wound: out'],
    [/lot: [\w-]+/, 'lot: X-1'],
    [/stock: .*/, 'stock: another'],
    [/^/, '# a note\n'],
  ],
  printer: [
    [/step: 0.01 %/, 'step: 0.05 %'],
    [/gaps: .*/, 'gaps: [3.0 mm, 4.0 mm]'],
    [/3: 320 Pa/, '3: 3200 Pa'],
    [/overrun: \d+ mm/, 'overrun: 700 mm'],
    [/path-to-winding: [\d.]+ m/, 'path-to-winding: 9 m'],
    [/range: \[30 °C, 60 °C\]/, 'range: [30 °C, 40 °C]'],
    [/exposure-limit: \d+ ppm/, 'exposure-limit: 2 ppm'],
    [/slots: \d+/, 'slots: 3'],
    [/printer: .*/, 'printer: another'],
    [/passes: \d/, 'passes: 2'],
    [/slots: \d+/, 'events: [{ date: 2026-11-20, what: feed-roller-changed }]\nroom: [{ date: 2026-11-19, temperature: 30 °C }]'],
  ],
  shop: [
    [/length: 0.05 %/, 'length: 0.5 %'],
    [/registration: \d+ µm/, 'registration: 4 µm'],
    [/feed: 30 d/, 'feed: 2 d'],
    [/alignment: 60 d/, 'alignment: 2 d'],
    [/temperature: \[.*/, 'temperature: [30 °C, 34 °C]'],
    [/humidity: \[.*/, 'humidity: [10 %RH, 30 %RH]'],
    [/reference-temperature: .*/, 'reference-temperature: 20 °C'],
    [/division: 0.5 mm/, 'division: 5 mm'],
    [/implausible: hint/, 'feed-stale: error'],
    [/units: metric/, 'units: us'],
    [/kind: rule/, 'suspect: [{ from: 2026-11-01, why: dropped }]'],
    [/kind: tape/, 'errors: [{ from: 2026-11-01, error: 0.3 mm/m }]'],
    [/kind: rule/, 'length: 500 mm'],
  ],
}

const DAYS = ['2026-11-25', '2026-11-26', '2027-03-01']

type Step =
  | {
      readonly what: 'change' | 'back' | 'open' | 'save' | 'leave' | 'rest' | 'delete'
      readonly who: number
      readonly which: number
    }
  | { readonly what: 'type'; readonly who: number; readonly edit: RandomEdit }
  | { readonly what: 'rename'; readonly who: number; readonly edit: Renaming }
  | { readonly what: 'day'; readonly which: number }
  | { readonly what: 'put'; readonly file: string; readonly text: string }

const who = fc.nat(9)
const which = fc.nat(99)
const step: fc.Arbitrary<Step> = fc.oneof(
  { weight: 10, arbitrary: fc.record({ what: fc.constant('change' as const), who, which }) },
  { weight: 3, arbitrary: fc.record({ what: fc.constant('back' as const), who, which }) },
  {
    weight: 3,
    arbitrary: fc.record({
      what: fc.constantFrom('open' as const, 'save' as const, 'leave' as const, 'rest' as const),
      who,
      which,
    }),
  },
  { weight: 1, arbitrary: fc.record({ what: fc.constant('delete' as const), who, which }) },
  { weight: 1, arbitrary: fc.record({ what: fc.constant('type' as const), who, edit: randomEdit }) },
  { weight: 1, arbitrary: fc.record({ what: fc.constant('rename' as const), who, edit: renaming }) },
  { weight: 1, arbitrary: fc.record({ what: fc.constant('day' as const), which }) },
)

class DatedHost extends MemoryHost {
  day = DAYS[0]!

  override today(): string {
    return this.day
  }
}

/** A session over a shop whose documents are edited, opened and closed, and come and go. */
class Session {
  readonly host: DatedHost
  readonly workspace: Workspace
  readonly analysis: Analysis
  private readonly typed = new Map<string, string>()

  private constructor(
    private readonly originals: ReadonlyMap<string, string>,
    files: ReadonlyMap<string, string>,
    day: string,
  ) {
    this.host = new DatedHost(new Map(files))
    this.host.day = day
    this.workspace = new Workspace(this.host)
    this.analysis = new Analysis(this.workspace, true)
  }

  static async begin(originals: ReadonlyMap<string, string>, files = originals, day = DAYS[0]!): Promise<Session> {
    const session = new Session(originals, files, day)
    await session.workspace.addFolder(ROOT)
    return session
  }

  /** The texts that count now: those being typed, then those on disk. */
  texts(): ReadonlyMap<string, string> {
    return new Map([...this.host.files, ...this.typed])
  }

  async take(step: Step): Promise<void> {
    if (step.what === 'day') {
      this.host.day = DAYS[step.which % DAYS.length]!
      return
    }
    if (step.what === 'put') return this.put(ROOT + step.file, step.text, this.typed.has(ROOT + step.file))
    const file = [...this.originals.keys()][step.who % this.originals.size]!
    const now = this.typed.get(file) ?? this.host.files.get(file)
    switch (step.what) {
      case 'open':
        return now === undefined ? undefined : this.put(file, now, true)
      case 'save': {
        const text = this.typed.get(file)
        if (text !== undefined) this.host.files.set(file, text)
        return this.close(file)
      }
      case 'leave':
        return this.close(file)
      case 'rest':
        return this.analysis.rest(file)
      case 'delete':
        this.host.files.delete(file)
        return this.workspace.changedOnDisk(file)
      case 'back':
        return this.put(file, this.originals.get(file)!, this.typed.has(file))
      case 'type':
        return now === undefined ? undefined : this.put(file, edited(now, step.edit), this.typed.has(file))
      case 'rename':
        return now === undefined ? undefined : this.put(file, renamed(now, step.edit), this.typed.has(file))
      case 'change': {
        const changes = CHANGES[kindOfFile(file)!]
        const [pattern, by] = changes[step.which % changes.length]!
        return now === undefined ? undefined : this.put(file, now.replace(pattern, by), this.typed.has(file))
      }
    }
  }

  private async put(file: string, text: string, open: boolean): Promise<void> {
    if (open) {
      this.typed.set(file, text)
      this.workspace.update(file, text)
      return
    }
    this.host.files.set(file, text)
    await this.workspace.changedOnDisk(file)
  }

  private async close(file: string): Promise<void> {
    this.typed.delete(file)
    await this.workspace.close(file)
  }

  /** All that is told of a document, with its numbers and where everything stands. */
  async shown(file: string): Promise<string> {
    if (!(await this.workspace.load(file))) return 'there is no such document'
    await this.workspace.prepare(file)
    const context = this.analysis.context(file)!
    const { text } = context.document
    const findings = context.findings()
    const beside = hints(context, { start: 0, end: text.length }).map((h) => `${h.offset} ${h.label}`)
    const related = findings.flatMap((f) => f.related ?? [])
    const fixes = findings.flatMap((f) => [...(f.fixes?.() ?? []), ...(f.steps?.() ?? [])])
    const numbers = context.setup ? reckon(context.setup) : []
    const picture = context.setup && drawnPage(context.setup)
    const looks = tokens(context)
    return `${renderFindings(text, findings)}\n${beside.join('\n')}\n${JSON.stringify([related, fixes, numbers, looks, picture?.places, picture?.body], null, 1)}`
  }
}

const sample = (name: string): string => readFileSync(new URL(`../../samples/tern-quay/${name}`, import.meta.url), 'utf8')

/** Documents of the sample shop that rest on each other, those that are shown first. */
const SHOPS: Readonly<Record<string, readonly string[]>> = {
  'a profile beside another': [
    'profiles/banner-510-bay-1.media.yaml',
    'profiles/pp-film-180-bay-1.media.yaml',
    'stocks/banner-510.stock.yaml',
    'printers/bay-1.printer.yaml',
    'rollbook.yaml',
  ],
  'a profile with a base': [
    'profiles/cast-film-gloss-50-fine-bay-1.media.yaml',
    'profiles/cast-film-gloss-50-bay-1.media.yaml',
    'stocks/cast-film-gloss-50.stock.yaml',
    'printers/bay-1.printer.yaml',
    'rollbook.yaml',
  ],
  'a profile for paper': [
    'profiles/coated-paper-200-bay-2.media.yaml',
    'stocks/coated-paper-200.stock.yaml',
    'printers/bay-2.printer.yaml',
    'rollbook.yaml',
  ],
  'a profile with a long history': [
    'profiles/canvas-380-bay-3.media.yaml',
    'stocks/canvas-380.stock.yaml',
    'printers/bay-3.printer.yaml',
    'rollbook.yaml',
  ],
}

const sampleShop = (names: readonly string[]): ReadonlyMap<string, string> =>
  new Map(names.map((name) => [ROOT + name, sample(name)]))

/** Takes the steps, showing everything after each, and compares with what is shown where nothing was kept. */
async function holds(originals: ReadonlyMap<string, string>, open: boolean, steps: readonly Step[]): Promise<void> {
  const looked = [...originals.keys()].filter((file) => kindOfFile(file) === 'media' || kindOfFile(file) === 'shop')
  const session = await Session.begin(originals)
  if (open) await session.take({ what: 'open', who: 0, which: 0 })
  for (const file of looked) await session.shown(file)
  for (const step of steps) {
    await session.take(step)
    for (const file of looked) await session.shown(file)
  }
  const fresh = await Session.begin(originals, session.texts(), session.host.day)
  for (const file of looked) expect(await session.shown(file), file).toBe(await fresh.shown(file))
}

const applies = (name: string, [pattern, by]: Change): boolean => sample(name).replace(pattern, by) !== sample(name)

test('every change changes something somewhere', () => {
  const names = [...new Set(Object.values(SHOPS).flat())]
  for (const [kind, changes] of Object.entries(CHANGES))
    for (const change of changes)
      expect(
        names.some((name) => kindOfFile(name) === kind && applies(name, change)),
        String(change[0]),
      ).toBe(true)
})

describe.each(Object.entries(SHOPS))('%s', (_, names) => {
  const single = names.flatMap((name, who) =>
    CHANGES[kindOfFile(name)!].flatMap((change, which) =>
      applies(name, change) ? [{ name, pattern: change[0], who, which }] : [],
    ),
  )

  test.each(some(single))('after one change, and back: $name $pattern', async ({ who, which }) => {
    await holds(sampleShop(names), which % 2 === 0, [{ what: 'change', who, which }])
    await holds(sampleShop(names), which % 2 === 1, [
      { what: 'change', who, which },
      { what: 'back', who, which },
    ])
  })

  test('whatever is edited, opened, closed, deleted or restored, and whatever day it becomes', () =>
    fc.assert(
      fc.asyncProperty(fc.boolean(), fc.array(step, { minLength: 1, maxLength: 8 }), (open, steps) =>
        holds(sampleShop(names), open, steps),
      ),
      { numRuns: runs(40) },
    ))
})

describe('what a document looks up of others', () => {
  const PRINTER = '#- p.printer.yaml\nprinter: p\nslots: 9\n'
  const SHOP = '#- rollbook.yaml\nshop: Tern Quay Print Works\n'

  test.each<[name: string, files: string, puts: readonly (readonly [file: string, text: string])[]]>([
    [
      'a stock whose name is nearly the one meant comes, and goes',
      `#- e.media.yaml\nprofile: e\nstock: film-50\n${PRINTER}${SHOP}`,
      [
        ['film-51.stock.yaml', 'stock: film-51\n'],
        ['film-51.stock.yaml', 'stock: canvas\n'],
        ['film-50.stock.yaml', 'title: without a name\n'],
      ],
    ],
    [
      'the printer of a base whose profile claims the slot',
      `#- e.media.yaml\nprofile: e\nprinter: p\nslot: 4\n#- f.media.yaml\nprofile: f\nbase: b\nslot: 4\n#- b.media.yaml\nprofile: b\nprinter: q\n${PRINTER}${SHOP}`,
      [['b.media.yaml', 'profile: b\nprinter: p\n']],
    ],
    [
      'where the other of two with one name says so',
      `#- e.media.yaml\nprofile: e\n#- old/e.media.yaml\nprofile: e\n${PRINTER}${SHOP}`,
      [['old/e.media.yaml', '# a note\nprofile: e\n']],
    ],
    [
      'where another in one slot says so',
      `#- e.media.yaml\nprofile: e\nprinter: p\nslot: 4\n#- f.media.yaml\nprofile: f\nprinter: p\nslot: 4\n${PRINTER}${SHOP}`,
      [['f.media.yaml', 'profile: f\nprinter: p\n# a note\nslot: 4\n']],
    ],
    [
      'which of two stocks of one name is meant, when the first of them had another name for a while',
      `#- e.media.yaml\nprofile: e\nstock: film\nheat: {platen: 40 °C}\n#- a/film.stock.yaml\nstock: film\nmax-web-temperature: 30 °C\n#- b/film.stock.yaml\nstock: film\nmax-web-temperature: 60 °C\n${PRINTER}${SHOP}`,
      [
        ['a/film.stock.yaml', 'stock: other\nmax-web-temperature: 30 °C\n'],
        ['a/film.stock.yaml', 'stock: film\nmax-web-temperature: 30 °C\n'],
      ],
    ],
    [
      'a shop of its own that comes between',
      `#- in/e.media.yaml\nprofile: e\nstock: film\n#- film.stock.yaml\nstock: film\n${PRINTER}${SHOP}`,
      [['in/rollbook.yaml', 'shop: Annex\n']],
    ],
  ])('%s', async (_, files, puts) => {
    const { files: originals } = parseFixture(files)
    for (const upTo of puts.keys())
      for (const open of [false, true])
        await holds(
          originals,
          open,
          puts.slice(0, upTo + 1).map(([file, text]) => ({ what: 'put', file, text })),
        )
  })
})
