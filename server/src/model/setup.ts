// A profile joined with its bases, stock, printer and shop into one `Setup`, in which every value knows where it comes from.
import { noteDate } from '../base/recorder.ts'
import type { MapSchema } from '../schema/schema.ts'
import { schemaOf } from '../schema/schema.ts'
import { type ColourFiles, colourFilesOf } from './attached.ts'
import type { RollDocument } from './document.ts'
import type { F, Place } from './field.ts'
import type { MediaDocument, Mode, PrinterDocument, StockDocument } from './generated/documents.ts'
import { withLevels } from './level-names.ts'
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
  /** Of the documents it is made of, those whose merge is not settled, by file: what rests on them may be another number with the other version. */
  readonly unsettled: readonly string[]
  /** Today's date, YYYY-MM-DD. */
  readonly today: string
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
  const stockDocument = profile.stock && shelf.document('stock', profile.stock.value)
  const printerDocument = profile.printer && shelf.document('printer', profile.printer.value)
  const shop = shelf.shop()
  const stock = stockDocument?.content
  const printer = printerDocument?.content
  const then = (id: string): PrinterDocument | undefined => shelf.document('printer', id)?.content
  profile = withLevels(profile, printer, then)
  const mode = profile.mode && printer?.modes?.entries.get(profile.mode.value)
  return {
    file: document.file,
    profile,
    own: withLevels(own, printer, then),
    bases,
    baseProblem: problem,
    stock,
    printer,
    mode,
    shop: resolveShop(shop?.content),
    colourFiles: colourFilesOf(profile, ({ value, place }) => shelf.attached(place.file, String(value))),
    material: new Material(stock),
    unsettled: unsettledOf([document, ...bases, stockDocument, printerDocument, shop]),
    get today() {
      noteDate()
      return today
    },
  }
}

/** The files of those documents whose merge is not settled. */
export const unsettledOf = (documents: readonly (RollDocument | undefined)[]): readonly string[] =>
  documents.flatMap((document) => (document?.unsettled ? [document.file] : []))

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
