// What the format's layout promises of a plain text merge: no measurement is lost, doubled or put under another state in silence. A short run of what
// `npx tsx tests/merge/layouts.ts` counts, and proof that the judge would see it.
import { expect, test } from 'vitest'
import { Chance } from '../support/chance.ts'
import { seed } from '../support/seed.ts'
import { makePair, type Pair } from './habits.ts'
import { type Fate, fateOf } from './judge.ts'
import { CHOSEN, type Layout, read, write } from './layout.ts'
import { measure, pairsOf, statesAlone } from './measure.ts'
import { type Check, nameOf, type Profile } from './profile.ts'
import { settled } from './settle.ts'

const NONE = { mislabelled: 0, lost: 0, doubled: 0 }
const pairs = pairsOf(seed, 80)
const ways = measure(pairs, CHOSEN)

test('git alone: whatever it merges without a conflict is right', () => {
  const { text } = ways
  expect(text.silentWithoutRules).toMatchObject(NONE)
  expect(text.conflict + text.silentWithoutRules.clean + text.told).toBe(pairs.length)
  expect(text.conflict).toBeLessThan(pairs.length)
})

test('states alone: most merge without a conflict, and where both sides are kept no state is mixed', () => {
  const { text, union, fix } = measure(pairs.slice(0, 60).map(statesAlone), CHOSEN)
  for (const tally of [text, union, fix]) expect(tally.silentWithoutRules).toMatchObject(NONE)
  expect(text.silentWithoutRules.clean).toBeGreaterThan(text.pairs / 2)
  expect(fix.conflict).toBeLessThan(text.conflict / 2)
})

test('our own fix for a conflict, and the rules, leave no measurement lost or mislabelled; grouped by day, both sides kept, some are', () => {
  const { fix } = ways
  expect(fix.silent).toMatchObject({ mislabelled: 0, lost: 0 })
  expect(fix.conflict).toBeLessThan(pairs.length / 3)
  const { union } = measure(pairs.slice(0, 40), { ...CHOSEN, checks: 'by day' })
  expect(union.silent.mislabelled).toBeGreaterThan(0)
})

const STATE = {
  ...{
    from: 'profile',
    stock: 's',
    printer: 'p',
    mode: 'm',
    gap: '2.0 mm',
    suction: '3',
    'web.tension': '3',
    'web.speed': '60 mm/s',
  },
  ...{ 'heat.before': '40 °C', 'heat.platen': '42 °C', 'heat.after': '48 °C', 'drying.pause': '0 s', 'drying.run-out': '3 min' },
}
const OTHER = { ...STATE, suction: '5' }
const [ONE, TWO] = [nameOf(STATE), nameOf(OTHER)]

const check = (id: number, measured: string, more: Readonly<Record<string, string>> = {}): Check => ({
  id,
  fields: { date: '2026-11-19', commanded: '1500 mm', measured, applied: '0 %', under: ONE, ...more },
})

/** Base with one print; a print and a strip of it on one branch, a print and a state on the other. */
function scene(): Pair {
  const base: Profile = { correction: '0 %', checks: [check(1, '1498.2 mm')], states: new Map([[ONE, STATE]]) }
  const ours = [...base.checks, check(2, '1498.6 mm'), check(3, '1498.9 mm', { 'same-print': 'true' })]
  const theirs = [...base.checks, check(4, '1499.4 mm', { under: TWO })]
  return {
    base,
    ours: { ...base, checks: ours },
    theirs: { ...base, checks: theirs, states: new Map([...base.states, [TWO, OTHER]]) },
  }
}

/** The lines of the merged text as they should be, then as someone might have left them. */
function judged(change: (lines: readonly string[]) => readonly string[], layout: Layout = CHOSEN): [Fate, string[]] {
  const pair = scene()
  const whole: Profile = { ...pair.theirs, checks: [...pair.ours.checks, pair.theirs.checks[1]!] }
  const result = read(change(write(whole, layout).text.split('\n')).join('\n'), layout)
  return [fateOf(result, pair), [...result.problems]]
}

const isCheck = (line: string, measured: string): boolean => line.includes(`measured: ${measured}`)

test('the judge', () => {
  expect(judged((lines) => lines)).toEqual(['clean', []])
  expect(judged((lines) => lines.filter((line) => !isCheck(line, '1498.6')))).toEqual(['mislabelled', []])
  expect(judged((lines) => lines.filter((line) => !isCheck(line, '1499.4')))).toEqual(['lost', []])
  expect(judged((lines) => lines.flatMap((line) => (isCheck(line, '1499.4') ? [line, line] : [line])))).toEqual([
    'doubled',
    ['a line twice'],
  ])
  expect(judged((lines) => lines.map((line) => (isCheck(line, '1499.4') ? line.replace(TWO, ONE) : line)))).toEqual([
    'mislabelled',
    [],
  ])
  expect(judged((lines) => lines.map((line) => (isCheck(line, '1499.4') ? line.replace(TWO, 's0000') : line)))).toEqual([
    'mislabelled',
    ['under without a state'],
  ])
  expect(
    judged((lines) => lines.map((line) => (line.includes(`${TWO}: {`) ? line.replace('suction: 5', 'suction: 3') : line))),
  ).toEqual(['mislabelled', ['a state that its name does not fit']])
  expect(judged((lines) => lines.flatMap((line) => (line.includes(`${TWO}: {`) ? [line, line] : [line])))[1]).toEqual([
    'not YAML, or a key twice',
  ])
  expect(judged((lines) => lines.map((line) => (isCheck(line, '1498.9') ? line.replace('1500 mm', '1000 mm') : line)))).toEqual([
    'mislabelled',
    ['a strip unlike its print'],
  ])
})

test('each layout is read as it was written', () => {
  const chance = new Chance(seed)
  for (const checks of ['line', 'wrapped', 'block', 'by state', 'by day'] as const)
    for (const newestCheck of ['last', 'first'] as const)
      for (const states of ['line', 'wrapped', 'block'] as const) {
        const layout: Layout = { checks, newestCheck, states, newState: 'by name' }
        const { ours } = makePair(chance)
        const found = read(write(ours, layout).text, layout)
        expect([layout, fateOf(found, { base: ours, ours, theirs: ours })]).toEqual([layout, 'clean'])
      }
})

test('a conflict that the fix does not settle stays as it is', () => {
  const text = 'feed:\n<<<<<<< HEAD\n  correction: +0.12 %\n=======\n  correction: +0.18 %\n>>>>>>> night-shift\n'
  expect(settled(text)).toBe(text)
  expect(settled('a: 1\n')).toBe('a: 1\n')
})
