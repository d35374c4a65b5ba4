// Counts what git makes of many pairs of branches in one layout.
import { Chance } from '../support/chance.ts'
import { hasConflict, type Manner, merged } from './git.ts'
import { makePair, type Pair } from './habits.ts'
import { type Fate, fateOf, together } from './judge.ts'
import { type Layout, type Problem, read, SEEN, type Text, write } from './layout.ts'
import { settled } from './settle.ts'

/** Of the pairs of one layout merged in one manner: each pair counts once. */
export interface Tally {
  readonly pairs: number
  /** Left to a person, with markers. */
  readonly conflict: number
  /** Merged by git, and told of by the check of the document: by what the format itself makes an error, and by the rules beside it. */
  readonly told: number
  readonly toldByRules: number
  /** Merged, and nothing tells of it. */
  readonly silent: Readonly<Record<Fate, number>>
  /** The worst that would pass if the rules were not there. */
  readonly silentWithoutRules: Readonly<Record<Fate, number>>
  /** Texts that say all that they should and are told of all the same: two prints that read the same. */
  readonly falselyTold: number
  readonly problems: ReadonlyMap<Problem, number>
}

export interface Width {
  readonly median: number
  readonly longest: number
  /** Share of the lines that are seen whole. */
  readonly seen: number
  /** Lines that one check, or one state, takes in the middle. */
  readonly lines: number
}

/** Rules beside the format: what they tell is no error by itself. */
const RULES: ReadonlySet<Problem> = new Set([
  'a line twice',
  'a reading twice, its remarks or state apart',
  'a strip unlike its print',
])

export function pairsOf(seed: number, count: number): readonly Pair[] {
  const chance = new Chance(seed)
  return Array.from({ length: count }, () => makePair(chance))
}

/** The same people, whose checks and corrections are the same already: what is left to merge are the states. */
export function statesAlone({ base, ours, theirs }: Pair): Pair {
  const { checks, correction } = together(base, ours, theirs)
  const alone = ({ states }: Pair['base']): Pair['base'] => ({ checks, correction, states })
  return { base: alone(base), ours: alone(ours), theirs: alone(theirs) }
}

/** By git alone; with both sides of each conflict kept by git's `union`; and by git alone with our own fix for whatever conflicts are left. */
export interface Ways {
  readonly text: Tally
  readonly union: Tally
  readonly fix: Tally
}

export function measure(pairs: readonly Pair[], layout: Layout, algorithm: Manner['algorithm'] = 'histogram'): Ways {
  const files = pairs.map(({ base, ours, theirs }) => {
    const text = (profile: Pair['base']): string => write(profile, layout).text
    return { base: text(base), ours: text(ours), theirs: text(theirs) }
  })
  const [text, union] = merged(files, [
    { driver: 'text', algorithm },
    { driver: 'union', algorithm },
  ]) as [readonly string[], readonly string[]]
  const tally = (texts: readonly string[]): Tally => tallyOf(texts, pairs, layout)
  return { text: tally(text), union: tally(union), fix: tally(text.map(settled)) }
}

function tallyOf(texts: readonly string[], pairs: readonly Pair[], layout: Layout): Tally {
  const none = (): Record<Fate, number> => ({ mislabelled: 0, lost: 0, doubled: 0, alike: 0, clean: 0 })
  const [silent, silentWithoutRules, problems] = [none(), none(), new Map<Problem, number>()]
  const counts = { conflict: 0, told: 0, toldByRules: 0, falselyTold: 0 }
  for (const [i, text] of texts.entries()) {
    if (hasConflict(text)) {
      counts.conflict++
      continue
    }
    const result = read(text, layout)
    const fate = fateOf(result, pairs[i]!)
    for (const problem of result.problems) problems.set(problem, (problems.get(problem) ?? 0) + 1)
    const byFormat = [...result.problems].some((problem) => !RULES.has(problem))
    if (byFormat) counts.told++
    else {
      silentWithoutRules[fate]++
      if (result.problems.size === 0) silent[fate]++
      else if (fate === 'clean') counts.falselyTold++
      else counts.toldByRules++
    }
  }
  return { pairs: texts.length, ...counts, silent, silentWithoutRules, problems }
}

/** How wide the checks and the states of our branches stand. */
export function widths(pairs: readonly Pair[], layout: Layout): { readonly checks: Width; readonly states: Width } {
  const texts = pairs.map(({ ours }) => write(ours, layout))
  const count = (of: (pair: Pair) => number): number => pairs.reduce((sum, pair) => sum + of(pair), 0)
  const width = (of: (text: Text) => readonly string[], entries: number): Width => {
    const lines = texts.flatMap(of).filter((line) => !line.trimStart().startsWith('#'))
    const long = lines.map((line) => line.length).sort((a, b) => a - b)
    return {
      median: long[Math.floor(long.length / 2)] ?? 0,
      longest: long.at(-1) ?? 0,
      seen: long.filter((columns) => columns <= SEEN).length / long.length,
      lines: lines.length / entries,
    }
  }
  return {
    checks: width(
      ({ checkLines }) => checkLines,
      count(({ ours }) => ours.checks.length),
    ),
    states: width(
      ({ stateLines }) => stateLines,
      count(({ ours }) => ours.states.size),
    ),
  }
}
