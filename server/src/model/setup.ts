// A profile joined with its bases, stock, printer and shop into one `Setup`, in which every value knows where it comes from.
import type { MapSchema } from '../schema/schema.ts'
import { schemaOf } from '../schema/schema.ts'
import { type ColourFiles, colourFilesOf, everyFile } from './attached.ts'
import type { RollDocument } from './document.ts'
import type { F, Place } from './field.ts'
import type { MediaDocument, Mode, PrinterDocument, StockDocument } from './generated/documents.ts'
import { Material } from './material.ts'
import type { Shelf } from './shelf.ts'
import { resolveShop, type Shop } from './shop.ts'

export interface Setup {
  readonly file: string
  /** The profile as it prints: its own settings, and those of its bases where it gives none. */
  readonly profile: MediaDocument
  /** The profile as written. */
  readonly own: MediaDocument
  /** The chain of bases, nearest first. */
  readonly bases: readonly RollDocument<'media'>[]
  readonly baseProblem: BaseProblem | undefined
  readonly stock: StockDocument | undefined
  readonly printer: PrinterDocument | undefined
  readonly mode: Mode | undefined
  readonly shop: Shop
  /** The files named under `colour`, and what is in them. */
  readonly colourFiles: ColourFiles
  /** The stock's properties, given or typical of its family. */
  readonly material: Material
  /** Today's date, YYYY-MM-DD. */
  readonly today: string
  /**
   * The same object from one version of the profile to the next as long as nothing but its feed and its records changed: what does not
   * rest on those is kept by it, so that typing a check does not reckon the heat again.
   */
  readonly still: object
  /** The same with the feed and what was read back counted in: what rests on the checks too is kept by it while observations and notes are typed. */
  readonly stillFeed: object
}

/** Why a chain of bases ends: no such profile, or one that leads back to itself. `place` is the `base` value at fault. */
export interface BaseProblem {
  readonly kind: 'missing' | 'circular'
  readonly place: Place
  readonly id: string
  /** For a circle: the profiles it goes through, by id. */
  readonly through: readonly string[]
}

export function resolveSetup(document: RollDocument<'media'>, shelf: Shelf, today: string): Setup | undefined {
  const own = document.content
  if (!own) return undefined
  const { bases, problem } = basesOf(document, own, shelf)
  let profile = own
  const schema = schemaOf('media')
  for (const base of bases) if (base.content) profile = inherit(profile, base.content, schema)
  const stock = profile.stock && shelf.document('stock', profile.stock.value)?.content
  const printer = profile.printer && shelf.document('printer', profile.printer.value)?.content
  const mode = profile.mode && printer?.modes?.entries.get(profile.mode.value)
  const shopContent = shelf.shop()?.content
  const shop = resolveShop(shopContent)
  const colourFiles = colourFilesOf(profile, ({ value, place }) => shelf.attached(place.file, String(value)))
  const attached = everyFile(colourFiles).map((file) => file.attached)
  const still = stillOf(
    document,
    [...STILL.map((key) => own[key]), ...bases.map((b) => b.content), stock, printer, shopContent, today, ...attached],
    [own.feed, own.keyed],
  )
  return {
    file: document.file,
    profile,
    own,
    bases,
    baseProblem: problem,
    stock,
    printer,
    mode,
    shop,
    colourFiles,
    material: Material.of(stock),
    today,
    still: still.token,
    stillFeed: still.feedToken,
  }
}

/** The settings of a profile; the rest are its feed and what is only written down. */
const MOVING: ReadonlySet<string> = new Set(['feed', 'observed', 'keyed', 'notes', 'title'])
const STILL = [...schemaOf('media').properties.keys()].filter((key) => !MOVING.has(key)) as readonly (keyof MediaDocument)[]

interface Still {
  readonly parts: readonly unknown[]
  readonly token: object
  readonly feed: readonly unknown[]
  readonly feedToken: object
}

const stills = new WeakMap<RollDocument<'media'>, Still>()

function stillOf(document: RollDocument<'media'>, parts: readonly unknown[], feed: readonly unknown[]): Still {
  const before = stills.get(document)
  const same = before !== undefined && sameParts(before.parts, parts)
  if (same && sameParts(before.feed, feed)) return before
  const still = { parts, token: same ? before.token : {}, feed, feedToken: {} }
  stills.set(document, still)
  return still
}

const sameParts = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((part, i) => part === b[i])

/**
 * What an area makes of a setup, reckoned when it is first asked for and kept by the object that `key` gives: the setup itself, or one that
 * stays from version to version (`still`, `stillFeed`).
 */
export function reckonedOnce<T>(key: (setup: Setup) => object, reckon: (setup: Setup) => T): (setup: Setup) => T {
  const kept = new WeakMap<object, T>()
  return (setup) => {
    const by = key(setup)
    if (!kept.has(by)) kept.set(by, reckon(setup))
    return kept.get(by) as T
  }
}

/** Whether a value of a setup was taken from a base rather than written in the profile itself. */
export const isInherited = (setup: Setup, field: F<unknown>): boolean => field.place.file !== setup.file

function basesOf(
  document: RollDocument<'media'>,
  own: MediaDocument,
  shelf: Shelf,
): { bases: RollDocument<'media'>[]; problem: BaseProblem | undefined } {
  const bases: RollDocument<'media'>[] = []
  const seen = new Set([document.file])
  const through = [own.profile?.value ?? document.baseName]
  for (let at = own.base; at; ) {
    const base = shelf.document('media', at.value)
    if (!base) return { bases, problem: { kind: 'missing', place: at.place, id: at.value, through } }
    through.push(at.value)
    if (seen.has(base.file)) return { bases, problem: { kind: 'circular', place: at.place, id: at.value, through } }
    seen.add(base.file)
    bases.push(base)
    at = base.content?.base
  }
  return { bases, problem: undefined }
}

/** `over` with every inheritable setting that it lacks taken from `under`, mapping by mapping. */
function inherit<T extends object>(over: T, under: T, schema: MapSchema): T {
  const out = { ...over } as Record<string, unknown>
  for (const [key, property] of schema.properties) {
    if (!property.inherit) continue
    const mine = out[key]
    const theirs = (under as Record<string, unknown>)[key]
    if (theirs === undefined) continue
    if (mine === undefined)
      out[key] = property.kind === 'map' ? inherit({ $: (theirs as { $: Place }).$ }, theirs as { $: Place }, property) : theirs
    else if (property.kind === 'map') out[key] = inherit(mine as object, theirs as object, property)
  }
  return out as T
}
