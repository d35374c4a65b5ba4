// The text as every reader takes it, whether it reads the whole document or only what the index needs to know: what one of them blanks and
// another does not is told of a closed document and gone when it is opened.
import { type Conflict, maskConflicts } from './conflicts.ts'
import { readable } from './forbidden.ts'

export interface Clean {
  /** The text to parse; every offset is that of the text as written. */
  readonly text: string
  readonly conflicts: readonly Conflict[]
}

/** Control characters stand for no letter, lone carriage returns break lines, and of two sides in conflict "ours" is read. */
export function clean(written: string): Clean {
  const { masked, conflicts } = maskConflicts(readable(written))
  return { text: masked, conflicts }
}
