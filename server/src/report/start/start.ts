// Starts a profile: every setting a printer has for a stock it has not run yet, each computed, taken from the nearest proven profile, or said to be a
// guess, and the test prints that will prove it. Pure: documents and setups in, a text out.

import { cautionsOf } from '../../model/cautions.ts'
import { LiveDocument } from '../../model/document.ts'
import { isOutOfUse } from '../../model/facts.ts'
import type { PrinterDocument } from '../../model/generated/documents.ts'
import { openSettings } from '../../model/open-settings.ts'
import { retiredOf, retiredText } from '../../model/retired.ts'
import { sameValue, settingAt, writtenText } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import { resolveSetup } from '../../model/setup.ts'
import type { Shelf } from '../../model/shelf.ts'
import type { Severity } from '../../rules/rule.ts'
import { runRules } from '../../rules/run.ts'
import { keysOf } from '../../schema/schema.ts'
import { type Chosen, chosen, computed, taken, typical } from './chosen.ts'
import { Draft } from './draft.ts'
import { carriedFrom, gapLike } from './like.ts'
import { type Neighbour, nearness, neighbours } from './nearest.ts'
import { impossible, modeFor } from './pairing.ts'
import { testPrints } from './prints.ts'
import { startersInOrder } from './starter.ts'
import { profileText, valueText } from './write.ts'

export interface StartRequest {
  /** Of the shop; the stock, the printer and the shop's own document are at hand in it. */
  readonly shelf: Shelf
  /** The file the profile will be: its name is the id. */
  readonly file: string
  readonly id: string
  /** Ids that exist. */
  readonly stock: string
  readonly printer: string
  /** The one most used on the printer where not given. */
  readonly mode?: string | undefined
  /** The shop's profiles on the same printer. */
  readonly others: readonly Setup[]
  /** A profile of the same stock, whose settings are carried here as far as that is safe. */
  readonly like?: Setup | undefined
  readonly severities?: ReadonlyMap<string, Severity | 'ignore'>
  /** YYYY-MM-DD. */
  readonly today: string
}

export interface Started {
  readonly ok: true
  readonly text: string
  readonly mode: string
  /** What a person must know before the first print: findings the profile has beyond those every unproven one has, and limits that were met. */
  readonly problems: readonly string[]
  readonly testPrints: readonly string[]
}

export type Start = Started | { readonly ok: false; readonly refused: string }

/** Findings that a profile without a test print has by right. */
export const HONEST: ReadonlySet<string> = new Set(['feed-unproven', 'alignment-missing'])

export function startProfile(request: StartRequest): Start {
  const { id, stock, printer, shelf } = request
  const draft = new Draft(request)
  draft.set(chosen('profile', id, ''), chosen('stock', stock, ''), chosen('printer', printer, ''))
  const bare = draft.setup()
  if (!bare.stock) return { ok: false, refused: `The document of the stock ${stock} cannot be read.` }
  if (!bare.printer) return { ok: false, refused: `The document of the printer ${printer} cannot be read.` }
  const mode = modeFor(bare, shelf, request.mode ?? (request.like && modeLike(bare, request.like)))
  if ('refused' in mode) return { ok: false, refused: mode.refused }
  const refused = impossible(bare)
  if (refused !== undefined) return { ok: false, refused }
  draft.set(
    chosen('title', valueText(`${bare.stock.title?.value ?? stock} on ${printer}`), ''),
    chosen('mode', mode.mode, mode.why),
  )
  const [near] = neighbours(draft.setup(), request.others)
  const {
    draft: whole,
    problems,
    notes,
  } = request.like ? chooseLike(draft, request.like, request, near) : chooseFresh(draft, request, near)
  const retired = retiredOf(bare)
  if (retired) problems.push(`${stock} is out of use, ${retiredText({ ...retired, what: 'profile' })}: start on what is in use.`)
  const prints = testPrints(whole.setup())
  const text = profileText(whole.chosen, headOf(request, mode.mode, near, prints, whole.setup(), notes))
  problems.push(...findingsOf(request, text))
  return { ok: true, text, mode: mode.mode, problems, testPrints: prints }
}

interface WholeDraft {
  readonly draft: Draft
  readonly problems: string[]
  /** For the head of the profile. */
  readonly notes: readonly string[]
}

function chooseFresh(draft: Draft, request: StartRequest, near: Neighbour | undefined): WholeDraft {
  const problems: string[] = []
  chooseAll(draft, request, near, problems)
  return { draft, problems, notes: [] }
}

/** What is carried is settled, and the rest is chosen beside it. The gap is the higher one of the other profile's and what this machine needs. */
function chooseLike(draft: Draft, like: Setup, request: StartRequest, near: Neighbour | undefined): WholeDraft {
  const { settings, notes } = carriedFrom(draft, like)
  const beside = (more: readonly Chosen[]): WholeDraft => ({
    ...chooseFresh(new Draft(request, [...draft.chosen, ...settings, ...more]), request, near),
    notes,
  })
  const whole = beside([])
  const now = whole.draft.setup()
  const gap = gapLike(now, like)
  if (gap) return (now.profile.gap?.value.si ?? 0) < like.profile.gap!.value.si - 1e-9 ? beside([gap]) : whole
  const least = like.profile.gap
  if (least && now.printer?.carriage?.gaps)
    whole.problems.push(`No gap of ${request.printer} is as high as the ${writtenText(least)} of ${like.own.profile?.value}.`)
  return whole
}

/**
 * The settings that a profile leaves open, as a started one would have them: each is chosen beside those that the profile gives or takes
 * from a base. Empty where the stock cannot run on the printer, or one of the two cannot be read.
 */
export function fillOpenSettings(setup: Setup, request: StartRequest): readonly Chosen[] {
  const { printer, profile } = setup
  if (!printer || !setup.stock || impossible(setup) !== undefined) return []
  const open = openSettings(printer, profile)
  const given = GIVEN.flatMap((path) => {
    const value = settingAt(profile, path.split('.'))
    return value ? [chosen(path, writtenText(value), '')] : []
  })
  const draft = new Draft(request, given)
  const [near] = neighbours(draft.setup(), request.others)
  chooseAll(draft, request, near, [])
  return draft.chosen.filter(({ path }) => open.includes(path.join('.')))
}

/** What a choice may stand on. */
const GIVEN: readonly string[] = keysOf('media').filter((path) => {
  const [first = ''] = path.split('.')
  return path === 'profile' || !['title', 'base', 'keyed', 'observed', 'notes', 'alignment'].includes(first)
})

/** Each choice stands on those before it: drying on heat, heat on nothing but the near, the gap on the suction there would be. */
function chooseAll(draft: Draft, request: StartRequest, near: Neighbour | undefined, problems: string[]): void {
  draft.set(chooseSlot(draft, request, problems))
  draft.set(...chooseCarriage(draft))
  for (const { choose } of startersInOrder()) draft.set(...choose(draft, near, problems))
  draft.set(chooseInk(near))
}

/** The mode of the printer that prints as the other profile's does: by its name, or as fine in as many passes. */
function modeLike({ printer }: Setup, { mode, profile }: Setup): string | undefined {
  const alike = [...(printer?.modes?.entries ?? [])].filter(([, one]) => {
    const [a, b] = [one.resolution?.value, mode?.resolution?.value]
    return (
      a !== undefined && b !== undefined && sameValue(a, b) && a.second === b.second && one.passes?.value === mode?.passes?.value
    )
  })
  return (alike.find(([name]) => name === profile.mode?.value) ?? alike[0])?.[0]
}

/** More places than any machine has need not be looked through. */
const MAX_SLOTS = 1000

function chooseSlot(draft: Draft, { shelf, printer, file, today }: StartRequest, problems: string[]): Chosen | undefined {
  const count = draft.setup().printer?.slots?.value
  if (count === undefined) return undefined
  for (let slot = 1; slot <= Math.min(count, MAX_SLOTS); slot++)
    if (shelf.withSlot(printer, String(slot)).every((facts) => facts.file === file || isOutOfUse(facts, today)))
      return chosen('slot', String(slot), computed(`the first memory place of ${printer} that no profile claims.`))
  problems.push(`No memory place of ${printer} is free: each of its ${count} is claimed by a profile.`)
  return undefined
}

function chooseCarriage(draft: Draft): readonly Chosen[] {
  if (!draft.setup().printer?.carriage) return []
  return [
    chosen('carriage.turn-at', 'print-edge', typical('the carriage turns at the edge of the print.')),
    chosen('carriage.strikes', '1', typical('every dot once; more only where density is lacking.')),
  ]
}

/** The ink limit belongs to the stock: it is borrowed within a family only. */
function chooseInk(near: Neighbour | undefined): Chosen | undefined {
  const own = near?.setup.profile.colour?.['ink-limit']?.value
  if (!near || !own || near.apart > 0) return undefined
  const text = `${own.written} ${own.unit.id}`
  return chosen(
    'colour.ink-limit',
    text,
    taken(near.id, 'too much pools or cockles, so find the limit of this stock by a series of solids.'),
  )
}

function headOf(
  { stock, printer, today, like }: StartRequest,
  mode: string,
  near: Neighbour | undefined,
  prints: readonly string[],
  setup: Setup,
  notes: readonly string[],
): readonly string[] {
  const machine = setup.printer
  const from = near
    ? `Nearest stock with a proven feed on ${printer}: ${near.setup.profile.stock?.value} (profile ${near.id}), ${nearness(near)}.`
    : `No profile on ${printer} has a proven feed yet, so nothing is taken over from another.`
  return [
    `Started on ${today}: ${stock} on ${printer} in ${mode}. No number here is proven by a print yet.`,
    `"Computed" follows from the documents. "Taken from" runs on another profile of this printer${like ? `, or is carried from ${like.own.profile?.value}` : ''}. "Typical" is usual in the trade. "To be measured" is only a place to begin.`,
    from,
    ...(like
      ? [`Like ${like.own.profile?.value} on ${like.profile.printer?.value}, carried to the safe side by what the web feels.`]
      : []),
    ...notes,
    ...lacking(printer, machine),
    '',
    'Test prints to make first, in this order:',
    ...prints.map((print, i) => `  ${i + 1}. ${print}`),
    '',
    "Caution: hot parts, a moving carriage and web, vapour and static. The machine's and the material's own safety documents and local codes come first; stay by the machine for the first prints.",
    ...cautionsOf(setup).map((caution) => `  - ${caution}`),
  ]
}

/** What a machine may have and its document says nothing of: silence is not a judgement. */
function lacking(printer: string, machine: PrinterDocument | undefined): readonly string[] {
  const given: Readonly<Record<string, unknown>> = {
    'carriage, gaps': machine?.carriage?.gaps,
    feed: machine?.feed,
    alignment: machine?.alignment,
    heaters: machine?.heaters,
    'drying, pause-range': machine?.drying?.['pause-range'],
    'drying, run-out-range': machine?.drying?.['run-out-range'],
    suction: machine?.suction,
    web: machine?.web,
  }
  const missing = Object.keys(given).filter((key) => given[key] === undefined)
  if (missing.length === 0) return []
  return [
    `The document of ${printer} says nothing of: ${missing.join('; ')}. For these nothing is chosen or checked here: where the machine has them, write them in.`,
  ]
}

/** Errors and warnings of the finished text that not every unproven profile has. */
function findingsOf({ shelf, file, today, severities }: StartRequest, text: string): readonly string[] {
  const document = new LiveDocument(file, 'media', text)
  const setup = resolveSetup(document, shelf, today)
  const found = runRules({ document, setup, shelf, today, ...(severities && { severities }) })
  return found.filter((f) => f.severity !== 'hint' && !HONEST.has(f.code)).map((f) => f.message)
}
