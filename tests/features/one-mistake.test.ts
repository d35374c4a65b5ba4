// One slip of the keyboard, one finding: every line of a small shop is broken in every common way, and each time exactly one thing is told
// of the document's text, shape and values. The one edit that is beyond doubt, where there is one, mends it; and no beginning of a document throws.
import { describe, expect, test } from 'vitest'
import { parse } from 'yaml'
import { applyEdits, editsOf } from '../../server/src/base/text-edit.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import type { Finding } from '../../server/src/rules/rule.ts'
import { runRules } from '../../server/src/rules/run.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { ROOT } from '../support/fixture.ts'
import { renderFindings } from '../support/render.ts'

/** The rules of text, shape, values and names; those that reckon are tested elsewhere. */
const CODES = new Set(
  `syntax tab-indent no-colon duplicate-key conflict-markers several-documents too-large too-deep unknown-alias alias-limit unknown-key missing-key
wrong-kind unknown-value bad-date bad-id bad-key wrong-count number-out-of-range missing-unit missing-number unknown-unit wrong-dimension comma-decimal
not-a-quantity number-overflow bad-uncertainty bad-number bad-fraction bad-resolution exponent two-values impossible-temperature out-of-range
implausible future-date instrument-dates id-unlike-file duplicate-id missing-stock missing-printer missing-base missing-mode missing-instrument
unknown-channel unknown-lot circular-base unknown-rule unknown-panel-key pair-order picks-count two-tensions`.split(/\s+/),
)

/** A state under a name of the shop's own. */
const STATE =
  '  as-now: { from: profile, stock: film, printer: bay-1, mode: fine, gap: 1.5 mm, suction: 2, web.tension: 2, heat.platen: 40 °C }'

const SHOP: Readonly<Record<string, string>> = {
  'film-on-bay-1.media.yaml': `# Everyday quality.
profile: film-on-bay-1
title: Film on bay 1
stock: film
printer: bay-1
mode: fine
slot: 3
gap: 1.5 mm
feed:
  correction: +0.18 %
  checks:
    - { date: 2026-03-10, commanded: 1000 mm, measured: 998.4 mm, applied: 0 %, with: tape, web: 24 °C, lot: C-1 }
    - date: 2026-03-12
      commanded: 1000 mm
      measured: 1000.1 mm
      applied: +0.18 %
  fine:
    date: 2026-03-12
    applied: +0.18 %
    under: as-now
    picks: [0, 1, 0]
alignment:
  date: 2026-03-12
  under: as-now
  one-way: { cyan: 0, magenta: 1 }
heat:
  platen: 40 °C
  fan: true
drying: { pause: 0.5 s, run-out: 8 min }
suction: 2
web:
  wound: out
  tension: 2
observed:
  - { date: 2026-03-10, fault: bands-dark, settled: 2026-03-12 }
keyed:
  - date: 2026-03-12
    slot: 3
    gap: 1.5 mm
conditions:
${STATE}
`,
  'film.stock.yaml': `stock: film
family: film-pvc-cast
thickness: 215 µm
layers:
  - { name: film, thickness: 50 µm }
max-web-temperature: 50 °C
widths: [1372 mm, 1524 mm]
wound: out
lots:
  - { lot: C-1, received: 2026-02-20 }
`,
  'bay-1.printer.yaml': `printer: bay-1
heads:
  nozzle-pitch: 1/180 in
  nozzles: 180
  rows: 2
  channels: [cyan, magenta]
modes:
  fine:
    resolution: 720 x 720 dpi
    passes: 16
    directions: two-way
carriage:
  bed-width: 1600 mm
  gaps: [1.5 mm, 2.0 mm]
feed:
  range: [-2 %, 2 %]
  step: 0.01 %
  entry: percent
  fine: { rows: [left, middle, right], patches: 11, step: 2 µm }
heaters:
  platen: { length: 200 mm, range: [30 °C, 50 °C] }
suction:
  levels:
    1: 100 Pa
    2: 200 Pa
web:
  tension-levels: { 1: 8 N/m, 2: 15 N/m }
panel:
  - { key: feed.correction, where: second sheet }
`,
  'rollbook.yaml': `shop: Tern Quay Print Works
units: metric
tolerance:
  length: 0.05 %
climate:
  temperature: [18 °C, 26 °C]
instruments:
  tape:
    kind: tape
    division: 0.5 mm
    limit-of-error: [0.3 mm, 0.2 mm/m]
    calibrated: 2026-01-20
    due: 2027-01-20
rules:
  implausible: hint
`,
}

/** What slips of the keyboard do to a line; a line they leave as it is, is passed over. */
const SLIPS: Readonly<Record<string, (line: string) => string>> = {
  'the colon is missing': (l) => l.replace(/^(\s*(?:- )?[\w-]+):/, '$1'),
  'the space behind the colon is missing': (l) => l.replace(/^(\s*(?:- )?[\w-]+): (?=\S)/, '$1:'),
  'a tab indents': (l) => l.replace(/^ +(?=[^ #])/, '\t'),
  'two letters of the key change places': (l) => l.replace(/^(\s*(?:- )?[a-z-]*?)([a-z])([a-z])(?=[a-z-]*:)/, '$1$3$2'),
  'the unit is missing': (l) => l.replace(/(\d) (?:mm|°C|%|µm|in|Pa|N\/m)(?=[,\s\]}]|$)/, '$1'),
  'a comma stands for the decimal point': (l) => l.replace(/(\d)\.(\d)/, '$1,$2'),
  'a closing bracket is missing': (l) => l.replace(/[\]}](?=[^\]}]*$)/, ''),
  'an opening bracket is missing': (l) => l.replace(/[[{]/, ''),
  'a colon in brackets is missing': (l) => l.replace(/([{,] ?[\w-]+): (?=[^{}]*})/, '$1 '),
  'a space in brackets is missing': (l) => l.replace(/([{,] ?[\w-]+): (?=[^{}]*})/, '$1:'),
  'a comma in brackets is missing': (l) => l.replace(/([{[][^{}[\]]*?), /, '$1 '),
  'a space of the indentation is missing': (l) => l.replace(/^ (?= +[^ #])/, ''),
  'a space too many indents': (l) => l.replace(/^(?=\s*[^\s#])/, ' '),
  'a quote is left open': (l) => l.replace(/^([^#:]*: )(?=[^\s{["'#])/, '$1"'),
  'the line stands twice': (l) => (/^\s*[\w-]+: \S/.test(l) ? `${l}\n${l}` : l),
  'the value is missing': (l) => l.replace(/^(\s*[\w-]+:) [^#{[]*$/, '$1'),
}

/** Names the shop chose: any other name is as good. */
const OWN_NAMES: ReadonlySet<string> = new Set(['  fine:', '  tape:', STATE])

for (const [name, good] of Object.entries(SHOP)) {
  describe(name, () => {
    test('is clean as it stands', async () => {
      const shop = await openShop(name)
      expect(renderFindings(good, shop(good))).toBe('')
    })
    for (const [slip, apply] of Object.entries(SLIPS)) {
      test(slip, async () => {
        const shop = await openShop(name)
        for (const { text, line } of broken(good, apply)) checkOne(shop, text, `${slip}: ${line}`, good, line)
      })
    }
    test('no beginning of it makes a rule throw', async () => {
      const shop = await openShop(name)
      for (let end = 0; end <= good.length; end++) {
        const text = good.slice(0, end)
        for (const finding of shop(text)) checkShown(text, finding)
      }
    })
  })
}

function checkOne(shop: Check, text: string, what: string, good: string, line: string): void {
  const findings = shop(text)
  const told = renderFindings(text, findings)
  expect(findings.length, `${what}\n${told || 'nothing told'}`).toBeLessThanOrEqual(1)
  const [finding] = findings
  if (!finding) {
    // Some slips change nothing: a list of one may stand a space to the left or to the right.
    if (!OWN_NAMES.has(line)) expect(parse(text), `nothing told of ${what}`).toEqual(parse(good))
    return
  }
  checkShown(text, finding)
  for (const fix of finding.fixes?.() ?? []) {
    if (!fix || fix.refused !== undefined) continue
    const mended = applyEdits(text, editsOf(text, fix.edits))
    expect(mended, `${fix.title} changes something`).not.toBe(text)
    if (fix.preferred) expect(renderFindings(mended, shop(mended)), `${what}\n${told}\nafter ${fix.title}:\n${mended}`).toBe('')
  }
}

/** Every finding has a stretch to see and a whole sentence to read. */
function checkShown(text: string, { span, message, code }: Finding): void {
  if (text !== '') expect(span.end - span.start, `${code} in ${JSON.stringify(text.slice(-40))}`).toBeGreaterThan(0)
  expect(message).toMatch(/^[^a-z].*[.?]$/s)
  expect(message).not.toMatch(/undefined|NaN|\[object/)
}

type Check = (text: string) => readonly Finding[]

async function openShop(name: string): Promise<Check> {
  const files = new Map(Object.entries(SHOP).map(([file, text]) => [ROOT + file, text]))
  const workspace = new Workspace(new MemoryHost(files))
  await workspace.addFolder(ROOT)
  const file = ROOT + name
  workspace.update(file, SHOP[name]!)
  await workspace.prepare(file)
  const analysis = new Analysis(workspace, true)
  return (text) => {
    workspace.update(file, text)
    return runRules({ ...analysis.context(file)!, setup: analysis.context(file)!.setup, only: CODES, strict: true })
  }
}

function* broken(good: string, slip: (line: string) => string): Generator<{ text: string; line: string }> {
  const lines = good.split('\n')
  for (const [i, line] of lines.entries()) {
    const slipped = slip(line)
    if (slipped !== line) yield { text: [...lines.slice(0, i), slipped, ...lines.slice(i + 1)].join('\n'), line }
  }
}
