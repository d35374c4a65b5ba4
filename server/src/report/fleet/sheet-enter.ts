// What was written by hand on a sheet, asked for in the sheet's order and put into the profile: what the machine was read back with, then the sheet's forms.
// What stays the same is proposed, and nothing that is measured ever is. Pure: questions out, answers in, and the profile's new text at the end.
import { RECORDINGS } from '../../areas/generated/recordings.ts'
import { panelOf } from '../../areas/machine/panel.ts'
import { READ_BACK } from '../../areas/machine/read-back.ts'
import type { NewReading, Part } from '../../areas/recording.ts'
import { applyEdits, editsOf } from '../../base/text-edit.ts'
import { addDays } from '../../model/dates.ts'
import { LiveDocument, type RollDocument } from '../../model/document.ts'
import { cellSchema, type EvidenceKind, entriesOf, evidenceIn, evidenceKind } from '../../model/evidence.ts'
import { isSame } from '../../model/evidence-add.ts'
import { HeldEvidence } from '../../model/evidence-held.ts'
import { apart, type Given, newEntry } from '../../model/evidence-new.ts'
import { placedEdit } from '../../model/evidence-place.ts'
import { proposedStates } from '../../model/proposed-states.ts'
import { settingAt, writtenText } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import { addState, joined, stateText } from '../../model/state-add.ts'
import { displayUnit } from '../../quantities/display-unit.ts'
import { formsOf } from './sheet-forms.ts'

export interface SheetQuestion {
  /** The part of the sheet that it is of. */
  readonly part: string
  readonly ask: string
  /** What an empty answer says; undefined where it leaves the cell open. */
  readonly proposed?: string | undefined
  readonly choices?: readonly string[] | undefined
  /** Why the answer before was not taken. */
  readonly fault?: string | undefined
}

export interface Entered {
  /** The profile with all that was entered; as it was where nothing is to be written. */
  readonly text: string
  /** What is added, a line each. */
  readonly told: readonly string[]
}

interface Column {
  readonly key: string
  readonly ask: string
  readonly unit?: string | undefined
  readonly proposed?: string | undefined
  readonly choices?: readonly string[] | undefined
  /** The words that stand for other texts in a document: what `=` means, `on` for true. */
  readonly words?: Readonly<Record<string, string>>
}

/** One entry that a part of the sheet may give. Without an answer to one of its `columns` that proposes nothing it is none. */
interface Row {
  readonly known: readonly Given[]
  readonly columns: readonly Column[]
}

interface PartOfSheet {
  readonly title: string
  readonly kind: EvidenceKind
  readonly rows: readonly Row[]
  /** Whether it has room for several days. */
  readonly many: boolean
}

type Asking<T> = Generator<SheetQuestion, T, string>

/** An answer that leaves open what is proposed. */
export const OPEN = '-'

const YES_NO = ['yes', 'no']

/** `setupOf` joins a text of the profile with its printer, stock and shop. Ends with the text as it was where nothing can be asked. */
export function* enterSheet(
  first: RollDocument<'media'>,
  setupOf: (document: RollDocument<'media'>) => Setup | undefined,
): Asking<Entered> {
  const draft = new LiveDocument(first.file, 'media', first.text)
  const told: string[] = []
  const setup = setupOf(draft)
  for (const { title, kind, rows, many } of setup ? partsOf(setup) : [])
    do {
      const now = setupOf(draft)!
      const day = yield* dayOf(title, now.today)
      if (day === undefined) break
      for (const row of rows) {
        const given = yield* cellsOf(title, kind, [cell('date', day), ...row.known], row.columns)
        if (given) told.push(...(yield* add(draft, now, title, kind, given)))
      }
    } while (many)
  if (told.length === 0) return { text: first.text, told }
  const write = yield* chosen({ part: 'All of it', ask: `Write this? ${told.join('; ')}`, proposed: 'yes', choices: YES_NO })
  return write === 'yes' ? { text: draft.text, told } : { text: first.text, told: [] }
}

/** The parts in the order of the sheet: the panel's ticks first, then what is written below. */
function partsOf(setup: Setup): readonly PartOfSheet[] {
  const forms = formsOf(setup).map(({ kind: name, title }) => {
    const kind = evidenceKind(name)!
    const readings = RECORDINGS.find((one) => one.kind === name)?.entries(setup) ?? []
    const rows = readings.map(({ parts }) => ({
      known: name === 'feed.checks' ? [] : Object.entries(parts).flatMap(([key, part]) => fixedOf(key, part)),
      columns: [
        ...(name === 'feed.checks' ? checkColumns(setup, parts) : Object.entries(parts).flatMap(asked)),
        ...(kind.entry.properties.has('by') ? [BY] : []),
      ],
    }))
    return { title, kind, rows, many: name === 'feed.checks' }
  })
  const keyed = { title: 'Read back from the machine', kind: evidenceKind('keyed')!, many: false }
  return [{ ...keyed, rows: [{ known: [], columns: [...readBackColumns(setup), BY] }] }, ...forms]
}

const BY: Column = { key: 'by', ask: 'by' }

/** What a reading is told apart by, and what it was printed on, stand there already. */
const fixedOf = (key: string, part: Part | undefined): readonly Given[] =>
  part && 'known' in part && !SAID.has(key) ? [cell(key, ...apart(part.known))] : []

/** What may have been otherwise then. */
const SAID: ReadonlySet<string> = new Set(['applied', 'set', 'with', 'lot'])

const HEADS: Readonly<Record<string, string>> = { applied: 'keyed in then', picks: 'row', with: 'measured with' }

function asked([key, part]: [string, Part | undefined]): readonly Column[] {
  const ask = HEADS[key] ?? key.replace('-', ' ')
  if (!part) return []
  if ('known' in part) {
    // A lot that nobody wrote down yet may be the one; a rule is one of the shop's.
    const choices = key === 'with' ? [part.known, ...(part.others ?? [])] : undefined
    return SAID.has(key)
      ? [{ key, ask, proposed: part.known, choices, unit: key === 'lot' ? undefined : apart(part.known)[1] }]
      : []
  }
  if ('unit' in part) return [{ key, ask, unit: part.unit }]
  if ('names' in part) return part.names.map((name) => ({ key: `${key}.${name}`, ask: `${ask}, ${name}` }))
  if ('count' in part) return Array.from({ length: part.count }, (_, i) => ({ key: `${key}.${i + 1}`, ask: `${ask} ${i + 1}` }))
  return [{ key, ask, choices: part.of?.length ? part.of : undefined }]
}

function checkColumns(setup: Setup, { applied, with: rule, lot }: NewReading['parts']): readonly Column[] {
  const { own, printer, shop } = setup
  const last = own.feed?.checks?.items.at(-1)
  const pattern = last?.commanded ?? printer?.feed?.['pattern-lengths']?.items[0]
  const length = (last?.measured?.value.unit ?? displayUnit(pattern?.value.si ?? 1, 'length', shop.units)).id
  const web = (last?.web?.value.unit ?? displayUnit(296, 'temperature', shop.units)).id
  return [
    { key: 'commanded', ask: 'pattern', unit: pattern?.value.unit.id ?? length, proposed: pattern && writtenText(pattern) },
    { key: 'measured', ask: 'measured', unit: length },
    ...asked(['applied', applied]),
    ...asked(['with', rule]),
    { key: 'web', ask: 'web', unit: web },
    ...asked(['lot', lot]),
  ]
}

/** What the file has is told beside each, and never taken for what the machine has before somebody says so. */
const readBackColumns = (setup: Setup): readonly Column[] =>
  panelOf(setup).flatMap(({ key, where, text, file }): readonly Column[] => {
    const name = READ_BACK.find(([, path]) => path.join('.') === key)?.[0]
    const value = settingAt(setup.profile, key.split('.'))?.value
    if (name === undefined || value === undefined) return []
    const there = text ?? file
    return [
      {
        key: name,
        ask: `${key}${where === undefined ? '' : `, ${where}`}; the file says ${there} (= for the same)`,
        unit: typeof value === 'object' ? apart(there)[1] : undefined,
        words: { '=': there, on: 'true', off: 'false' },
      },
    ]
  })

const cell = (key: string, text: string, unit?: string | undefined): Given => ({ key, part: 'value', unit, text })

function* dayOf(part: string, today: string): Asking<string | undefined> {
  const ask = 'date (today, yesterday or as 2026-11-25; empty where nothing was written)'
  for (let fault: string | undefined; ; ) {
    const typed = (yield { part, ask, fault }).trim()
    if (typed === '' || typed === OPEN) return undefined
    const day = typed === 'today' ? today : typed === 'yesterday' ? addDays(today, -1) : typed
    const read = newEntry(evidenceKind('keyed')!, [cell('date', day)])
    if (read.ok && day <= today) return day
    fault = read.ok ? `${day} is still to come.` : read.reason
  }
}

/** The cells of an entry; undefined where none of what is to be read was. */
function* cellsOf(
  part: string,
  kind: EvidenceKind,
  known: readonly Given[],
  columns: readonly Column[],
): Asking<readonly Given[] | undefined> {
  const given = [...known]
  let isRead = false
  for (const column of columns) {
    const { key, ask, unit, proposed, words } = column
    const choices = column.choices ?? wordsOf(kind, key)
    const isNeeded = kind.entry.required.includes(key.split('.')[0]!)
    for (let fault: string | undefined; ; ) {
      const asks = `${ask}${unit === undefined || words !== undefined ? '' : ` (${unit})`}`
      const typed = (yield { part, ask: asks, proposed, choices, fault }).trim() || (proposed ?? OPEN)
      if (typed === OPEN) {
        // Without what it is about there is no reading, and nothing more to ask of it.
        if (isNeeded) return undefined
        break
      }
      const [text, own] = apart(words?.[typed] ?? typed)
      const next = cell(key, unit === undefined ? (words?.[typed] ?? typed) : text, unit && (own ?? unit))
      const isKnown = choices === undefined || choices.includes(words?.[typed] ?? typed)
      const read = newEntry(kind, [...given, next], true)
      if (isKnown && read.ok) {
        given.push(next)
        isRead ||= proposed === undefined && key !== 'by'
        break
      }
      fault = read.ok ? `'${typed}' is none of ${choices!.join(', ')}.` : read.reason
    }
  }
  return isRead ? given : undefined
}

/** What the format takes there, where it takes some words alone. */
function wordsOf(kind: EvidenceKind, key: string): readonly string[] | undefined {
  const schema = cellSchema(kind, key)
  const [type] = schema?.kind === 'leaf' ? schema.accepts : []
  return type?.type === 'choice' ? type.values.map(({ value }) => value) : undefined
}

function* chosen(question: SheetQuestion & { readonly choices: readonly string[]; readonly proposed: string }): Asking<string> {
  for (let fault: string | undefined; ; ) {
    const typed = (yield { ...question, fault }).trim() || question.proposed
    if (question.choices.includes(typed)) return typed
    fault = `'${typed}' is none of ${question.choices.join(', ')}.`
  }
}

/** Puts an entry into the draft, under the state that somebody says it was made in; what was added, in words. */
function* add(
  draft: LiveDocument<'media'>,
  setup: Setup,
  part: string,
  kind: EvidenceKind,
  given: readonly Given[],
): Asking<readonly string[]> {
  const plain = newEntry(kind, given)
  if (!plain.ok) return yield* refused(part, plain.reason)
  const standing =
    kind.form === 'list' ? new HeldEvidence(kind, entriesOf(draft, kind), false).standing(plain.made.entry, 0) : undefined
  if (standing && standing.is !== 'new') {
    const ask = `The profile has such a reading already${standing.is === 'differs' ? ` (${standing.how})` : ''}. Is this another one?`
    if ((yield* chosen({ part, ask, proposed: 'no', choices: YES_NO })) === 'no') return []
  }
  const state = kind.entry.properties.has('under') ? yield* stateOf(draft, setup, part) : undefined
  const whole = newEntry(kind, [...given, ...(state ? [cell('under', state.name)] : [])])
  if (!whole.ok) return yield* refused(part, whole.reason)
  const { entry, flow, lines } = whole.made
  const { before, edit } = placedEdit(draft, kind, { flow, lines, date: given[0]!.text })
  if (!edit.ok) return yield* refused(part, edit.refused)
  const edits = joined([...before, ...edit.edits, ...(state?.edits ?? [])])
  const after = new LiveDocument(draft.file, 'media', applyEdits(draft.text, editsOf(draft.text, edits)))
  // One that a profile has once takes the place of the one before, which stays as a comment.
  const kept = evidenceIn(draft).filter((one) => kind.form === 'list' || one.kind !== kind)
  if (after.tree.problems.length > 0 || !isSame(evidenceIn(after), [...kept, entry]))
    return yield* refused(part, 'It cannot be added here without changing something else.')
  draft.update(after.text)
  return [`${kind.name} ${flow}`]
}

/** The state that it was made in, where one of those that the profile and the read-backs tell is said to be it. */
function* stateOf(draft: LiveDocument<'media'>, setup: Setup, part: string) {
  const states = proposedStates(setup).flatMap(({ words, fields, from }) => {
    const added = addState(draft, setup, fields, from)
    return added.ok ? [{ ...added, text: `${words}: ${stateText(fields, from)}` }] : []
  })
  if (states.length === 0) return undefined
  const names = states.map((_, i) => (states.length === 1 ? 'yes' : String(i + 1)))
  const ask = `Was it made under these settings? ${states.map(({ text }, i) => (states.length === 1 ? text : `${i + 1} ${text}`)).join(' ')}`
  const answer = yield* chosen({ part, ask, proposed: names[0]!, choices: [...names, 'no'] })
  return states[names.indexOf(answer)]
}

/** Nothing is added, and the person hears why before going on. */
function* refused(part: string, reason: string): Asking<readonly string[]> {
  yield { part, ask: 'Not taken: Enter goes on without it', fault: reason }
  return []
}
