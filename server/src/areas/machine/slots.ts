// Memory places of a printer that no profile of the shop claims.
import type { RollDocument } from '../../model/document.ts'
import { isOutOfUse } from '../../model/facts.ts'
import type { Setup } from '../../model/setup.ts'
import type { Shelf } from '../../model/shelf.ts'
import type { Fix } from '../../rules/rule.ts'
import { writeSetting } from '../../rules/support/setting.ts'

/** Moves a profile to the next free place after its own, else to the first free one. Undefined where the printer does not say how many it has. */
export function moveToFreeSlot(document: RollDocument, setup: Setup, shelf: Shelf): Fix | undefined {
  const count = setup.printer?.slots?.value
  const printer = setup.profile.printer?.value
  const now = setup.own.slot?.value ?? 0
  if (count === undefined || printer === undefined) return undefined
  const free: number[] = []
  for (let slot = 1; slot <= Math.min(count, MAX_PROFILES); slot++)
    if (shelf.withSlot(printer, String(slot)).every((facts) => isOutOfUse(facts, setup.today))) free.push(slot)
  const slot = free.find((s) => s > now) ?? free[0]
  return slot === undefined
    ? undefined
    : writeSetting(document, ['slot'], String(slot), `Move to slot ${slot}, which no profile uses; key the settings in there`)
}

const MAX_PROFILES = 1000
