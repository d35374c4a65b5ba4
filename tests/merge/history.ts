// A history of merges by git itself, in some of which a measurement is lost as people and merge drivers lose them; what was done to each is known.
import { execFileSync } from 'node:child_process'
import type { Chance } from '../support/chance.ts'
import { makePair, type Pair } from './habits.ts'
import { together } from './judge.ts'
import { CHOSEN, write } from './layout.ts'
import { type Check, contentOf, type Profile, reading } from './profile.ts'

export type Harm = 'dropped' | 'doubled' | 'put under another state' | 'there again'

export interface Seeded {
  readonly file: string
  readonly what: Harm
  readonly measured: string
}

/** A history with `merges` merges, each of two branches that both changed one profile, `every` of them harmed; all as one stream for `git fast-import`. */
export function makeHistory(
  chance: Chance,
  merges: number,
  every: number,
): { readonly stream: string; readonly seeded: readonly Seeded[] } {
  const seeded: Seeded[] = []
  const commits: string[] = []
  let mark = 0
  const commit = (branch: string, from: number | undefined, merge: number | undefined, file: string, text: string): number => {
    mark++
    const parents = `${from === undefined ? '' : `from :${from}\n`}${merge === undefined ? '' : `merge :${merge}\n`}`
    commits.push(
      `commit refs/heads/${branch}\nmark :${mark}\ncommitter Tern Quay <print@tern-quay.example> ${1_793_000_000 + mark} +0000\ndata 5\nwork\n${parents}M 100644 inline ${file}\ndata ${Buffer.byteLength(text)}\n${text}\n`,
    )
    return mark
  }
  let head: number | undefined
  for (let i = 0; i < merges; i++) {
    const file = `profiles/p${i}.media.yaml`
    const pair = cleanPair(chance)
    const merged = together(pair.base, pair.ours, pair.theirs)
    const states = new Map([...pair.ours.states, ...pair.theirs.states])
    const whole = { ...merged, states, correction: pair.ours.correction }
    const harmed = i % every === 0 ? harm(chance, pair, whole) : undefined
    if (harmed) seeded.push({ file, what: harmed.what, measured: harmed.check.fields.measured! })
    head = commit('main', head, undefined, file, write(pair.base, CHOSEN).text)
    const theirs = commit('night', head, undefined, file, write(pair.theirs, CHOSEN).text)
    const ours = commit('main', head, undefined, file, write(pair.ours, CHOSEN).text)
    head = commit('main', ours, theirs, file, write(harmed?.profile ?? whole, CHOSEN).text)
  }
  return { stream: `${commits.join('')}done\n`, seeded }
}

/** A pair of branches that a careful person merges without having to choose, and in which no two prints read the same. */
function cleanPair(chance: Chance): Pair {
  for (;;) {
    const pair = makePair(chance)
    const { checks } = together(pair.base, pair.ours, pair.theirs)
    const twice = new Set(checks.map(({ fields }) => identityOf(fields))).size < checks.length
    const chosen = checks.some(({ fields }) => Object.values(fields).includes('changed by both'))
    const apart = [...pair.ours.states].some(([name, state]) => {
      const other = pair.theirs.states.get(name)
      return other !== undefined && contentOf(other) !== contentOf(state)
    })
    if (!twice && !chosen && !apart && checks.length > 0) return pair
  }
}

const identityOf = ({ date, commanded, measured, with: by }: Check['fields']): string => [date, commanded, measured, by].join(' ')

function harm(
  chance: Chance,
  { base, ours, theirs }: Pair,
  whole: Profile,
): { readonly profile: Profile; readonly check: Check; readonly what: Harm } {
  const { checks } = whole
  const at = chance.below(checks.length)
  const check = checks[at]!
  const kept = (list: readonly Check[]): Profile => ({ ...whole, checks: list })
  const others = [...whole.states].filter(([name]) => name !== check.fields.under).map(([name]) => name)
  switch (chance.below(4)) {
    case 0: {
      const again = chance.once(2) ? check : { ...check, fields: { ...check.fields, note: 'typed twice' } }
      return { what: 'doubled', check, profile: kept([...checks.slice(0, at + 1), again, ...checks.slice(at + 1)]) }
    }
    case 1:
      if (others.length > 0) {
        const under = chance.one(others)
        if (contentOf(whole.states.get(under)) !== contentOf(whole.states.get(check.fields.under ?? '')))
          return {
            what: 'put under another state',
            check,
            profile: kept(checks.map((one) => (one === check ? { ...one, fields: { ...one.fields, under } } : one))),
          }
      }
      break
    case 2: {
      // A reading that one side put right has come back as it was, beside the right one.
      const gone = base.checks.find((one) => !checks.some((other) => reading(other.fields) === reading(one.fields)))
      const known = gone && [ours, theirs].some((side) => side.checks.some((one) => reading(one.fields) === reading(gone.fields)))
      if (gone && known) return { what: 'there again', check: gone, profile: kept([...checks, gone]) }
      break
    }
  }
  return { what: 'dropped', check, profile: kept(checks.filter((one) => one !== check)) }
}

/** Reads a stream into a new repository of a folder that is empty. */
export function importHistory(folder: string, stream: string | Buffer, env: NodeJS.ProcessEnv): void {
  const commands = 'git init -q -b main --template= && git config core.fsync none && git fast-import --quiet'
  execFileSync('sh', ['-c', commands], { cwd: folder, env, maxBuffer: 1 << 28, input: stream })
}
