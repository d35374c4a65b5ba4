// What to key in at a machine as a list to work through with a pencil: slot by slot, what is not proven at the end.
import { holdsText } from './holds.ts'
import type { ToKeyItem, ToKeySlot } from './to-key.ts'

/** The whole list. `cautions` are the printer's own. */
export function toKeyText(
  printer: { readonly id: string; readonly title: string | undefined; readonly cautions: readonly string[] },
  slots: readonly ToKeySlot[],
  today: string,
): string {
  const out: string[] = []
  const due = slots.filter(({ items }) => items.some(({ state }) => state === 'key-in'))
  out.push(`${printer.title === undefined ? printer.id : `${printer.title} (${printer.id})`}: to key in as on ${today}`)
  out.push(summary(slots, due.length))
  if (due.length > 0) out.push('', ...CARE, ...printer.cautions.map((caution) => `  - ${caution}`))
  for (const slot of slots) out.push('', ...slotLines(slot))
  const doubtful = slots.flatMap((slot) => slot.items.filter(({ state }) => state === 'in-doubt').map((item) => ({ slot, item })))
  if (doubtful.length > 0) {
    out.push('', 'Last, and not before what is said here is done:')
    for (const { slot, item } of doubtful) {
      out.push(`  [!] ${placeName(slot)} · ${slot.profile} · ${item.key}: the file says ${item.file}${whereText(item)}`)
      out.push(`      ${item.note ?? 'the machine cannot be given it'}`)
      out.push(...wayLines(item))
    }
  }
  return `${out.join('\n')}\n`
}

const CARE = [
  "Caution: some of these are set beside hot or moving parts: stop the machine first where its own instructions say so. The machine's and the material's safety documents come first.",
]

function summary(slots: readonly ToKeySlot[], due: number): string {
  const count = (state: ToKeyItem['state']): number =>
    slots.reduce((sum, { items }) => sum + items.filter((item) => item.state === state).length, 0)
  const [keyed, has, doubt] = [count('key-in'), count('has-it'), count('in-doubt')]
  if (slots.length === 0) return 'No profile is kept on it.'
  const parts = [
    keyed === 0 ? 'Nothing is to be keyed in' : `${plural(keyed, 'setting')} to key in, of ${plural(due, 'profile')}`,
    ...(has > 0 ? [`${has} ticked off`] : []),
    ...(doubt > 0 ? [`${doubt} in doubt, at the end`] : []),
  ]
  return `${parts.join('; ')}.`
}

const plural = (n: number, word: string): string => `${n} ${word}${n === 1 ? '' : 's'}`

export const placeName = ({ slot }: Pick<ToKeySlot, 'slot'>): string => (slot === undefined ? 'No slot' : `Slot ${slot}`)

const whereText = ({ where }: ToKeyItem): string => (where === undefined ? '' : ` (${where})`)

function slotLines(slot: ToKeySlot): readonly string[] {
  const { items, retired, holds, profile, title } = slot
  const out = [`${placeName(slot)} · ${profile}${title === undefined ? '' : ` · ${title}`}`]
  if (retired !== undefined) return [...out, `  Out of use: ${retired}. Nothing is keyed in for it, and its place is free.`]
  if (holds) out.push(`  ! ${holdsText(slot.slot, holds)}`)
  const has = items.filter(({ state }) => state === 'has-it')
  for (const date of [...new Set(has.map(({ since }) => since ?? ''))].sort())
    out.push(
      `  [x] ${date === '' ? 'seen' : `seen on ${date}`}: ${has
        .filter(({ since }) => (since ?? '') === date)
        .map(({ key, file }) => `${key} ${file}`)
        .join(', ')}`,
    )
  const todo = items.filter(({ state }) => state === 'key-in')
  const [keys, texts] = [width(todo.map(({ key }) => key)), width(todo.map(({ text }) => text ?? ''))]
  for (const item of todo) {
    const left = item.note === undefined ? '' : `; ${item.note}`
    out.push(
      `  [ ] ${item.key.padEnd(keys)}  ${(item.text ?? '').padEnd(texts)}${item.where === undefined ? '' : `  ${item.where}`}${left}`.trimEnd(),
    )
    out.push(...wayLines(item))
  }
  if (items.length === 0) out.push('  It gives no setting that is keyed in.')
  return out
}

const width = (texts: readonly string[]): number => Math.max(0, ...texts.map((text) => [...text].length))

function wayLines({ machine, ways }: ToKeyItem): readonly string[] {
  if (!machine) return []
  return [
    `      The machine had ${machine.text}${machine.date === undefined ? '' : ` on ${machine.date}`}.`,
    ...ways.map(({ text }) => `      - ${text}`),
  ]
}
