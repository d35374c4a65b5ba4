// The settings of a profile as the machine's panel takes them: in the order and words of its document, in its unit, to its step, and never beyond its range.
// For whoever keys a profile in; what the file says stays as it is written.
import { keyIn } from '../../calc/feed-key-in.ts'
import { levelName, levelsOf } from '../../model/level-names.ts'
import { type SettingValue, settingAt, writtenText } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import { STATE_SETTINGS, sameMeaning, settingsOfPrinter } from '../../model/states.ts'
import { fromSi } from '../../quantities/convert.ts'
import { formatSi, rewriteIn, stepDecimals, toStep } from '../../quantities/format.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import type { Unit } from '../../quantities/units.ts'
import { listed } from '../../rules/support/words.ts'
import { keysOf } from '../../schema/schema.ts'
import { feedOf } from '../feed/facts.ts'
import { correctionText, keyedLengthText } from '../feed/words.ts'
import { SAME_LENGTH } from '../landing/facts.ts'
import { READ_BACK } from './read-back.ts'

export interface PanelSetting {
  /** The setting as the profile names it: 'heat.platen'. */
  readonly key: string
  /** How to reach it, in the shop's own words; undefined where the panel's list does not tell. */
  readonly where: string | undefined
  /** As the file says it, its own or a base's. */
  readonly file: string
  /** What is keyed in; undefined where the panel cannot hold it, or where nobody knows what it makes of it. */
  readonly text: string | undefined
  /** Why nothing is keyed in, or what rounding left, behind "but". */
  readonly note: string | undefined
}

/** All settings that a profile gives and somebody keys in: those of the panel's list in its order, then the others that a machine is read back for. */
export function panelOf(setup: Setup): readonly PanelSetting[] {
  const onPanel = (setup.printer?.panel?.items ?? []).flatMap(({ key, where }) =>
    key ? [{ key: key.value, where: where?.value }] : [],
  )
  const has = new Set(settingsOfPrinter(setup.printer).map(({ key }) => key))
  const known = new Set(STATE_SETTINGS.map(({ key }) => key))
  const others = READ_BACK.map(([, path]) => path.join('.'))
    .filter((key) => !onPanel.some((entry) => entry.key === key) && (!known.has(key) || has.has(key)))
    .map((key) => ({ key, where: undefined }))
  const seen = new Set<string>()
  return [...onPanel, ...others].flatMap(({ key, where }): readonly PanelSetting[] => {
    const field = settingAt(setup.profile, key.split('.'))
    if (!field || seen.has(key) || !KEYED_IN.has(key)) return []
    seen.add(key)
    const file = writtenText(field)
    const { text, note, isRounded } = heldText(setup, key, field.value)
    return [{ key, where, file, text, note: isRounded ? `the file says ${file}, between two steps of the machine` : note }]
  })
}

/** Settings of a profile, and no evidence or notes, which a panel may be said to have a place for. */
const KEYED_IN: ReadonlySet<string> = new Set(
  keysOf('media').filter((key) => !/^(?:profile|title|base|observed|keyed|conditions|notes)\b/.test(key)),
)

type Held = Pick<PanelSetting, 'text' | 'note'> & { readonly isRounded?: boolean }

const held = (text: string): Held => ({ text, note: undefined })
const not = (note: string): Held => ({ text: undefined, note })

function heldText(setup: Setup, key: string, value: SettingValue): Held {
  const { printer } = setup
  if (key === 'feed.correction') return typeof value === 'object' ? correction(setup, value) : not('it is no correction')
  const levels = levelsOf(printer, key)
  if (levels && levels.entries.size > 0) return level(setup, key, value, [...levels.entries.keys()])
  if (key === 'heat.fan') return held(value === true ? 'on' : 'off')
  if (typeof value !== 'object') return held(String(value))
  if (key === 'gap') return gap(setup, value)
  const zone = /^heat\.(before|platen|after)$/.exec(key)?.[1] as 'before' | 'platen' | 'after' | undefined
  const heater = zone && printer?.heaters?.[zone]
  const [range, step] = heater
    ? [heater.range?.items, heater.step?.value]
    : key === 'web.tension'
      ? [printer?.web?.['tension-range']?.items, undefined]
      : key === 'web.speed'
        ? [printer?.web?.['speed-range']?.items, undefined]
        : key === 'drying.pause'
          ? [printer?.drying?.['pause-range']?.items, undefined]
          : key === 'drying.run-out'
            ? [printer?.drying?.['run-out-range']?.items, undefined]
            : [undefined, undefined]
  return within(value, range?.map((end) => end.value) ?? [], step)
}

/** A percentage to the machine's step, or the length that makes it of what the machine holds now. */
function correction(setup: Setup, { si: wanted }: Quantity): Held {
  const facts = feedOf(setup)
  const { entry, step, range, patternLength, held: machine } = facts
  const rules = {
    entry,
    range,
    patternLength,
    held: machine?.ok ? { ok: true as const, value: machine.value.correction } : machine,
    ...(entry === 'percent'
      ? { step }
      : { lengthStep: setup.printer?.feed?.step?.value.dimension === 'length' ? step : undefined }),
  }
  const made = keyIn({ wanted, rules })
  if (made.value === undefined) return not(made.reason ?? 'it cannot be keyed in')
  if (entry === 'percent') return rounded(correctionText(facts, made.value), made.value, wanted)
  return held(keyedLengthText(facts, made.value))
}

function level(setup: Setup, key: string, value: SettingValue, names: readonly string[]): Held {
  const { printer } = setup
  const called = (name: string): string => levelName(printer, key, Number(name))
  const found = names.find((name) => sameMeaning(printer, key, Number(name), value))
  return found === undefined ? not(`the machine has no such level: it has ${listed(names.map(called))}`) : held(called(found))
}

function gap({ printer }: Setup, value: Quantity): Held {
  const gaps = printer?.carriage?.gaps?.items.map((item) => item.value) ?? []
  if (gaps.length === 0) return held(asWritten(value, value.unit))
  const found = gaps.find(({ si }) => Math.abs(si - value.si) <= SAME_LENGTH)
  return found
    ? held(asWritten(found, found.unit))
    : not(`the machine has no such gap: it has ${listed(gaps.map((g) => asWritten(g, g.unit)))}`)
}

/** In the unit of the machine's range, to its step, counted from its lower end; refused outside of it. */
function within(value: Quantity, [low, high]: readonly Quantity[], step: Quantity | undefined): Held {
  const unit = low?.unit ?? value.unit
  if (low && high && (value.si < low.si - 1e-9 || value.si > high.si + 1e-9))
    return not(`the machine takes ${asWritten(low, unit)} to ${asWritten(high, unit)}`)
  if (!step || step.si <= 0) return held(rewriteIn(value, unit))
  const from = low?.si ?? 0
  const nearest = from + (toStep(value.si - from, step.si) ?? value.si - from)
  const si = high && nearest > high.si + 1e-9 ? from + (toStep(high.si - from, step.si, 'down') ?? 0) : nearest
  const decimals = stepDecimals(Number((fromSi(si + step.si, unit) - fromSi(si, unit)).toPrecision(6)))
  const text = formatSi(si, value.dimension, { unit, decimals })
  return rounded(text, si, value.si)
}

/** Tells where the panel takes another number than the file gives. */
const rounded = (text: string, si: number, wanted: number): Held => ({
  ...held(text),
  isRounded: Math.abs(si - wanted) > 1e-9 * Math.max(1, Math.abs(wanted)),
})

const asWritten = (value: Quantity, unit: Unit): string => rewriteIn(value, unit)
