// What follows of a change for the computed quantities of one profile. Before and after share their unknowns, so a difference is taken low with low and
// high with high; what caused it is known by what each quantity read while it was reckoned.
import { QUANTITIES } from '../areas/generated/quantities.ts'
import {
  type AreaQuantities,
  type Family,
  type Quantity,
  type QuantityFailure,
  reckonedQuantity,
  valueAlone,
} from '../areas/quantity.ts'
import { digest } from '../base/digest.ts'
import { Derived, inputsOf, Runtime } from '../base/recorder.ts'
import { asRange, differenceOf, isExact, type Range, subtractRanges } from '../calc/range.ts'
import type { RollDocument } from '../model/document.ts'
import type { Reckoned } from '../model/reckoned.ts'
import { Recorded } from '../model/recorded-setup.ts'
import { settingAt } from '../model/setting.ts'
import type { Setup } from '../model/setup.ts'
import type { Shelf } from '../model/shelf.ts'
import { withSettings } from '../model/states.ts'
import { siSymbol } from '../quantities/si-symbols.ts'
import { valueWords } from '../report/reckon-text.ts'
import type { Cause, Consequence, Reckoning } from './change-set.ts'
import { byLevel, levelOf } from './levels.ts'

/** A profile in one version, with the shelf that its others lie on. */
export interface Version {
  readonly document: RollDocument<'media'>
  readonly setup: Setup
  readonly shelf: Shelf
}

/** What changed, by the name that the recorder gives to a value that is read: 'profile heat.platen', 'printer suction.levels'. */
export type Changed = ReadonlyMap<string, Cause>

/** What moves by less than this part of itself did not move: sums leave as much. */
const STILL = 1e-9
/** The same where nothing that it read says anything else: a value in another unit leaves as much. */
const UNCAUSED = 1e-4

/**
 * The quantities that moved, those that can hurt somebody first. `changed` tells what they may come from; what is not attributed comes from all of
 * it. A definition that throws is told to `failed`, and loses itself alone.
 */
export function consequencesOf(
  profile: string,
  before: Version,
  after: Version,
  changed: Changed,
  failed: QuantityFailure,
): readonly Consequence[] {
  const out: Consequence[] = []
  if (changed.size === 0) return out
  const causes = new Set([...changed.values()].map((cause) => JSON.stringify(cause)))
  const moves: Moved[] = []
  for (const area of QUANTITIES)
    for (const entry of area) {
      const one = byKey(definitions(entry, before.setup, failed))
      const other = byKey(definitions(entry, after.setup, failed))
      for (const key of new Set([...one.keys(), ...other.keys()])) {
        // A check is told of as evidence, and is counted anew where one comes or goes.
        if (/^feed\.check\./.test(key)) continue
        const [was, is] = [one.get(key), other.get(key)]
        const [from, to] = [was && valueAlone(was, before.setup, failed), is && valueAlone(is, after.setup, failed)]
        if (!moved(from, to, STILL)) continue
        const whole = (one: Quantity | undefined, setup: Setup) => one && reckonedQuantity(one, setup, failed)
        moves.push({ entry, was: whole(was, before.setup), is: whole(is, after.setup) })
      }
    }
  const entries = new Set(moves.map(({ entry }) => entry))
  // Of one change nobody asks which it was.
  const reads = causes.size === 1 ? undefined : readsOf(before, after, entries)
  const alone = new Alone(before.setup, after.setup)
  // Another material has unknowns of its own.
  const shared = before.setup.profile.stock?.value === after.setup.profile.stock?.value
  for (const { entry, was, is } of moves) {
    const found = reads ? alone.sift(causesOf([...reads.get(entry)!], changed), entry, is) : [...changed]
    if (found.length === 0 && !moved(was?.value, is?.value, UNCAUSED)) continue
    const by = found.length > 0 ? found.map(([, cause]) => cause) : [...changed.values()]
    out.push(consequence({ profile, was, is, before, after, shared, causes: by }))
  }
  return out.sort(byLevel)
}

interface Moved {
  readonly entry: Quantity | Family
  readonly was: Reckoned | undefined
  readonly is: Reckoned | undefined
}

const reckonEntry = (entry: Quantity | Family, setup: Setup, failed?: QuantityFailure): readonly Reckoned[] =>
  definitions(entry, setup, failed).flatMap((quantity) => reckonedQuantity(quantity, setup, failed) ?? [])

function definitions(entry: AreaQuantities[number], setup: Setup, failed?: QuantityFailure): readonly Quantity[] {
  if (typeof entry !== 'function') return [entry]
  try {
    return entry(setup)
  } catch (error) {
    failed?.('a family of quantities', error)
    return []
  }
}

const byKey = <T extends { readonly key: string }>(list: readonly T[]): ReadonlyMap<string, T> =>
  new Map(list.map((one) => [one.key, one]))

function moved(a: number | Range | undefined, b: number | Range | undefined, least: number): boolean {
  if (a === undefined || b === undefined) return a !== b
  const [one, other] = [asRange(a), asRange(b)]
  return (['low', 'typical', 'high'] as const).some(
    (end) => Math.abs(one[end] - other[end]) > least * Math.max(Math.abs(one[end]), Math.abs(other[end])),
  )
}

/** What quantities read in either version; in the later one only what changed is reckoned again. */
function readsOf(
  before: Version,
  after: Version,
  entries: ReadonlySet<Quantity | Family>,
): ReadonlyMap<Quantity | Family, ReadonlySet<string>> {
  const sources = ({ setup, shelf }: Version) => ({ setup, shelf, today: setup.today })
  const recorded = new Recorded(new Runtime(), before.document, sources(before))
  const { runtime, setup } = recorded
  const derived = [...entries].map((entry) => {
    const quantity = new Derived(runtime, 'quantity', () => reckonEntry(entry, setup).length)
    return { entry, quantity, names: new Set<string>() }
  })
  for (const version of [before, after]) {
    if (version === after) recorded.advance(sources(after))
    for (const { quantity, names } of derived) {
      quantity.get()
      for (const name of inputsOf(quantity)) names.add(name)
    }
  }
  return new Map(derived.map(({ entry, names }) => [entry, names]))
}

type Named = readonly [name: string, cause: Cause]

const causesOf = (reads: readonly string[], changed: Changed): readonly Named[] =>
  [...changed].filter(([name]) =>
    reads.some((read) => read === name || read.startsWith(`${name}.`) || name.startsWith(`${read}.`)),
  )

/** Of several settings that were read and changed, those that the quantity is another one by: it is reckoned with each alone as it was before. */
class Alone {
  private readonly setups = new Map<string, Setup>()

  constructor(
    private readonly before: Setup,
    private readonly after: Setup,
  ) {}

  sift(named: readonly Named[], entry: Quantity | Family, is: Reckoned | undefined): readonly Named[] {
    const settings = named.filter(([name]) => this.isSetting(name))
    if (named.length < 2 || settings.length === 0 || settings.length > MOST_ALONE) return named
    const idle = new Set(
      settings.filter(([name]) => {
        const key = name.slice(SETTING.length)
        const value = byKey(reckonEntry(entry, this.without(key))).get(is?.key ?? '')?.value
        return !moved(value, is?.value, STILL)
      }),
    )
    const left = named.filter((one) => !idle.has(one))
    // Where none does it alone, they do it together.
    return left.length > 0 ? left : named
  }

  private isSetting(name: string): boolean {
    const key = name.slice(SETTING.length)
    return (
      name.startsWith(SETTING) &&
      key !== 'stock' &&
      key !== 'printer' &&
      [this.before, this.after].some((setup) => settingAt(setup.profile, key.split('.')))
    )
  }

  private without(key: string): Setup {
    let setup = this.setups.get(key)
    if (!setup) {
      setup = withSettings(this.after, new Map([[key, settingAt(this.before.profile, key.split('.'))]]))
      this.setups.set(key, setup)
    }
    return setup
  }
}

/** The recorder's name of a setting of a profile begins so. */
const SETTING = 'profile '
/** Of more settings that change at once nobody asks which did it. */
const MOST_ALONE = 12

interface Made {
  readonly profile: string
  readonly was: Reckoned | undefined
  readonly is: Reckoned | undefined
  readonly before: Version
  readonly after: Version
  readonly shared: boolean
  readonly causes: readonly Cause[]
}

function consequence({ profile, was, is, before, after, shared, causes }: Made): Consequence {
  const { key, title, dimension, unit } = (is ?? was)!
  const [a, b] = [was && reckoning(was, before.setup), is && reckoning(is, after.setup)]
  const [from, to] = [was?.value, is?.value]
  const range =
    from === undefined || to === undefined
      ? undefined
      : shared
        ? differenceOf(asRange(to), asRange(from))
        : subtractRanges(asRange(to), asRange(from))
  return {
    key,
    title,
    unit: unit ?? siSymbol(dimension),
    before: a,
    after: b,
    difference: range && { ...range, text: differenceText(range, is!, after.setup), shared },
    slight: a !== undefined && a.text === b?.text,
    causes: [...new Map(causes.map((cause) => [JSON.stringify(cause), cause])).values()],
    level: levelOf(key),
    fingerprint: digest([profile, key, canonical(from), canonical(to)].join('\n')),
  }
}

function reckoning(one: Reckoned, setup: Setup): Reckoning {
  const { value, formula, inputs, steps, source, validity, problem } = one
  return {
    value,
    text: value === undefined ? 'not known' : valueWords(value, shownAs(one), setup, one.digits),
    formula,
    inputs,
    ...(steps && { steps }),
    source,
    ...(validity !== undefined && { validity }),
    ...(problem && { problem: problem.input === undefined ? problem.reason : `${problem.input}: ${problem.reason}` }),
  }
}

/** A correction is told to its last digit and with its sign; a probability is none. */
const shownAs = (one: Reckoned): Reckoned => (one.key === 'feed.chance' ? { ...one, key: '' } : one)

/** With a plus where it can only have grown. A difference of temperatures is told in degrees of difference. */
function differenceText(range: Range, one: Reckoned, setup: Setup): string {
  const { key, dimension, unit, digits } = shownAs(one)
  const kind = dimension === 'temperature' ? 'temperature-difference' : dimension
  const told = kind === 'relative' && key.startsWith('feed.') ? key : isExact(range) ? `${key}.` : key
  const text = valueWords(range, { key: told, dimension: kind, ...(unit !== undefined && { unit }) }, setup, digits)
  return range.low > 0 && /^\d/.test(text) ? `+${text}` : text
}

/** Twelve digits: more than anybody writes, and fewer than sums leave in doubt. */
const canonical = (value: number | Range | undefined): string => {
  if (value === undefined) return 'not known'
  const { low, typical, high } = asRange(value)
  return [low, typical, high].map((one) => Number(one.toPrecision(12)) + 0).join(' ')
}
