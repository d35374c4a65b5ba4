// A change set as passages of text, lists and tables, in the order in which a person has to know: what could not be judged, what may hurt somebody,
// what makes a wrong length, what looks wrong, what to print and to key in. Every face writes the same page.
import type { Block } from '../report/page.ts'
import type { Cause, Change, ChangeSet, Consequence, DocumentChange, DocumentRef, Inherited, ToldFinding } from './change-set.ts'
import { LEVEL_WORDS, LEVELS } from './levels.ts'

/** Where a line of the page leads, for a face that has links. */
export interface At {
  /** The words at the beginning of the line, or of its first cell, that lead there. */
  readonly words: string
  /** Path from the folder compared. */
  readonly file: string
  /** From 1, of the later version. */
  readonly line?: number
  /** Where the document is told of as a whole: its path in the earlier version, undefined for a new one. */
  readonly whole?: { readonly before: string | undefined }
}

/** `at` goes with the lines or rows. */
export type PlacedBlock = Block & { readonly at?: readonly (At | undefined)[] }

export interface Section {
  readonly heading: string
  readonly blocks: readonly PlacedBlock[]
}

export interface Page {
  readonly title: string
  readonly summary: readonly string[]
  readonly sections: readonly Section[]
}

export interface PageOptions {
  /** Whether also told what is the same and written anew, what moves by less than is shown, and every setting of a document that is new. */
  readonly all: boolean
  /** What a reader does to be told of it too. */
  readonly more?: string
}

const many = (n: number, word: string, several = `${word}s`): string => `${n} ${n === 1 ? word : several}`

export function pageOf(set: ChangeSet, { all, more = "'rollbook review --all'" }: PageOptions): Page {
  const sections: Section[] = []
  const add = (heading: string, ...blocks: readonly (PlacedBlock | undefined)[]): void => {
    const there = blocks.filter((block) => block !== undefined)
    if (there.length > 0) sections.push({ heading, blocks: there })
  }
  add('Not compared', items(set.notCompared))
  add('What changed', items(set.documents.map(documentText), set.documents.map(documentAt)))
  for (const level of LEVELS) {
    const [heading, reason] = LEVEL_WORDS[level]
    const blocks = [
      settingsTable(set, (change) => change.level === level, all),
      consequencesTable(set, (one) => one.level === level, all),
      findingItems(set.findings.filter((one) => one.level === level && one.course === 'begins' && !one.accepted)),
    ]
    if (blocks.some((block) => block !== undefined)) add(heading, { kind: 'lines', lines: [reason] }, ...blocks)
  }
  add('What the evidence proves now', standingsTable(set), items(todoOf(set)))
  add('To key in, once this is taken over', keyInTable(set))
  add('Accepted in the documents', findingItems(set.findings.filter(({ course, accepted }) => course !== 'ends' && accepted)))
  add('Findings that end', findingItems(set.findings.filter(({ course }) => course === 'ends')))
  add('The same, written anew', items(anewOf(set, all ? undefined : more)))
  const title = `Review of ${set.before} → ${set.after}, as on ${set.date}`
  return { title: plain(title), summary: summaryOf(set).map(plain), sections: sections.map(plainSection) }
}

/** On one line, and nothing in it that could steer a terminal. */
const plain = (text: string): string => text.replace(/\s+/g, ' ').replace(/\p{Cc}/gu, '\ufffd')

const plainSection = ({ heading, blocks }: Section): Section => ({
  heading,
  blocks: blocks.map((block) => ({
    ...(block.kind === 'table'
      ? { kind: 'table', header: block.header, rows: block.rows.map((row) => row.map(plain)) }
      : { kind: block.kind, lines: block.lines.map(plain) }),
    ...(block.at && { at: block.at.map((at) => at && { ...at, words: plain(at.words) }) }),
  })),
})

/** The totals, always, and what is to be done. */
export function summaryOf(set: ChangeSet): readonly string[] {
  const { compared, changed, untouched, notCompared } = set.totals
  const rest = compared - changed
  const count = (course: ToldFinding['course']): number => set.findings.filter((one) => one.course === course).length
  const held = set.findings.filter(({ course, accepted }) => course !== 'ends' && accepted).length
  const opened = openedOf(set)
  const machines = new Set(set.keyIn.map(({ printer, slot }) => `${printer} ${slot}`))
  const missed =
    notCompared > 0 ? ` ${many(notCompared, 'thing')} could not be compared, and may change more than is told here.` : ''
  const totals =
    compared === 0
      ? `No document differs${notCompared > 0 ? ' of those that could be read' : ''}; ${many(untouched, 'document is', 'documents are')} as before.`
      : `${many(compared, 'document')} compared: ${changed} changed, ${rest} ${rest === 1 ? 'rests' : 'rest'} on what changed; ${untouched} others are as before.`
  return [
    totals + missed,
    ...(compared > 0
      ? [
          opened.length > 0
            ? `Lengths to prove again: ${named(opened)}.`
            : `No length that was proven ${notCompared > 0 ? 'and could be compared ' : ''}has to be proven again; of other evidence the findings tell.`,
          `Findings: ${count('begins')} begin, ${count('ends')} end, ${count('stays')} stay.${held > 0 ? ` Of these ${many(held, 'is', 'are')} accepted in the documents.` : ''}`,
        ]
      : []),
    ...(set.keyIn.length > 0 ? [`To key in: ${many(set.keyIn.length, 'setting')} in ${many(machines.size, 'slot')}.`] : []),
  ]
}

/** What is to be done, in so few words that they stand in one line above a text. No more is said than was compared. */
export function shortOf(set: ChangeSet): string {
  const opened = openedOf(set).length
  const todo = set.keyIn.filter(({ there }) => !there).length
  const begin = set.findings.filter(
    ({ course, accepted, severity, due }) => course === 'begins' && !accepted && !due && severity !== 'hint',
  ).length
  const parts = [
    todo > 0 ? `${todo} to key in` : 'nothing to key in',
    `${opened > 0 ? many(opened, 'length') : 'no proven length'} to prove again`,
    ...(begin > 0 ? [`${many(begin, 'finding')} more`] : []),
    ...(set.totals.notCompared > 0 ? ['not all could be compared'] : []),
  ]
  return parts.join(', ')
}

/** The profiles of which something was good enough and is not known to be any more. */
export const openedOf = (set: ChangeSet): readonly string[] =>
  set.profiles.filter(({ standings }) => standings.some(({ opens }) => opens)).map(({ profile }) => profile)

const NAMES = 6

/** Names, and how many more there are. */
const named = (names: readonly string[]): string =>
  names.length <= NAMES
    ? names.join(', ')
    : `${names.slice(0, NAMES).join(', ')} and ${names.length - NAMES} more (JSON names them)`

const items = (lines: readonly string[], at?: readonly (At | undefined)[]): PlacedBlock | undefined =>
  lines.length > 0 ? { kind: 'items', lines, ...(at && { at }) } : undefined

const findingItems = (findings: readonly ToldFinding[]): PlacedBlock | undefined =>
  items(findings.map(findingText), findings.map(findingAt))

interface Row {
  readonly cells: readonly string[]
  readonly at: At | undefined
}

const table = (header: readonly string[], rows: readonly (readonly string[])[]): Block | undefined =>
  rows.length > 0 ? { kind: 'table', header, rows } : undefined

const placedTable = (header: readonly string[], rows: readonly Row[]): PlacedBlock | undefined =>
  rows.length > 0 ? { kind: 'table', header, rows: rows.map(({ cells }) => cells), at: rows.map(({ at }) => at) } : undefined

/** A row that speaks of one profile leads to it. */
const profileRow = (cells: readonly string[], files: readonly string[]): Row => ({
  cells,
  at: files.length === 1 ? { words: cells[0]!, file: files[0]! } : undefined,
})

const KIND_WORDS: Readonly<Record<DocumentRef['kind'], string>> = {
  media: 'profile',
  stock: 'stock',
  printer: 'printer',
  shop: 'shop',
}

const refText = ({ kind, id }: DocumentRef): string => `${KIND_WORDS[kind]} ${id}`

const HOW: Readonly<Record<DocumentChange['how'], string>> = {
  added: 'new',
  removed: 'gone',
  changed: 'changed',
  same: 'the same as before',
}

function documentText({ document, how, file, fileBefore, changes, form, reaches }: DocumentChange): string {
  const count = (what: Change['what']): number => changes.filter((change) => change.what === what).length
  const parts = [
    ...(count('setting') > 0 ? [many(count('setting'), 'setting')] : []),
    ...(count('evidence') > 0 ? [many(count('evidence'), 'piece of evidence', 'pieces of evidence')] : []),
    ...(count('state') > 0 ? [`${count('state')} of its states`] : []),
    ...(count('words') > 0 ? [many(count('words'), 'note')] : []),
    ...(form.rewritten.length > 0 ? [`${form.rewritten.length} written anew with the same value`] : []),
    ...(form.order ? ['order'] : []),
    ...(form.comments ? ['comments'] : []),
    ...(form.layout ? ['layout'] : []),
  ]
  const moved = fileBefore === undefined ? '' : `, moved from ${fileBefore}`
  const on = reaches.length > 0 ? ` ${many(reaches.length, 'profile rests', 'profiles rest')} on it: ${named(reaches)}.` : ''
  return `${refText(document)} (${file}) is ${HOW[how]}${moved}${parts.length > 0 ? `: ${parts.join(', ')}` : ''}.${on}`
}

function documentAt({ document, file, fileBefore, how }: DocumentChange): At {
  return { words: refText(document), file, whole: { before: how === 'added' ? undefined : (fileBefore ?? file) } }
}

/** Of a new document or one that is gone the settings are counted, and told on request. */
function settingsTable(set: ChangeSet, wanted: (change: Change) => boolean, all: boolean): PlacedBlock | undefined {
  const own = set.documents.flatMap(({ document, how, file, changes }) =>
    all || how === 'changed'
      ? changes.filter(wanted).map((change): Row => {
          const { line } = change.after?.from ? {} : (change.after ?? {})
          const at = { words: refText(document), file, ...(line !== undefined && { line }) }
          return { cells: rowOf(refText(document), change), at }
        })
      : [],
  )
  const groups = new Groups()
  for (const { profile, file, inherited } of set.profiles)
    for (const one of inherited.filter(wanted))
      groups.add([...rowOf('', one).slice(1, 5), causeText(one.cause, profile, set)], profile, file)
  const taken = groups.rows((profiles) => `profile ${named(profiles)}`)
  return placedTable(
    ['In', 'Setting', 'Before', 'After', 'By', ...(taken.length > 0 ? ['From'] : [])],
    [...own.map(({ cells, at }) => ({ cells: taken.length > 0 ? [...cells, ''] : cells, at })), ...taken],
  )
}

/** One row for all profiles of which the same is told. */
class Groups {
  private readonly groups = new Map<string, { readonly cells: readonly string[]; readonly files: Map<string, string> }>()

  add(cells: readonly string[], profile: string, file: string): void {
    const key = cells.join('\n')
    const group = this.groups.get(key) ?? { cells, files: new Map<string, string>() }
    if (!group.files.has(profile)) group.files.set(profile, file)
    this.groups.set(key, group)
  }

  rows(title: (profiles: readonly string[]) => string): readonly Row[] {
    return [...this.groups.values()].map(({ cells, files }) =>
      profileRow([title([...files.keys()]), ...cells], [...files.values()]),
    )
  }
}

function rowOf(where: string, { path, before, after, size, what }: Change | Inherited): readonly string[] {
  const text = (side: Change['before']): string =>
    side === undefined
      ? '–'
      : `${side.text}${side.real === undefined ? '' : ` (${side.real})`}${side.from ? `, of ${side.from.id}` : ''}`
  const told = what === 'evidence' && !before ? 'measured' : what === 'evidence' && !after ? 'taken out' : (size ?? '')
  return [where, path, text(before), text(after), told]
}

/** A profile's own key is named by itself where nothing else rests on the profile: else rows of several profiles are one. */
function causeText({ document, path }: Cause, profile: string, { documents }: ChangeSet): string {
  const alone = !documents.some((one) => one.document.id === profile && one.document.kind === 'media' && one.reaches.length > 0)
  if (document.kind === 'media' && document.id === profile && alone) return path ?? 'itself'
  return path === undefined ? refText(document) : `${refText(document)}: ${path}`
}

const CAUSES = 4

/** One row for all profiles in which the same moves for the same reason. */
function consequencesTable(set: ChangeSet, wanted: (one: Consequence) => boolean, all: boolean): PlacedBlock | undefined {
  const groups = new Groups()
  for (const { profile, file, consequences } of set.profiles)
    for (const one of consequences.filter(wanted)) {
      if (one.slight && !all) continue
      const causes = one.causes.map((cause) => causeText(cause, profile, set))
      const because =
        causes.length <= CAUSES ? causes.join(', ') : `${causes.slice(0, CAUSES).join(', ')} and ${causes.length - CAUSES} more`
      const row = [one.title, one.before?.text ?? '–', one.after?.text ?? '–', one.difference?.text ?? '', because]
      groups.add(row, profile, file)
    }
  return placedTable(['In', 'What follows', 'Before', 'After', 'By', 'Because of'], groups.rows(named))
}

function findingText(finding: ToldFinding): string {
  const { severity, code, message, due, accepted } = finding
  const aside = accepted
    ? ` (accepted until ${accepted.until}: ${accepted.reason})`
    : due
      ? ' (work to be done; the review does not fail by it)'
      : ''
  return `${findingAt(finding).words} ${severity} ${code}${aside}: ${message}`
}

/** One that ends has no line in the later version. */
const findingAt = ({ document, file, line, course }: ToldFinding): At =>
  course === 'ends' ? { words: refText(document), file } : { words: `${file}:${line}`, file, line }

const standingsTable = (set: ChangeSet): PlacedBlock | undefined =>
  placedTable(
    ['Profile', 'Of', 'Before', 'After'],
    set.profiles.flatMap(({ profile, file, standings }) =>
      standings.map(({ kind, before, after }) => profileRow([profile, kind, before?.text ?? '–', after?.text ?? '–'], [file])),
    ),
  )

function todoOf(set: ChangeSet): readonly string[] {
  return set.profiles.flatMap(({ profile, standings, states }) => [
    ...standings.flatMap(({ after, opens, todo }) => {
      const why = after && (opens ? after.sentences : todo)
      return why && why.length > 0 ? [`${profile}: ${why.join(' ')}`] : []
    }),
    ...states.map(({ text }) => `${profile}: ${text}`),
  ])
}

const keyInTable = (set: ChangeSet): Block | undefined =>
  table(
    ['Printer', 'Slot', 'Profile', 'Setting', 'From', 'To', 'Where'],
    set.keyIn.map(({ printer, slot, profile, path, from, to, where, there }) => [
      printer,
      slot ?? '–',
      profile,
      path,
      from ?? '–',
      there ? `${to} (read back: it is there)` : to,
      where ?? '–',
    ]),
  )

/** Counted where `more` tells how to see them. */
function anewOf(set: ChangeSet, more: string | undefined): readonly string[] {
  const out = set.documents.flatMap(({ document, form }) => {
    if (form.rewritten.length === 0) return []
    if (more !== undefined) return [`${refText(document)}: ${many(form.rewritten.length, 'value')}. ${more} lists them.`]
    return form.rewritten.map(
      ({ path, before, after }) => `${refText(document)}: ${path}: ${before} → ${after}, same value written anew`,
    )
  })
  const slight = set.profiles.flatMap(({ consequences }) => consequences.filter((one) => one.slight)).length
  return slight > 0 && more !== undefined
    ? [...out, `${many(slight, 'quantity moves', 'quantities move')} by less than is shown of them. ${more} lists them.`]
    : out
}
