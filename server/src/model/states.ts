// The states that evidence was made in: what the machine was set to, under a name that tells of its content, so that two branches that write the
// same state write the same line, and no merge can put a measurement under another one in silence.
import { equalSi } from '../quantities/compare.ts'
import { type MapSchema, type SchemaNode, schemaAt, schemaOf } from '../schema/schema.ts'
import { resolveAlias } from '../syntax/tree.ts'
import { DESCRIBED } from './described.ts'
import type { F, Section } from './field.ts'
import type { MediaDocument, PrinterDocument, State } from './generated/documents.ts'
import { hasWord, levelsOf } from './level-names.ts'
import { type SettingValue, sameValue, settingAt } from './setting.ts'
import type { Setup } from './setup.ts'

/** A setting that a state holds: its key there, dotted, and where a profile has it. */
export interface StateSetting {
  readonly key: string
  readonly path: readonly string[]
}

const STATE = schemaAt('media', ['conditions', '*']) as MapSchema

/** The key that tells who says so. */
const SOURCE = 'from'

/** All that a state can hold, in the order it is written: what evidence can rest on, and no more. */
export const STATE_SETTINGS: readonly StateSetting[] = [...STATE.properties.keys()]
  .filter((key) => key !== SOURCE)
  .map((key) => ({ key, path: key.split('.') }))

/** The value of a state at one of its keys. */
export const stateValue = (state: State, key: string): F<SettingValue> | undefined => settingAt(state, [key])

/** The states of a profile by name; none of a base, whose evidence is its own. */
export const statesOf = ({ own }: Pick<Setup, 'own'>): ReadonlyMap<string, State> => own.conditions?.entries ?? new Map()

/** What stands in place of a state until it is written down: that other settings ran than today's. No state of the tool's has this name. */
export const OTHER_RAN = 'another-setting-ran'

/** The settings of a state a printer has: with stock, printer and mode, which every print has. Without a printer's document, all of them. */
export const settingsOfPrinter = (printer: PrinterDocument | undefined): readonly StateSetting[] =>
  STATE_SETTINGS.filter(({ key }) => hasSetting(printer, key))

function hasSetting(printer: PrinterDocument | undefined, key: string): boolean {
  const has = HAS.get(key)
  return !printer || !has || has(printer)
}

const HAS: ReadonlyMap<string, (printer: PrinterDocument) => boolean> = new Map(
  DESCRIBED.map(({ path, has }) => {
    const zone = /^heat\.(before|platen|after)$/.exec(path)?.[1] as 'before' | 'platen' | 'after' | undefined
    return [path, zone ? (printer) => printer.heaters?.[zone] !== undefined : has]
  }),
)

/** What a state says, whatever units and spaces it is written in: equal texts for equal states. Who says so is part of it. */
export function contentOf(values: ReadonlyMap<string, SettingValue>, from: string): string {
  const parts = [`${SOURCE}=${from}`]
  for (const { key } of STATE_SETTINGS) {
    const value = values.get(key)
    if (value !== undefined) parts.push(`${key}=${canonical(value)}`)
  }
  return parts.join(';')
}

/** Nine digits: far more than anybody writes, and fewer than arithmetic of units leaves in doubt. What it leaves of nothing is nothing. */
const canonical = (value: SettingValue): string =>
  typeof value === 'object'
    ? `${value.dimension} ${Math.abs(value.si) < NOTHING ? 0 : Number(value.si.toPrecision(9))}`
    : String(value)

const NOTHING = 1e-12

/** The values of a state as written. */
export function valuesOf(state: State): ReadonlyMap<string, SettingValue> {
  const values = new Map<string, SettingValue>()
  for (const { key } of STATE_SETTINGS) {
    const field = stateValue(state, key)
    if (field) values.set(key, field.value)
  }
  return values
}

/** The name a state gets from its content: `s`, a digit, and three signs. Names that look otherwise were made by hand, and nothing guards them. */
export function nameOf(content: string): string {
  const sum = fnv1a(content)
  const digit = sum % 10
  const rest = Math.floor(sum / 10) % 36 ** 3
  return `s${digit}${rest.toString(36).padStart(3, '0')}`
}

const MADE = /^s\d[0-9a-z]{3}$/

/** Whether a name is one that the tool makes. */
export const isMadeName = (name: string): boolean => MADE.test(name)

/** The name a state should have; undefined where its source is not readable, or nobody knows which level a word in it means. */
export function nameByContent(state: State): string | undefined {
  if (hasWord(state)) return undefined
  return state.from && nameOf(contentOf(valuesOf(state), state.from.value))
}

/** FNV-1a in 32 bits: http://www.isthe.com/chongo/tech/comp/fnv (public domain). */
function fnv1a(text: string): number {
  let sum = 0x811c9dc5
  for (let i = 0; i < text.length; i++) {
    sum ^= text.charCodeAt(i)
    sum = Math.imul(sum, 0x01000193)
  }
  return sum >>> 0
}

/** The settings of a setup now, as a state would hold them: of those the printer has, the ones that are given. */
export function settingsNow(setup: Setup): ReadonlyMap<string, F<SettingValue>> {
  const now = new Map<string, F<SettingValue>>()
  for (const { key, path } of settingsOfPrinter(setup.printer)) {
    const field = settingAt(setup.profile, path)
    if (field) now.set(key, field)
  }
  return now
}

/** How a setting of a state compares with today's: another, or not known at one of the two times. */
export interface Difference {
  readonly key: string
  readonly then: F<SettingValue> | undefined
  readonly now: F<SettingValue> | undefined
  readonly kind: 'differs' | 'not-known-then' | 'not-known-now' | 'gone'
}

/**
 * Where a state differs from the setup of today, in the order of the format. A setting that the printer has and the state does not give is not known
 * then, never as today; a level or mode the printer no longer has is gone. A level and the pressure or pull that it stands for are the same.
 * Of the settings of these keys alone, where some are named: the others are not even read.
 */
export function differencesOf(setup: Setup, state: State, keys?: ReadonlySet<string>): readonly Difference[] {
  const { printer, profile } = setup
  return STATE_SETTINGS.flatMap(({ key, path }): Difference[] => {
    if (keys?.has(key) === false) return []
    const then = stateValue(state, key)
    const now = settingAt(profile, path)
    if (!then && (!now || !hasSetting(printer, key))) return []
    if (!then) return [{ key, then, now, kind: 'not-known-then' }]
    if (isGone(printer, key, then.value)) return [{ key, then, now, kind: 'gone' }]
    if (!now) return [{ key, then, now, kind: 'not-known-now' }]
    return sameMeaning(printer, key, then.value, now.value) ? [] : [{ key, then, now, kind: 'differs' }]
  })
}

function isGone(printer: PrinterDocument | undefined, key: string, value: SettingValue): boolean {
  if (!printer) return false
  if (key === 'mode') return printer.modes !== undefined && !printer.modes.entries.has(String(value))
  const levels = levelsOf(printer, key)
  // A word that is left is a name that the printer does not give.
  return typeof value === 'object' ? false : levels !== undefined && !levels.entries.has(String(value))
}

/** Whether two values of one setting mean the same at a printer. */
export function sameMeaning(printer: PrinterDocument | undefined, key: string, a: SettingValue, b: SettingValue): boolean {
  if (sameValue(a, b)) return true
  const levels = levelsOf(printer, key)
  if (!levels || typeof a === typeof b) return false
  const amount = (value: SettingValue): SettingValue | undefined =>
    typeof value === 'number' ? levels.entries.get(String(value))?.value : value
  const [one, other] = [amount(a), amount(b)]
  return typeof one === 'object' && typeof other === 'object' && one.dimension === other.dimension
    ? equalSi(one.si, other.si, one.dimension)
    : false
}

/** Why nothing under a name can be taken at its word: no state has it, two have it, or what it says is not what its name tells. */
export type Flaw = 'unknown' | 'twice' | 'differs'

/** What is wrong with a state that evidence names; undefined where it holds. */
export function flawOf(setup: Pick<Setup, 'own'>, name: string): Flaw | undefined {
  const state = statesOf(setup).get(name)
  if (!state) return 'unknown'
  const table = resolveAlias(setup.own.conditions?.$.node)
  if (table?.kind === 'map' && table.pairs.filter(({ key }) => key?.text === name).length > 1) return 'twice'
  return isMadeName(name) && nameByContent(state) !== name ? 'differs' : undefined
}

/** The state of a profile that can be taken at its word and says just what these values say, by whomever. */
export function equalState(setup: Setup, values: ReadonlyMap<string, SettingValue>, from: string): string | undefined {
  const content = contentOf(values, from)
  for (const [name, state] of statesOf(setup))
    if (state.from && !flawOf(setup, name) && contentOf(valuesOf(state), state.from.value) === content) return name
  return undefined
}

/**
 * The setup as it was in a state: its settings in place of today's, and what the state does not give is not given. Stock and printer are today's:
 * a state of others is none of this setup. To be made anew by whoever computes with it, so that what it reads is noted.
 */
export const underState = (setup: Setup, state: State): Setup =>
  withSettings(setup, new Map(STATE_SETTINGS.map(({ key }) => [key, stateValue(state, key)] as const)))

/** The setup with other settings in place of its own, by their dotted keys; undefined for one that is not given. No stock and no printer. */
export function withSettings(setup: Setup, over: ReadonlyMap<string, F<SettingValue> | undefined>): Setup {
  const named = over.get('mode')
  const mode = named && setup.printer?.modes?.entries.get(String(named.value))
  const profile = overlay(schemaOf('media'), setup.profile, over, '') as unknown as MediaDocument
  return {
    file: setup.file,
    profile,
    own: setup.own,
    bases: setup.bases,
    baseProblem: setup.baseProblem,
    stock: setup.stock,
    printer: setup.printer,
    mode: over.has('mode') ? mode : setup.mode,
    shop: setup.shop,
    get colourFiles() {
      return setup.colourFiles
    },
    material: setup.material,
    get unsettled() {
      return setup.unsettled
    },
    get today() {
      return setup.today
    },
  }
}

/** A section that shows what lies over it where the format has such a setting, and else what is below. */
function overlay(
  schema: MapSchema,
  below: Section | undefined,
  over: ReadonlyMap<string, F<SettingValue> | undefined>,
  path: string,
): Section {
  const out = {}
  Object.defineProperty(out, '$', { get: () => below?.$ })
  for (const [key, node] of schema.properties) {
    const at = path === '' ? key : `${path}.${key}`
    const get = over.has(at) ? () => over.get(at) : () => under(node, below, key, over, at)
    Object.defineProperty(out, key, { enumerable: true, get })
  }
  return out as Section
}

function under(
  node: SchemaNode,
  below: Section | undefined,
  key: string,
  over: ReadonlyMap<string, F<SettingValue> | undefined>,
  at: string,
): unknown {
  const value = (below as Readonly<Record<string, unknown>> | undefined)?.[key]
  if (node.kind !== 'map' || ![...over.keys()].some((path) => path.startsWith(`${at}.`))) return value
  return overlay(node, value as Section | undefined, over, at)
}
