// The shared half of the rules that speak of a document's text rather than its meaning.
import type { SyntaxCode, SyntaxProblem } from '../../syntax/problem.ts'
import type { ReportOptions, RuleContext } from '../rule.ts'

/** How many syntax problems of one code are told; more of them help nobody. */
const MOST = 50

/** Reports the syntax problems of one code, each stretched to at least one character so that it can be seen. */
export function reportSyntax(
  context: RuleContext,
  code: SyntaxCode,
  message: (problem: SyntaxProblem) => string,
  options: (problem: SyntaxProblem) => ReportOptions = () => ({}),
): void {
  const { text, problems } = context.document.tree
  let told = 0
  for (const problem of problems) {
    if (problem.code !== code || told++ >= MOST) continue
    context.report(visible(text, problem), message(problem), options(problem))
  }
}

/** A problem points at the token, never at the rest of the file; an empty one at the end of the text steps back onto a character. */
function visible(text: string, { start, end }: SyntaxProblem): { start: number; end: number } {
  const lineEnd = text.indexOf('\n', start)
  let to = Math.min(end, lineEnd < 0 ? text.length : Math.max(lineEnd, start))
  let from = Math.min(start, text.length)
  while (from > 0 && from >= to && /[\s]/.test(text[from] ?? ' ')) from--
  if (to <= from) to = Math.min(from + 1, text.length)
  return { start: from, end: to }
}
