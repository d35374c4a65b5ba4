// Generated from the files of server/src/rules by `npm run gen`. Do not edit.
import type { Rule } from '../rule.ts'
import { rule as syntax } from '../syntax.ts'

export const RULES: readonly Rule[] = [
  syntax,
]
