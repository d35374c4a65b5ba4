// One-way picks that are all off by the same: the reference ink must be at 0 against itself, so the row was counted from the wrong patch.
import { defineRule } from '../../../rules/rule.ts'
import { shiftPicks, signed } from '../../landing/shared.ts'
import { MACHINE } from '../../machine/examples.ts'

export const rule = defineRule({
  code: 'picks-off-by-one',
  severity: 'hint',
  risk: 'look',
  kinds: ['media'],
  summary: 'All one-way picks are off by the same number of patches.',
  docs: `One-way picks lay every ink on a reference ink, and that one lies on itself: at least one pick is 0. Where every ink of the printer was picked and none is 0, the
patches were counted from the wrong one. Keyed in like that, every ink moves the same way: the print shifts sideways and nothing else, so it is no fault on the print, but the next
one to read the numbers takes them for a head that moved. Ignore it where the machine asks for numbers counted otherwise.`,
  check({ document, setup, report }) {
    const table = setup.own.alignment?.['one-way']
    const inks = setup.printer?.heads?.channels?.items ?? []
    const picks = [...(table?.entries.values() ?? [])]
    if (!table || inks.length < 3 || !inks.every((ink) => table.entries.has(ink.value))) return
    const values = picks.map((pick) => pick.value)
    const timesOf = (value: number): number => values.filter((v) => v === value).length
    const off = values.find((value) => timesOf(value) * 2 > values.length)
    if (off === undefined || values.includes(0)) return
    const same = timesOf(off)
    const all = same === picks.length ? 'All' : `${same} of ${picks.length}`
    report(
      table.$.key!,
      `${all} one-way picks are ${signed(off)} and none is 0, but the reference ink lies on itself: count from the patch where it does.`,
      {
        fixes: () => [
          shiftPicks(document, picks, off, `Count the picks from there (${off > 0 ? `take ${off} off` : `add ${-off} to`} each)`),
        ],
      },
    )
  },
  examples: [
    {
      name: 'all at one',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  $0one-way$0: { cyan: 1, magenta: 1, yellow: 2, black: 1 }
${MACHINE}`,
      message:
        '3 of 4 one-way picks are +1 and none is 0, but the reference ink lies on itself: count from the patch where it does.',
      after: `profile: e
printer: p
alignment:
  date: 2026-03-24
  one-way: { cyan: 0, magenta: 0, yellow: 1, black: 0 }
`,
      fixes: ['Count the picks from there (take 1 off each)'],
    },
    {
      name: 'one of them is the reference',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  one-way: { cyan: 1, magenta: 0, yellow: 1, black: 1 }
${MACHINE}`,
    },
    {
      name: 'not all inks were picked',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  one-way: { cyan: 1, magenta: 1, yellow: 1 }
${MACHINE}`,
      testOnly: true,
    },
    {
      name: 'all at minus one',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  $0one-way$0: { cyan: -1, magenta: -1, yellow: -1, black: -1 }
${MACHINE}`,
      message:
        'All one-way picks are -1 and none is 0, but the reference ink lies on itself: count from the patch where it does.',
      after: `profile: e
printer: p
alignment:
  date: 2026-03-24
  one-way: { cyan: 0, magenta: 0, yellow: 0, black: 0 }
`,
      fixes: ['Count the picks from there (add 1 to each)'],
      testOnly: true,
    },
    {
      name: 'half of them',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  one-way: { cyan: 2, magenta: 2, yellow: 1, black: 1 }
${MACHINE}`,
      testOnly: true,
    },
    {
      name: 'two inks tell nothing',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  one-way: { cyan: 1, magenta: 1 }
#- p.printer.yaml
printer: p
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2, channels: [cyan, magenta], drop-speed: 7 m/s}
modes:
  one-pass: {resolution: 720 x 360 dpi, passes: 1, carriage-speed: 1000 mm/s, directions: two-way}
  standard: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
  slow: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 500 mm/s, directions: two-way}
  one-way: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: one-way}
  half: {resolution: 720 x 720 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
  seven: {resolution: 720 x 360 dpi, passes: 7, carriage-speed: 1000 mm/s, directions: two-way}
carriage: {bed-width: 1600 mm, overrun: 120 mm, turnaround: 0.35 s, gaps: [1.5 mm, 2.0 mm, 0.1 in]}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
alignment: {patches: 11, step: 18 µm}
web: {speed-range: [2 mm/s, 120 mm/s]}
slots: 30
`,
      testOnly: true,
    },
    {
      name: 'three inks',
      text: `#- e.media.yaml
profile: e
printer: p
alignment:
  date: 2026-03-24
  $0one-way$0: { cyan: 1, magenta: 2, yellow: 1 }
#- p.printer.yaml
printer: p
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2, channels: [cyan, magenta, yellow], drop-speed: 7 m/s}
modes:
  one-pass: {resolution: 720 x 360 dpi, passes: 1, carriage-speed: 1000 mm/s, directions: two-way}
  standard: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
  slow: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 500 mm/s, directions: two-way}
  one-way: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: one-way}
  half: {resolution: 720 x 720 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
  seven: {resolution: 720 x 360 dpi, passes: 7, carriage-speed: 1000 mm/s, directions: two-way}
carriage: {bed-width: 1600 mm, overrun: 120 mm, turnaround: 0.35 s, gaps: [1.5 mm, 2.0 mm, 0.1 in]}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
alignment: {patches: 11, step: 18 µm}
web: {speed-range: [2 mm/s, 120 mm/s]}
slots: 30
`,
      message:
        '2 of 3 one-way picks are +1 and none is 0, but the reference ink lies on itself: count from the patch where it does.',
      after: `profile: e
printer: p
alignment:
  date: 2026-03-24
  one-way: { cyan: 0, magenta: 1, yellow: 0 }
`,
      fixes: ['Count the picks from there (take 1 off each)'],
      testOnly: true,
    },
  ],
})
