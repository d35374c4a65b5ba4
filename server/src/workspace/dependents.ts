// Which documents a change of others may make another verdict of: those that rest on them, those that have the same id, and those that share a slot.
import type { Facts } from '../model/facts.ts'
import { ID_KEY } from '../model/facts.ts'
import type { Shelf } from '../model/shelf.ts'
import { folderOf } from './folders.ts'

/** How far bases are followed, as in a setup. */
const DEEPEST = 64

/**
 * The files whose verdict may be another one. `changed` holds the facts of the documents that changed, as they are and as they were before: a
 * stock that has lost its id leaves the profiles behind that still name it. `shelfOf` gives the shop of a file.
 */
export function affectedBy(
  changed: readonly Facts[],
  all: readonly Facts[],
  shelfOf: (file: string) => Shelf,
): ReadonlySet<string> {
  const affected = new Set(changed.map(({ file }) => file))
  const shops = changed.filter(({ kind }) => kind === 'shop').map(({ file }) => folderOf(file))
  const ids = new Set(changed.flatMap((facts) => idKey(facts) ?? []))
  // Of a stock or a printer it is told what it leaves out only where a profile names it.
  const used = usedOtherwise(changed)
  for (const facts of all) {
    const own = idKey(facts)
    if (shops.some((folder) => facts.file.startsWith(folder)) || (own !== undefined && (ids.has(own) || used.has(own))))
      affected.add(facts.file)
    else if (facts.kind === 'media' && restOn(referencesOf(facts, shelfOf(facts.file)), ids)) affected.add(facts.file)
    else if (ids.has(`${facts.kind} ${facts.values['replaced-by']?.text}`)) affected.add(facts.file)
    else if (ids.size > 0 && isSilent(facts)) affected.add(facts.file)
  }
  // A profile that moves to another printer, also by its base, meets the profile that has its slot there.
  const slots = new Set([...changed, ...all.filter(({ file }) => affected.has(file))].flatMap((f) => slotsOf(f, shelfOf(f.file))))
  for (const facts of all) if (slotsOf(facts, shelfOf(facts.file)).some((slot) => slots.has(slot))) affected.add(facts.file)
  return affected
}

/** Whether nothing is known of what a profile is and rests on: its text cannot be read, and may name whatever changed. */
const isSilent = ({ kind, values }: Facts): boolean =>
  kind === 'media' && !values.profile && !values.base && !values.stock && !values.printer

/** The stocks and printers that a profile names now and did not before, or the other way round. */
function usedOtherwise(changed: readonly Facts[]): ReadonlySet<string> {
  const times = new Map<string, number>()
  for (const facts of changed)
    for (const kind of ['stock', 'printer'] as const) {
      const named = facts.values[kind]
      // A profile that only moved to another file is the same one.
      const key = `${idKey(facts) ?? facts.file}\n${kind} ${named?.text}`
      if (named && facts.kind === 'media') times.set(key, (times.get(key) ?? 0) + 1)
    }
  return new Set([...times].filter(([, count]) => count === 1).map(([key]) => key.slice(key.indexOf('\n') + 1)))
}

const idKey = ({ kind, values }: Facts): string | undefined => {
  const id = values[ID_KEY[kind]]
  return id && `${kind} ${id.text}`
}

const restOn = ({ stocks, printers, bases }: References, ids: ReadonlySet<string>): boolean =>
  stocks.some((id) => ids.has(`stock ${id}`)) ||
  printers.some((id) => ids.has(`printer ${id}`)) ||
  bases.some((id) => ids.has(`media ${id}`))

function slotsOf(facts: Facts, shelf: Shelf): readonly string[] {
  const { slot } = facts.values
  // The nearest printer named is the one it prints on.
  const [printer] = facts.kind === 'media' && slot ? referencesOf(facts, shelf).printers : []
  return printer === undefined ? [] : [`${printer} ${slot!.text}`]
}

interface References {
  readonly stocks: readonly string[]
  readonly printers: readonly string[]
  readonly bases: readonly string[]
}

/** What a profile names, and what its bases name. */
function referencesOf(facts: Facts, shelf: Shelf): References {
  const stocks: string[] = []
  const printers: string[] = []
  const bases: string[] = []
  const seen = new Set<Facts>()
  let waiting: readonly Facts[] = [facts]
  for (let depth = 0; waiting.length > 0 && depth < DEEPEST; depth++) {
    const next: Facts[] = []
    for (const at of waiting) {
      if (seen.has(at)) continue
      seen.add(at)
      const { stock, printer, base } = at.values
      if (stock) stocks.push(stock.text)
      if (printer) printers.push(printer.text)
      if (!base) continue
      bases.push(base.text)
      next.push(...shelf.withId('media', base.text))
    }
    waiting = next
  }
  return { stocks, printers, bases }
}

/** How many profiles rest on a document, itself not counted. */
export function countDependents(facts: Facts, shelf: Shelf): number {
  const id = idKey(facts)
  if (facts.kind === 'shop') return [...shelf.all('media')].length
  if (id === undefined) return 0
  const ids = new Set([id])
  return [...shelf.all('media')].filter((other) => other.file !== facts.file && restOn(referencesOf(other, shelf), ids)).length
}
