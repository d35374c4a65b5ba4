// What a profile names and nobody can read: a stock, a printer, a base, a mode, an instrument, a colour file. None of it is in any number reckoned with the
// setup, and with it the number could be another.
import { everyFile } from './attached.ts'
import type { F, Place } from './field.ts'
import type { Setup } from './setup.ts'

export interface Lacking {
  readonly kind: 'stock' | 'printer' | 'media' | 'mode' | 'instrument' | 'colour-file'
  readonly id: string
  /** Where it is named: in the profile, or in one of its bases. */
  readonly place: Place
}

export function lackingOf(setup: Setup): readonly Lacking[] {
  const { profile, own, stock, printer, mode, shop, baseProblem } = setup
  const found: Lacking[] = []
  const lack = (kind: Lacking['kind'], field: F<string>): void => {
    if (!found.some((l) => l.kind === kind && l.id === field.value)) found.push({ kind, id: field.value, place: field.place })
  }
  if (baseProblem?.kind === 'missing') found.push({ kind: 'media', id: baseProblem.id, place: baseProblem.place })
  if (profile.stock && !stock) lack('stock', profile.stock)
  if (profile.printer && !printer) lack('printer', profile.printer)
  // A printer whose modes nobody has written down yet lacks none.
  if (profile.mode && !mode && printer?.modes?.entries.size) lack('mode', profile.mode)
  for (const check of own.feed?.checks?.items ?? [])
    if (check.with && !check.skip && !shop.instruments.has(check.with.value)) lack('instrument', check.with)
  for (const { field, attached } of everyFile(setup.colourFiles)) if (attached?.state === 'unread') lack('colour-file', field)
  return found
}

/** A sentence on what is lacking. */
export function lackingText({ kind, id }: Lacking, { profile, shop, colourFiles }: Setup): string {
  if (kind === 'mode') return `${profile.printer?.value ?? 'The printer'} has no mode '${id}'.`
  if (kind === 'instrument' && shop.document) return `rollbook.yaml lists no instrument '${id}'.`
  if (kind === 'instrument') return `There is no rollbook.yaml that can be read and lists the instrument '${id}'.`
  if (kind === 'colour-file') {
    const attached = everyFile(colourFiles).find(({ field }) => field.value === id)?.attached
    return `The colour file '${id}' is not read: ${attached?.state === 'unread' ? attached.reason : 'nobody looked for it'}.`
  }
  if (kind === 'media') return `There is no profile '${id}' in this shop that can be read, and this one has it as its base.`
  return `There is no ${kind} '${id}' in this shop that can be read.`
}
