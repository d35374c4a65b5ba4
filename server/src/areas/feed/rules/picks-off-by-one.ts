// One-way picks that are all off by the same: the reference ink must be at 0 against itself, so the row was counted from the wrong patch.
import type { F } from '../../../model/field.ts'
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
    const off = commonest(picks)
    if (off === undefined || picks.some((p) => p.value === 0)) return
    const same = picks.filter((p) => p.value === off).length
    if (same * 2 <= picks.length) return
    const at = table.$
    const all = same === picks.length ? 'All' : `${same} of ${picks.length}`
    report(
      at.key ? at.key : at,
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
  ],
})

function commonest(picks: readonly F<number>[]): number | undefined {
  const counts = new Map<number, number>()
  for (const { value } of picks) counts.set(value, (counts.get(value) ?? 0) + 1)
  let best: number | undefined
  for (const [value, count] of counts) if (best === undefined || count > counts.get(best)!) best = value
  return best
}
