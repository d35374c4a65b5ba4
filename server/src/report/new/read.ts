// Answers as they were given, by flags, by a file or one at a time: each judged beside those before it, with what is wrong told by the question it answers.

import { judgeAnswer } from './judge.ts'
import type { Answers, NewKind } from './question.ts'
import { arises } from './question.ts'
import { QUESTIONS } from './questions.ts'

export type RawAnswers = ReadonlyMap<string, string | readonly string[]>

export interface ReadAnswers {
  readonly answers: Answers
  readonly faults: readonly { readonly key: string; readonly reason: string }[]
  readonly remarks: readonly string[]
}

/** In the order of the questions, so that what another answer decides is decided. `today` is YYYY-MM-DD. */
export function readAnswers(kind: NewKind, given: RawAnswers, today: string): ReadAnswers {
  const answers = new Map<string, readonly string[]>()
  const faults: { key: string; reason: string }[] = []
  const remarks: string[] = []
  for (const question of QUESTIONS[kind]) {
    const { key, after } = question
    const typed = given.get(key)
    if (typed === undefined) continue
    const judged = judgeAnswer(kind, question, typed, answers, today)
    if (!judged.ok) faults.push({ key, reason: judged.reason })
    else if (judged.items.length > 0 && !arises(question, answers)) {
      const says = after?.says === undefined ? 'is answered' : `is ${after.says.join(' or ')}`
      // Where that answer is at fault itself, it alone is told.
      if (!faults.some((fault) => fault.key === after?.key))
        faults.push({ key, reason: `It is asked only where ${after?.key} ${says}.` })
    } else {
      if (judged.items.length > 0) answers.set(key, judged.items)
      remarks.push(...judged.remarks)
    }
  }
  return { answers, faults, remarks }
}
