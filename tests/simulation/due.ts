// npx tsx tests/simulation/due.ts [--seed 1] [--shops 100] [--profiles 10] [--walk 1] [--lots-return]: due dates against calendars, two years each.
// Stated and real risk, checks a year, and how many checks fewer than the calendar of the same average risk, with the standard errors of so many shops.
// `--walk 2`: printers that wander twice as fast as is held typical; `--lots-return`: lots that lie about one level, which the model does not know of.
import { parseArgs } from 'node:util'
import { equalRisk, jackknife, shares } from './due-shares.ts'
import { type Count, makeShop, type Policy, runShop } from './due-shops.ts'

const { values } = parseArgs({
  options: {
    seed: { type: 'string', default: '1' },
    shops: { type: 'string', default: '100' },
    profiles: { type: 'string', default: '10' },
    walk: { type: 'string', default: '1' },
    'lots-return': { type: 'boolean', default: false },
  },
})
const [seed, shops, profiles, walk] = [values.seed, values.shops, values.profiles, values.walk].map(Number) as [
  number,
  number,
  number,
  number,
]
/** Counted once a year has been learnt from. */
const FROM = 365

const CALENDARS: readonly Policy[] = [{ every: 14 }, { every: 20 }, { every: 30 }, { every: 45 }]
const POLICIES: readonly Policy[] = [{ risk: 0.05 }, { risk: 0.08 }, { risk: 0.1 }, { risk: 0.15 }, { every: 30, eachLot: true }]
const name = (policy: Policy): string =>
  'risk' in policy
    ? `risk at due ${policy.risk * 100} %`
    : `every ${policy.every} days${policy.eachLot ? ', counted from each lot' : ''}`

const run = (policy: Policy): Count[] =>
  Array.from({ length: shops }, (_, i) =>
    runShop(makeShop(seed + i * 7919, { profiles, walk, lotsReturn: values['lots-return'] }), policy, FROM),
  )

const told = (value: number, error: number, digits: number): string => `${value.toFixed(digits)} ±${(2 * error).toFixed(digits)}`
const percent = (counts: readonly Count[], of: (s: ReturnType<typeof shares>) => number): string =>
  told(100 * of(shares(counts)), 100 * jackknife(counts, (some) => of(shares(some))), 2)

console.log(
  `seed ${seed}, ${shops} shops of ${profiles} profiles, walks x ${walk}${values['lots-return'] ? ', lots return' : ''}; ± is two standard errors\n`,
)
console.log(
  '| policy | checks a year | risk stated | with the rates known | outside | stated - known | stated, outside on due days | checks against the calendar of equal risk |',
)
console.log('| --- | --- | --- | --- | --- | --- | --- | --- |')
const calendars = CALENDARS.map(run)
const row = (policy: Policy, counts: readonly Count[]): void => {
  const byRisk = 'risk' in policy
  const indices = counts.map((_, i) => i)
  const against = (some: readonly number[]): number =>
    100 *
    equalRisk(
      shares(some.map((i) => counts[i]!)),
      calendars.map((calendar) => shares(some.map((i) => calendar[i]!))),
    )
  const cells = [
    name(policy),
    told(
      shares(counts).checks,
      jackknife(counts, (some) => shares(some).checks),
      1,
    ),
    byRisk ? percent(counts, (s) => s.stated) : '',
    percent(counts, (s) => s.known),
    percent(counts, (s) => s.outside),
    byRisk ? percent(counts, (s) => s.stated - s.known) : '',
    byRisk ? `${percent(counts, (s) => s.dueStated)}, ${percent(counts, (s) => s.dueOutside)}` : '',
    byRisk || ('every' in policy && policy.eachLot) ? `${told(against(indices), jackknife(indices, against), 1)} %` : '',
  ]
  console.log(`| ${cells.join(' | ')} |`)
}
for (const [i, policy] of CALENDARS.entries()) row(policy, calendars[i]!)
for (const policy of POLICIES) row(policy, run(policy))
