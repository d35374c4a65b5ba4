// The talk of `rollbook new` with a person at a terminal: one question after the other, what each needs to be answered, and what is wrong with an answer at once.
import type { Shown } from '../report/new/questions.ts'
import type { RawAnswers } from '../report/new/read.ts'
import type { NextQuestions } from '../workspace/beginning.ts'
import { CannotRun, type Talk } from './host.ts'
import { printable, type Style } from './terminal.ts'

/** Asks until nothing is left to ask, or the person is done. `next` tells what is left beside the answers so far. */
export async function askAll(
  talk: Talk,
  style: Style,
  given: RawAnswers,
  next: (given: RawAnswers) => Promise<NextQuestions>,
): Promise<RawAnswers> {
  const answers = new Map(given)
  const told = new Set<string>()
  let begun = false
  for (;;) {
    const { questions, faults, remarks, refused } = await next(answers)
    if (refused !== undefined) throw new CannotRun(refused)
    for (const remark of remarks) if (!told.has(remark)) talk.tell(`  ${style.yellow(printable(remark))}\n`)
    for (const remark of remarks) told.add(remark)
    for (const { key, reason } of faults) {
      talk.tell(`  ${style.red(printable(reason))}\n`)
      answers.delete(key)
    }
    if (faults.length > 0) continue
    const question = questions.find(({ must }) => must) ?? questions[0]
    if (question === undefined) return answers
    if (!question.must && !begun) {
      begun = true
      talk.tell(
        `\n${style.bold('That is enough to begin.')} What follows may be left open by Enter, now or for good; 'done' ends, '?' tells more.\n`,
      )
    }
    talk.tell(promptOf(question, style))
    const line = (await talk.ask('> '))?.trim()
    if (line === undefined) throw new CannotRun('Nothing is written: the questions were not answered to the end.')
    if (line === '?') talk.tell(moreOf(question))
    else if (line === 'done' && !question.must) return answers
    else answers.set(question.key, line)
  }
}

function promptOf({ ask, where, takes, choices }: Shown, style: Style): string {
  const words = choices ? ` ${choices.map(({ value }) => value).join(', ')}` : ''
  return `\n${style.bold(ask)} ${style.dim(`(${takes}${choices ? `:${words}` : ''})`)}\n  ${where}\n`
}

function moreOf({ why, limits, open, choices }: Shown): string {
  const lines = [why, ...(limits ? [`It is ${limits}.`] : []), ...(open ? [open] : [])]
  for (const { value, meaning } of choices ?? []) lines.push(meaning === undefined ? value : `${value}: ${meaning}`)
  return lines.map((line) => `  ${printable(line)}\n`).join('')
}
