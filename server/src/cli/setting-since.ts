// `rollbook since`: since when a setting is as it is, by which commit, and what evidence rests on it. Through renames, bases and the printer: a level is seen
// as what the printer makes of it.
import { basename } from 'node:path'
import { feedOf } from '../areas/feed/facts.ts'
import { askedText } from '../areas/feed/words.ts'
import { keyedOf } from '../areas/machine/read-back.ts'
import { nearest } from '../base/nearest.ts'
import type { Commit } from '../host/revisions.ts'
import { settingCells } from '../model/evidence.ts'
import type { MediaDocument } from '../model/generated/documents.ts'
import { sameValue, writtenText } from '../model/setting.ts'
import { isSetting, type SettingMeaning, settingMeaning } from '../model/setting-meaning.ts'
import type { Setup } from '../model/setup.ts'
import { type MadeUnder, madeUnder } from '../model/state-evidence.ts'
import { evidenceWords } from '../model/state-words.ts'
import { sameMeaning, statesOf, stateValue } from '../model/states.ts'
import { VERSION } from '../version.ts'
import { tellTroubles } from './bench.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { lineOf } from './moment.ts'
import { type Options, seeHelp } from './options.ts'
import { profileOf } from './profile.ts'
import { type Stand, standsOf } from './stands.ts'
import { printable } from './terminal.ts'

/** A change of what a setting is, or of what it means: the commit, and what it was before; undefined where nothing gave it. */
interface Change {
  readonly commit: Commit
  readonly before: SettingMeaning | undefined
  /** Whether the profile itself came with that commit. */
  readonly first: boolean
}

export async function since(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const [profile, key, ...others] = options.positionals
  if (profile === undefined || key === undefined || others.length > 0)
    throw new CannotRun(`rollbook since takes a profile and a setting, as in 'rollbook since banner suction'.${seeHelp('since')}`)
  const named = { ...options, positionals: [profile] }
  const { bench, shown, setup, notChecked } = await profileOf(cli, named, at, {
    command: 'since',
    holds: 'settings',
    doing: 'reading',
  })
  demandSetting(setup, key)
  at(`looking through git for ${key}`)
  const line = await lineOf(cli)
  const now = settingMeaning(setup, key)
  const { committed, setting, meaning, stand } = await changesOf(standsOf(cli, line, setup.file), setup, key)
  if (!committed) throw new CannotRun(`${shown} is not kept in git yet: nothing tells since when its settings are as they are.`)
  const under = evidenceUnder(setup, key, now)
  const asked = key === 'feed.correction' && setting && stand ? askedThen(stand, setting.commit.day) : undefined
  const lines = [
    nowText(setup, key, now),
    ...(setting ? [sinceText(setup, key, setting)] : ['That is not committed yet: in the newest commit it is another.']),
    ...(meaning ? [meaningText(setup, key, now!, meaning)] : []),
    ...(asked === undefined ? [] : [`By the evidence of that day ${asked}.`]),
    under.made.length > 0
      ? `Made with it: ${evidenceWords(under.made)}.`
      : 'Nothing that was measured says that it was made with it.',
    ...under.read,
  ]
  if (options.has('json')) {
    const of = (change: Change | undefined): object | null =>
      change
        ? {
            date: change.commit.day,
            commit: change.commit.id,
            subject: change.commit.subject,
            before: change.before ? { text: change.before.text, real: change.before.real ?? null } : null,
            withProfile: change.first,
          }
        : null
    const made = under.made.map(({ kind, date }) => ({ kind: kind.name, date: date?.value ?? null }))
    const value = now ? { text: now.text, real: now.real ?? null, from: fromWhom(setup, now) ?? null } : null
    cli.out(
      `${JSON.stringify({ version: VERSION, file: shown, profile: setup.own.profile?.value ?? null, setting: key, value, since: of(setting), meaningSince: of(meaning), evidence: made, text: lines, notChecked }, null, 2)}\n`,
    )
  } else cli.out(`${lines.map(printable).join('\n')}\n`)
  tellTroubles(cli, bench)
  if (notChecked.length > 0) return EXIT.failed
  return setting ? EXIT.clean : EXIT.findings
}

function demandSetting(setup: Setup, key: string): void {
  if (isSetting(key)) return
  const meant = nearest(key, [...new Set(settingCells(setup.profile).map((cell) => cell.key))])
  throw new CannotRun(
    `There is no setting '${key}'.${meant === undefined ? ' Give its keys joined by dots, as heat.after; those of the stock and the printer begin with stock. or printer.' : ` Do you mean '${meant}'?`}`,
  )
}

interface Changes {
  readonly committed: boolean
  /** The newest change of the setting; undefined where it is not committed as it is. */
  readonly setting: Change | undefined
  /** A newer change of what it means at the machine. */
  readonly meaning: Change | undefined
  /** The profile as the change left it. */
  readonly stand: Stand | undefined
}

/** Walks back until the setting was another one. */
async function changesOf(stands: AsyncGenerator<Stand>, setup: Setup, key: string): Promise<Changes> {
  const now = settingMeaning(setup, key)
  let after: Stand | undefined
  let meaning: Change | undefined
  for await (const stand of stands) {
    const then = stand.on(stand.commit.day)
    // Of a text that could not be read nothing is known; what it was is told by the one before it.
    if (!then) continue
    const value = settingMeaning(then, key)
    if (!same(now, value, 'either')) {
      if (!after) return { committed: true, setting: undefined, meaning: undefined, stand: undefined }
      return { committed: true, setting: { commit: after.commit, before: value, first: false }, meaning, stand: after }
    }
    if (after && !meaning && !same(now, value, 'meaning')) meaning = { commit: after.commit, before: value, first: false }
    after = stand
  }
  if (!after) return { committed: false, setting: undefined, meaning: undefined, stand: undefined }
  return { committed: true, setting: { commit: after.commit, before: undefined, first: true }, meaning, stand: after }
}

const same = (a: SettingMeaning | undefined, b: SettingMeaning | undefined, by: 'either' | 'meaning'): boolean =>
  a === undefined || b === undefined ? a === b : a.meaning === b.meaning || (by === 'either' && a.word === b.word)

const withReal = ({ text, real }: SettingMeaning): string => (real === undefined ? text : `${text} (${real})`)

function fromWhom(setup: Setup, { field }: SettingMeaning): string | undefined {
  const { file } = field.place
  if (file === setup.file) return undefined
  return setup.bases.find((base) => base.file === file)?.content?.profile?.value ?? basename(file).replace(/\.\w+\.yaml$/, '')
}

function nowText(setup: Setup, key: string, now: SettingMeaning | undefined): string {
  const name = setup.own.profile?.value ?? 'the profile'
  if (!now) return `${key} of ${name} is not given.`
  const from = fromWhom(setup, now)
  return `${key} of ${name} is ${withReal(now)}${from === undefined ? '' : `, from ${from}`}.`
}

const byCommit = ({ short, subject }: Commit): string => `by commit ${short} (${subject})`

function sinceText(setup: Setup, key: string, { commit, before, first }: Change): string {
  const when = `Since ${commit.day}, ${byCommit(commit)}`
  if (first) return `${when}: ${setup.own.profile?.value ?? 'the profile'} came with it.`
  return before ? `${when}: before, ${key} was ${withReal(before)}.` : `${when}: before, nothing gave it.`
}

const meaningText = ({ profile }: Setup, key: string, now: SettingMeaning, { commit, before }: Change): string =>
  `${key} ${now.text} means ${now.real ?? 'what it does'} at ${profile.printer?.value ?? 'the printer'} since ${commit.day}, ${byCommit(commit)}: before, ${before?.real ?? 'the printer did not describe it'}.`

interface Under {
  readonly made: readonly MadeUnder[]
  readonly read: readonly string[]
}

/** What was measured with the setting as it is, and what was read back of it. */
function evidenceUnder(setup: Setup, key: string, now: SettingMeaning | undefined): Under {
  if (!now) return { made: [], read: [] }
  const states = statesOf(setup)
  const with_ = (one: MadeUnder): boolean => {
    if (key === 'feed.correction') return appliedIn(setup.own, one, now)
    const state = one.under && states.get(one.under.value)
    const then = state && stateValue(state, key)
    return then !== undefined && sameMeaning(setup.printer, key, then.value, now.field.value)
  }
  const read = keyedOf(setup)
    .filter(({ path }) => path.join('.') === key)
    .map(({ keyed, date, same: agrees }) => {
      const when = date ? ` on ${date.value}` : ''
      return agrees === false
        ? `The machine had ${writtenText(keyed)} when it was read back${when}: another one.`
        : `It was read back from the machine${when}.`
    })
  return { made: madeUnder(setup.own).filter(with_), read }
}

/** Of a correction: what was printed with it. */
function appliedIn({ feed }: MediaDocument, { path }: MadeUnder, now: SettingMeaning): boolean {
  const [, list, i] = path
  const entry = list === 'checks' ? feed?.checks?.items[Number(i)] : list === 'fine' ? feed?.fine : undefined
  return entry?.applied !== undefined && sameValue(entry.applied.value, now.field.value)
}

/** What the evidence of the day asked for. */
function askedThen(stand: Stand, day: string): string | undefined {
  const then = stand.on(day)
  const facts = then && feedOf(then)
  return facts?.reckoning?.wanted && askedText(facts, facts.reckoning.wanted)
}
