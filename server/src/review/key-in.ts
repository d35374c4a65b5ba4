// What has to be keyed in once a change is taken over: the settings that a machine keeps, where its panel has them, and what is there already.
import { STANDINGS } from '../areas/generated/standings.ts'
import type { F } from '../model/field.ts'
import { type KeyedKey, readBacksOf } from '../model/read-backs.ts'
import { type SettingValue, settingAt, writtenText } from '../model/setting.ts'
import type { Setup } from '../model/setup.ts'
import { sameMeaning } from '../model/states.ts'
import { schemaAt, schemaOf } from '../schema/schema.ts'
import { resolveAlias } from '../syntax/tree.ts'
import type { KeyIn } from './change-set.ts'
import { byLevel, levelOf } from './levels.ts'
import { sameValue } from './values.ts'

/** The settings that can be read back from a machine: the key of a reading, and the path of the setting. */
const KEPT: readonly (readonly [key: KeyedKey, path: string])[] = (() => {
  const keyed = schemaOf('media').properties.get('keyed')
  const entry = keyed?.kind === 'list' ? keyed.items : undefined
  return entry?.kind === 'map'
    ? [...entry.properties].flatMap(([key, { readsBack }]) => (readsBack ? [[key as KeyedKey, readsBack] as const] : []))
    : []
})()

/** Of a profile that is new, everything that its machine keeps. */
export function keyInOf(profile: string, before: Setup | undefined, after: Setup): readonly KeyIn[] {
  const { printer } = after
  const moved =
    before?.profile.printer?.value !== after.profile.printer?.value || before?.profile.slot?.value !== after.profile.slot?.value
  const length = printer?.feed?.entry?.value === 'measured-length'
  const out = KEPT.flatMap(([key, path]): readonly KeyIn[] => {
    const keys = path.split('.')
    const [was, is] = [settingAt(before?.profile, keys), settingAt(after.profile, keys)]
    if (!is || (path === 'slot' && !moved)) return []
    const same = was && agree(was, is, after, path)
    if (same && !moved) return []
    const where = printer?.panel?.items.find((entry) => entry.key?.value === path)?.where?.value
    const [last] = readBacksOf(after.own.keyed, key, after.today)
    const held = settingAt(last, [key])
    // A machine that is told a length is never told the correction itself.
    const told = path === 'feed.correction' && length ? lengthOf(after) : writtenText(is)
    return told === undefined
      ? []
      : [
          {
            profile,
            printer: after.profile.printer?.value ?? 'the printer',
            ...(after.profile.slot && { slot: String(after.profile.slot.value) }),
            path,
            ...(was && !same && { from: writtenText(was) }),
            to: told,
            ...(where !== undefined && { where }),
            there: held !== undefined && agree(held, is, after, path),
            level: levelOf(path),
          },
        ]
  })
  return out.sort(byLevel)
}

/** In any unit, levels through the printer's document. */
function agree(a: F<SettingValue>, b: F<SettingValue>, { printer }: Setup, path: string): boolean {
  const [one, other] = [resolveAlias(a.place.node), resolveAlias(b.place.node)]
  const written = one?.kind === 'scalar' && other?.kind === 'scalar' && sameValue(one, other, schemaAt('media', path.split('.')))
  return written || sameMeaning(printer, path, a.value, b.value)
}

const lengthOf = (setup: Setup): string | undefined =>
  STANDINGS.flatMap((standing) => standing(setup) ?? []).find(({ kind }) => kind === 'feed.checks')?.keyIn
