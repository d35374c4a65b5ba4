// The list of assists, and what they offer at a place.
import type { Span } from '../base/span.ts'
import type { FeatureContext } from '../features/context.ts'
import type { Fix } from '../rules/rule.ts'
import { acceptFinding } from './accept-finding.ts'
import { addCheck } from './add-check.ts'
import type { Assist } from './assist.ts'
import { convertUnit } from './convert-unit.ts'
import { correctReading } from './correct-reading.ts'
import { pasteRow } from './paste-row.ts'
import { RECORD } from './record.ts'
import { retire } from './retire.ts'
import { setCorrection } from './set-correction.ts'
import { sortEvidence } from './sort-evidence.ts'

export const ASSISTS: readonly Assist[] = [
  setCorrection,
  addCheck,
  ...RECORD,
  correctReading,
  sortEvidence,
  retire,
  pasteRow,
  convertUnit,
  acceptFinding,
]

export function assistsAt(context: FeatureContext, span: Span): readonly { fix: Fix; assist: Assist }[] {
  return ASSISTS.flatMap((assist) => assist.at(context, span).flatMap((fix) => (fix ? [{ fix, assist }] : [])))
}
