// What became of the evidence of two branches in a merged text: whether each measurement of both is there once, under its own state.
import type { Pair } from './habits.ts'
import type { Read } from './layout.ts'
import { type Check, contentOf, type Fields, meanings, type Profile, rootsOf } from './profile.ts'

/**
 * What a merged text says, the worst first. `mislabelled`: a check or a state of a content that nobody wrote, a check under another state, on another day or
 * of another print. `lost`: a measurement, a remark, a state or the keyed-in correction is missing. `doubled`: a measurement stands there twice. `alike`: of two
 * measurements that say the same word for word one is left, which no text can tell from one that came twice.
 */
export type Fate = 'mislabelled' | 'lost' | 'doubled' | 'alike' | 'clean'

/** What both branches together say, where one can say it: of what both changed in another way, each version of it will do for a check. */
export function fateOf(read: Read, { base, ours, theirs }: Pair): Fate {
  const states = new Map([...ours.states, ...theirs.states])
  const known = new Map<string, number>()
  const wanted = new Map<string, number>()
  for (const profile of [base, ours, theirs]) for (const [, text] of meaningsOf(profile, states)) known.set(text, 0)
  for (const [, text] of meaningsOf(together(base, ours, theirs), states)) wanted.set(text, (wanted.get(text) ?? 0) + 1)
  const found = new Map<string, number>()
  for (const text of meanings(read.checks, read.roots, read.states)) found.set(text, (found.get(text) ?? 0) + 1)

  const extra = [...found].filter(([text, count]) => count > (wanted.get(text) ?? 0)).map(([text]) => text)
  const missing = [...wanted].filter(([text, count]) => count > (found.get(text) ?? 0)).map(([text]) => text)
  const stranger = extra.some((text) => !wanted.has(text) && !known.has(text))
  if (stranger || [...read.states].some(([name, state]) => contentOf(state) !== contentOf(states.get(name)))) return 'mislabelled'
  const correction = merge3(base.correction, ours.correction, theirs.correction)
  if ([...states.keys()].some((name) => !read.states.has(name)) || correction !== read.correction) return 'lost'
  // Of what both changed, two versions stand there instead of one that says both.
  const twice = extra.length >= missing.length && extra.length > 0 && missing.every((text) => !known.has(text))
  if (missing.some((text) => !found.has(text)) && !twice) return 'lost'
  if (extra.length > 0) return 'doubled'
  return missing.length > 0 ? 'alike' : 'clean'
}

const meaningsOf = ({ checks }: Profile, states: ReadonlyMap<string, Fields>): readonly (readonly [number, string])[] => {
  const texts = meanings(checks, rootsOf(checks), states)
  return checks.map(({ id }, i) => [id, texts[i]!] as const)
}

/** The checks of both, each as both want it; a strip stands behind the print that it is of. */
export function together(base: Profile, ours: Profile, theirs: Profile): Profile {
  const of = (profile: Profile, id: number): Check | undefined => profile.checks.find((check) => check.id === id)
  const added = theirs.checks.filter(({ id }) => of(ours, id) === undefined)
  const mine = ours.checks.map((check) => {
    const [was, other] = [of(base, check.id), of(theirs, check.id)]
    return other ? { ...check, fields: bothFields(was?.fields ?? {}, check.fields, other.fields) } : check
  })
  return { ...ours, checks: [...mine, ...added] }
}

function bothFields(base: Fields, ours: Fields, theirs: Fields): Fields {
  const keys = new Set([...Object.keys(ours), ...Object.keys(theirs)])
  return Object.fromEntries([...keys].map((key) => [key, merge3(base[key], ours[key], theirs[key]) ?? 'changed by both']))
}

/** What both want of one value; undefined where they want two things. */
const merge3 = (base: string | undefined, ours: string | undefined, theirs: string | undefined): string | undefined =>
  ours === theirs || theirs === base ? ours : ours === base ? theirs : undefined
