// `rollbook record`: one entry more in a list of a document: a check, a reading, a read-back, a fault, what happened to a machine, a lot.
import { LiveDocument, type RollDocument } from '../model/document.ts'
import { proposedStates } from '../model/proposed-states.ts'
import type { Setup } from '../model/setup.ts'
import { type AddedState, addState } from '../model/state-add.ts'
import { kindAt, withEntry } from '../report/change/record-entry.ts'
import { openChanging, writeChange } from './changing.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type OptionSpecs, type Options, seeHelp } from './options.ts'
import { printable } from './terminal.ts'

export const RECORD_OPTIONS: OptionSpecs = {
  under: ['settings', 'read-back'],
  repeats: 'flag',
  try: 'flag',
  today: 'text',
}

export async function record(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  at('reading the document')
  const changing = await openChanging(cli, 'record', options)
  const { document, given, words, bench, file } = changing
  const [list, ...others] = words
  if (list === undefined || others.length > 0)
    throw new CannotRun(`rollbook record takes a document and one of its lists, as feed.checks or events.${seeHelp('record')}`)
  const kind = kindAt(document, list)
  if ('refused' in kind) throw new CannotRun(`Nothing is written. ${list}: ${kind.refused}`)
  const under = options.word('under')
  if (under !== undefined && !kind.entry.properties.has('under'))
    throw new CannotRun(`Nothing is written. ${list} is not made under settings: leave --under out.`)
  const { setup } = bench.analysis.context(file) ?? {}
  const made = withEntry(new LiveDocument(file, document.kind, document.text), kind, given, {
    today: cli.host.today(),
    repeats: options.has('repeats'),
    state: under === undefined ? undefined : stateOf(document, setup, under),
  })
  if (!made.ok && made.held) {
    cli.out(`${printable(`${bench.shown(file)}: ${made.refused}`)}\n`)
    return EXIT.clean
  }
  if (!made.ok) throw new CannotRun(`Nothing is written. ${made.refused}`)
  at('looking at what follows')
  return writeChange(cli, changing, made.text, options.has('try'))
}

/** The state of the settings as the profile has them, or as the machine was read back. */
function stateOf(document: RollDocument, setup: Setup | undefined, under: string): AddedState {
  const from = under === 'settings' ? 'profile' : 'read-back'
  const state = setup && proposedStates(setup).find((one) => one.from === from)
  if (!setup || !state) return { ok: false, refused: 'Nothing was read back that differs from the settings: --under settings.' }
  return addState(document, setup, state.fields, state.from)
}
