// `rollbook import`: evidence from a table into profiles. Nothing is written before it is asked for, nothing is made up, and every row that is not taken
// is listed with its reason.

import { LiveDocument } from '../model/document.ts'
import { type EvidenceKind, entriesOf } from '../model/evidence.ts'
import { addEvidence } from '../model/evidence-add.ts'
import { HeldEvidence, type Standing } from '../model/evidence-held.ts'
import { type NewEntry, newEntry } from '../model/evidence-new.ts'
import { type Bench, openBench, tellTroubles } from './bench.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type EvidenceRow, type EvidenceTable, evidenceTable } from './import-table.ts'
import { knownColumns } from './known-columns.ts'
import { type Options, seeHelp } from './options.ts'
import { profileFile, profileWithId } from './profile.ts'
import { many } from './report/report.ts'
import { printable } from './terminal.ts'
import { unreadOf } from './unjudged.ts'

type Line = { readonly line: number; readonly text: string }

/** What comes of the rows of one profile. */
interface Outcome {
  readonly file: string
  readonly before: string
  after: string
  readonly added: Line[]
  readonly held: Line[]
}

export async function importTable(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const bench = openBench(cli)
  at('looking for the profile')
  const into = options.word('into')
  const own = into === undefined ? undefined : await profileFile(cli, bench, into, 'evidence')
  const folder = await shopOf(bench, cli)
  const columns = await knownColumns(cli, folder, options)
  at('reading the table')
  const table = await evidenceTable(cli, options, columns.names)
  if (into === undefined && !table.rows.some(({ profile }) => profile !== undefined))
    throw new CannotRun(`Say which profile it is for: --into PROFILE, or a column 'profile' with ids.${seeHelp('import')}`)
  const refused: Line[] = table.refused.map(({ line, reason }) => ({ line, text: reason }))
  const outcomes: Outcome[] = []
  for (const [file, rows] of await byProfile(bench, folder, table.rows, own, refused)) {
    at(`adding to ${bench.shown(file)}`)
    const outcome = await outcomeOf(bench, file, rows, options.has('repeats'), refused)
    if (outcome) outcomes.push(outcome)
  }
  const write = options.has('write')
  if (write) {
    at('writing')
    // Each profile is written whole or not at all; one that cannot be keeps no other from it, and coming again recognises what is there.
    for (const outcome of outcomes) await writeOut(cli, bench, outcome, refused)
    const kept = await columns.keep()
    if (kept !== undefined) cli.err(`${printable(`What the columns are is kept in ${kept}.`)}\n`)
  }
  cli.out(textOf(bench, table, outcomes, refused, write))
  tellTroubles(cli, bench)
  if (bench.troubles.length > 0) return EXIT.failed
  return refused.length > 0 ? EXIT.findings : EXIT.clean
}

/** The folder that ids are looked up in: of the profile's shop where one is named, else of the current folder's. */
async function shopOf(bench: Bench, cli: CliHost): Promise<string> {
  const [root] = bench.roots()
  return root ?? (await bench.addShopsOf(cli.cwd, 'folder'))
}

/** Rows by the file of their profile. */
async function byProfile(
  bench: Bench,
  folder: string,
  rows: readonly EvidenceRow[],
  own: string | undefined,
  refused: Line[],
): Promise<ReadonlyMap<string, readonly EvidenceRow[]>> {
  const files = new Map<string, string | CannotRun>()
  const out = new Map<string, EvidenceRow[]>()
  for (const row of rows) {
    const { line, profile } = row
    let found: string | CannotRun | undefined = own
    if (profile !== undefined) {
      if (!files.has(profile)) files.set(profile, await profileWithId(bench, folder, profile).catch(known))
      found = files.get(profile)
    }
    if (found === undefined) refused.push({ line, text: 'it does not say whose it is, and --into names no profile' })
    else if (typeof found !== 'string') refused.push({ line, text: found.message })
    else if (own !== undefined && found !== own)
      refused.push({ line, text: `it is of '${profile}', and --into names another profile` })
    else out.set(found, [...(out.get(found) ?? []), row])
  }
  return out
}

function known(error: unknown): CannotRun {
  if (error instanceof CannotRun) return error
  throw error
}

async function outcomeOf(
  bench: Bench,
  file: string,
  rows: readonly EvidenceRow[],
  repeats: boolean,
  refused: Line[],
): Promise<Outcome | undefined> {
  const document = await bench.workspace.load(file)
  const unread = document ? unreadOf(bench, document).map(({ text }) => text) : []
  if (!document)
    unread.push(`${bench.shown(file)} cannot be read: ${bench.workspace.whyUnreadable(file) ?? 'it is no document of ours.'}`)
  if (!document || unread.length > 0) {
    for (const text of unread) bench.trouble(text)
    for (const { line } of rows) refused.push({ line, text: `${bench.shown(file)} is not read whole` })
    return undefined
  }
  const outcome: Outcome = { file, before: document.text, after: document.text, added: [], held: [] }
  const draft = new LiveDocument(file, 'media', document.text)
  bench.workspace.release(file)
  for (const kind of new Set(rows.map((row) => row.kind))) {
    const held = new HeldEvidence(kind, entriesOf(draft, kind), repeats)
    const fresh: New[] = []
    for (const { line, given } of rows.filter((row) => row.kind === kind)) {
      const read = newEntry(kind, given)
      if (!read.ok) {
        refused.push({ line, text: read.reason })
        continue
      }
      const standing = held.standing(read.made.entry, line)
      const against = whyNot(kind, standing)
      if (standing.is === 'held') outcome.held.push({ line, text: 'there already' })
      else if (against !== undefined) refused.push({ line, text: against })
      else {
        held.add(read.made.entry, line)
        fresh.push({ line, made: read.made })
      }
    }
    add(draft, kind, fresh, outcome, refused)
  }
  outcome.after = draft.text
  return outcome
}

interface New {
  readonly line: number
  readonly made: NewEntry
}

async function writeOut(cli: CliHost, bench: Bench, { file, before, after, added }: Outcome, refused: Line[]): Promise<void> {
  if (after === before) return
  try {
    await cli.rewrite(file, before, after)
  } catch (error) {
    const { message } = known(error)
    bench.trouble(message)
    for (const { line } of added.splice(0)) refused.push({ line, text: `${bench.shown(file)} is not written` })
  }
}

/** All in one where that can be; else those that can. */
function add(draft: LiveDocument<'media'>, kind: EvidenceKind, fresh: readonly New[], outcome: Outcome, refused: Line[]): void {
  if (fresh.length === 0) return
  const added = addEvidence(
    draft,
    kind,
    fresh.map(({ made }) => made),
  )
  if (added.ok) {
    draft.update(added.text)
    for (const { line, made } of fresh) outcome.added.push({ line, text: `${kind.name}: ${made.flow}` })
  } else if (fresh.length === 1) refused.push({ line: fresh[0]!.line, text: added.refused.replace(/\.$/, '') })
  else {
    const half = Math.ceil(fresh.length / 2)
    add(draft, kind, fresh.slice(0, half), outcome, refused)
    add(draft, kind, fresh.slice(half), outcome, refused)
  }
}

/** Why an entry is not added though it reads; undefined where it is. */
function whyNot({ form }: EvidenceKind, standing: Standing): string | undefined {
  if (standing.is === 'new' || standing.is === 'held') return undefined
  const again = '; if it was measured again, --repeats takes it'
  if (standing.is === 'repeat') return `it says what line ${standing.line} says${form === 'list' ? again : ''}`
  const there = standing.line === undefined ? 'it is there already' : `line ${standing.line} gives it already`
  if (form === 'list') return `${there}, otherwise: ${standing.how}${again}`
  return `${there}, and there is one of it: ${standing.how}. Take the other out first`
}

function textOf(
  bench: Bench,
  table: EvidenceTable,
  outcomes: readonly Outcome[],
  refused: readonly Line[],
  written: boolean,
): string {
  const lines: string[] = []
  const list = (mark: string, rows: readonly Line[]): void => {
    for (const { line, text } of [...rows].sort((a, b) => a.line - b.line))
      lines.push(`  ${mark} line ${line}: ${printable(text)}`)
  }
  for (const { file, added, held } of outcomes) {
    lines.push(printable(bench.shown(file)))
    list('+', added)
    list('=', held)
  }
  if (refused.length > 0) lines.push('Not taken')
  list('!', refused)
  const [added, held] = (['added', 'held'] as const).map((is) => outcomes.reduce((sum, one) => sum + one[is].length, 0))
  const sum = `${written ? `${many(added!, 'row')} added` : `${many(added!, 'row')} to add`}, ${held} there already, ${many(refused.length, 'row')} not taken${table.blank > 0 ? `, ${table.blank} left blank` : ''}.`
  const read = `${printable(table.name)} is read with a ${table.delimiter} between cells and a decimal ${table.decimal}.`
  return `${lines.join('\n')}${lines.length > 0 ? '\n\n' : ''}${read} ${sum}${written || added === 0 ? '' : ' Nothing is written yet: --write does it.'}\n`
}
