// What an area knows that stands on the machine when evidence of its kind is written down: to be proposed, and changed where another was keyed in.
import type { Setup } from '../model/setup.ts'

export interface Recording {
  /** The evidence, as the format names it: 'feed.checks'. */
  readonly kind: string
  /** Values as they are written, by the key of an entry; what is not known is not in it. Never anything that is measured. */
  proposed(setup: Setup): Readonly<Record<string, string | undefined>>
}
