// On a finding: accept it for a while, by a comment above its entry that says until when and why. Both are left for the person to say.
import type { FeatureContext } from '../features/context.ts'
import { RULES } from '../rules/generated/index.ts'
import type { Finding, Fix } from '../rules/rule.ts'
import { isNeverAccepted } from '../rules/support/acceptance.ts'
import { indentOf, lineAt } from '../rules/support/lines.ts'
import type { Assist } from './assist.ts'

const REFUSED = 'It tells of what can hurt somebody or the machine: change the setting, or answer it by a measurement.'

export const acceptFinding: Assist = {
  id: 'accept-finding',
  summary: 'Accept a finding until a day, with a reason, by a comment that a reviewer sees.',
  kind: 'refactor',
  at(context: FeatureContext, span) {
    const here = context.findings().filter((f) => f.span.start <= span.end && f.span.end >= span.start)
    return here.filter(isAcceptable).map((finding) => acceptance(context, finding))
  },
}

/** An accepted one is; a mistake in the text is put right; of a hint nobody needs to be rid. */
const isAcceptable = ({ accepted, severity, code, fixes }: Finding): boolean =>
  !accepted && severity !== 'hint' && riskOf(code) !== undefined && fixes !== undefined

const ruleOf = (code: string) => RULES.find((rule) => rule.code === code)
const riskOf = (code: string) => ruleOf(code)?.risk

function acceptance({ document }: FeatureContext, { code, span }: Finding): Fix {
  const title = `Accept '${code}' until a day, with a reason`
  const rule = ruleOf(code)
  if (rule && isNeverAccepted(rule)) return { title, edits: [], refused: REFUSED }
  const { start } = lineAt(document.text, span.start)
  const newText = `${indentOf(document.text, start)}# rollbook-accept ${code} until \${1:YYYY-MM-DD}: \${2:why}\n`
  return { title, edits: [{ start, end: start, newText }], snippet: true }
}
