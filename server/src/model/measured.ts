// What an instrument measured all over a shop: of each profile the checks that name it. Read from the checks alone, by the same reader as the whole
// document, and only where an instrument of the shop is in doubt or was found wrong: who never dropped a rule pays nothing for it.
import type { Span } from '../base/span.ts'
import { schemaOf } from '../schema/schema.ts'
import { skim } from '../syntax/skim.ts'
import type { RollDocument } from './document.ts'
import type { Instrument, MediaDocument, ShopDocument } from './generated/documents.ts'
import { ModelReader } from './read.ts'

/** A check that names an instrument. The span is that of the name, in the text as it was read. */
export interface MeasuredCheck extends Span {
  readonly instrument: string
  /** YYYY-MM-DD. */
  readonly date: string
}

/** The checks of one profile that count, as far as instruments go; those that a person left out are not among them. */
export interface Measured {
  readonly file: string
  /** The profile's name; undefined where it gives none. */
  readonly profile: string | undefined
  /** Those made with one of the instruments asked about. */
  readonly checks: readonly MeasuredCheck[]
  /** The newest day on which another instrument than these, or one that is not named, measured. */
  readonly otherwise: string | undefined
}

/** The instruments of a shop of which it is told who rests on them: what was in doubt, and what was found wrong. */
export const instrumentsWithHistory = (shop: ShopDocument | undefined): readonly string[] =>
  [...(shop?.instruments?.entries ?? [])].flatMap(([name, instrument]) => (hasHistory(instrument) ? [name] : []))

const hasHistory = ({ errors, suspect }: Instrument): boolean => [errors, suspect].some((list) => (list?.items.length ?? 0) > 0)

const READ: ReadonlySet<string> = new Set(['profile', 'feed'])

/** Of a text that is not parsed. */
export const readMeasured = (file: string, text: string, instruments: readonly string[]): Measured =>
  measuredIn(file, new ModelReader(file).read<MediaDocument>(skim(text, READ), schemaOf('media')).value, instruments)

/** Of a parsed document. */
export const measuredOf = (document: RollDocument<'media'>, instruments: readonly string[]): Measured =>
  document.tree.problems.at(-1)?.code === 'unread'
    ? readMeasured(document.file, document.text, instruments)
    : measuredIn(document.file, document.content, instruments)

function measuredIn(file: string, content: MediaDocument | undefined, instruments: readonly string[]): Measured {
  const checks: MeasuredCheck[] = []
  let otherwise: string | undefined
  for (const { date, with: used, skip, commanded, measured, applied } of content?.feed?.checks?.items ?? []) {
    if (!date || skip || !commanded || !measured || !applied) continue
    if (used && instruments.includes(used.value)) {
      const { start, end } = used.place.node
      // A copy of its own: a slice would keep the whole text in memory.
      checks.push({ instrument: ` ${used.value}`.slice(1), date: ` ${date.value}`.slice(1), start, end })
    } else if (otherwise === undefined || date.value > otherwise) otherwise = ` ${date.value}`.slice(1)
  }
  const profile = content?.profile?.value
  return { file, profile: profile === undefined ? undefined : ` ${profile}`.slice(1), checks, otherwise }
}
