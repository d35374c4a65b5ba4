// Threads as a command is given them (`CliHost.thread`), played in this one: what goes between is copied as it is between threads, and comes when chance
// has it. Real ones are in `bundle.test.ts`.
import { setImmediate } from 'node:timers/promises'
import type { CliHost } from '../../server/src/cli/host.ts'
import { judgingOf } from '../../server/src/cli/thread.ts'
import type { Chance } from '../support/chance.ts'

/** What becomes of a thread: it ends by an error or of itself, before it begins or at one of its documents, told of or not. */
export const ENDS = ['never starts', 'throws', 'leaves', 'leaves without a word of what it judged'] as const
export type End = (typeof ENDS)[number]

interface Played {
  readonly thread: NonNullable<CliHost['thread']>
  /** Documents that were judged by threads. */
  readonly judged: string[]
}

/** Threads that judge by the effects of `cli`, and end as `fate` has it, asked once for each. */
export function played(cli: CliHost, chance: Chance, fate: () => End | undefined = () => undefined): Played {
  const judged: string[] = []
  const thread: Played['thread'] = async (known, tell, ended) => {
    const end = fate()
    if (end === 'never starts') throw new Error('there is no room for another thread')
    const judging = judgingOf(cli, structuredClone(known))
    let left = end === undefined ? Number.POSITIVE_INFINITY : chance.below(6)
    let over = false
    const leave = (why: string): void => {
      over = true
      ended(why)
    }
    const judge = async (file: string): Promise<void> => {
      for (let n = chance.below(4); n > 0; n--) await setImmediate()
      if (over) return
      if (left === 0 && end === 'throws') throw new TypeError('boom')
      if (left === 0 && end === 'leaves') return leave('exit code 3')
      const told = structuredClone(await (await judging)(file))
      if (over) return
      if (left-- === 0) return leave('exit code 3')
      judged.push(file)
      tell(told)
    }
    let done: Promise<unknown> = judging
    return {
      judge: (file) => {
        done = done.then(() => judge(file)).catch((error) => leave(error.message))
      },
      end: () => {
        over = true
      },
    }
  }
  return { thread, judged }
}
