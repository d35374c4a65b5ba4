// The shared half of the rules that speak of a document's text rather than its meaning.
import type { SyntaxCode, SyntaxProblem } from '../../syntax/problem.ts'
import type { ReportOptions, RuleContext } from '../rule.ts'
import { visible } from './lines.ts'
import { mistakesOf } from './mistakes.ts'
import type { TextMistake } from './text-mistakes.ts'

/** How many problems of one code are told; more of them help nobody. */
const MAX_PROBLEMS = 50

/** Reports the problems of one code, each stretched to at least one character so that it can be seen. */
export function reportSyntax(
  context: RuleContext,
  code: SyntaxCode,
  message: (problem: SyntaxProblem) => string,
  options: (problem: SyntaxProblem) => ReportOptions = () => ({}),
): void {
  const { text, problems } = context.document.tree
  let told = 0
  for (const problem of problems) {
    if (problem.code !== code || mistakesOf(context.document).inDoubt(problem) || told++ >= MAX_PROBLEMS) continue
    context.report(visible(text, problem), message(problem), options(problem))
  }
}

/** Reports the mistakes of the text of one code: each told once, where it has to be mended. */
export function reportText(context: RuleContext, code: TextMistake['code']): void {
  let told = 0
  for (const mistake of mistakesOf(context.document).texts) {
    if (mistake.code !== code || told++ >= MAX_PROBLEMS) continue
    context.report({ start: mistake.start, end: mistake.end }, mistake.message, { fixes: () => mistake.fixes })
  }
}
