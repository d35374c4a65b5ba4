// An acceptance that holds nothing back, as it is reported: only whoever ran all the rules knows.
import type { Report } from '../run.ts'
import type { Acceptance } from './acceptance.ts'
import { removeComment } from './remove-comment.ts'

export const unusedReport = (acceptance: Acceptance, text: string): Report => ({
  at: acceptance.span,
  message: `Nothing of '${acceptance.code}' is found here: there is nothing to accept. Take the comment out, so that it hides nothing later.`,
  options: { unnecessary: true, fixes: () => [removeComment(text, acceptance.span, 'Take out the comment')] },
})
