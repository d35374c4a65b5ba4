// Generated three-way merges by our own driver's core: what becomes of the measurements of both branches, judged by who wrote them down and not by the
// texts.
import { mergeTexts } from '../../server/src/merge/three-way.ts'
import { Chance } from '../support/chance.ts'
import { makePair, type Pair } from './habits.ts'
import { fateOf } from './judge.ts'
import { CHOSEN, read, write } from './layout.ts'
import { contentOf } from './profile.ts'

export interface MergeTally {
  readonly pairs: number
  readonly merged: number
  readonly refused: number
  /** Merged, and not what both branches say together; a remark tells of it. */
  readonly told: number
  /** The same, and nothing tells of it. */
  readonly silent: readonly string[]
}

export function mergeMany(seed: number, pairs: number): MergeTally {
  const chance = new Chance(seed)
  const silent: string[] = []
  let [merged, refused, told] = [0, 0, 0]
  for (let i = 0; i < pairs; i++) {
    const pair = makePair(chance)
    if (renamesState(pair)) continue
    const [base, ours, theirs] = [pair.base, pair.ours, pair.theirs].map((profile) => write(profile, CHOSEN).text) as [
      string,
      string,
      string,
    ]
    const made = mergeTexts('media', { base, ours, theirs })
    if (!made.ok) {
      refused++
      continue
    }
    merged++
    const fate = fateOf(read(made.value.text, CHOSEN), pair)
    const lost = commentsLost(pair, made.value.text)
    if (fate === 'clean' && lost.length === 0) continue
    if (made.value.remarks.length > 0 && lost.length === 0) told++
    else silent.push(`${i}: ${fate} ${lost.join(' ')}`.trim())
  }
  return { pairs, merged, refused, told, silent }
}

/** A state of a name by hand that one branch gave another content: what its own checks mean then, the judge of measurements cannot say. */
const renamesState = ({ base, ours, theirs }: Pair): boolean =>
  [...base.states].some(([name, state]) => [ours, theirs].some((side) => contentOf(side.states.get(name)) !== contentOf(state)))

const commentsLost = ({ ours, theirs }: Pair, text: string): readonly string[] => {
  const count = (comments: readonly (string | undefined)[], one: string): number => comments.filter((each) => each === one).length
  const [mine, other] = [ours, theirs].map((side) => side.checks.map(({ comment }) => comment)) as [
    (string | undefined)[],
    (string | undefined)[],
  ]
  const needed = new Set([...mine, ...other].filter((comment) => comment !== undefined))
  return [...needed].filter(
    (comment) => text.split(`# ${comment}\n`).length - 1 < Math.max(count(mine, comment), count(other, comment)),
  )
}
