// `rollbook set`: values into a document from the command line, for whoever keyed them in, or has looked them up: by the smallest edits, all of them or none.
import { LiveDocument } from '../model/document.ts'
import { evidenceKind } from '../model/evidence.ts'
import { READ_BACK } from '../model/proposed-states.ts'
import { withEntry } from '../report/change/record-entry.ts'
import { withValue } from '../report/change/set-value.ts'
import { openChanging, writeChange } from './changing.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import type { OptionSpecs, Options } from './options.ts'
import { printable } from './terminal.ts'

export const SET_OPTIONS: OptionSpecs = { 'read-back': 'flag', try: 'flag', today: 'text' }

export async function setValues(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  at('reading the document')
  const changing = await openChanging(cli, 'set', options)
  const { document, given, words, bench, file } = changing
  if (words.length > 0) throw new CannotRun(`'${words[0]}' is no KEY=VALUE. Nothing is written.`)
  const today = cli.host.today()
  const draft = new LiveDocument(file, document.kind, document.text)
  for (const [key, value] of given) {
    const made = withValue(draft, key, value, today)
    if (!made.ok) throw new CannotRun(`Nothing is written. ${key}: ${made.refused}`)
    draft.update(made.text)
  }
  if (options.has('read-back')) readBack(draft, given, today)
  if (draft.text === document.text) {
    cli.out(`${printable(bench.shown(file))} says so already.\n`)
    return EXIT.clean
  }
  at('looking at what follows')
  return writeChange(cli, changing, draft.text, options.has('try'))
}

/** That the machine shows it too, as whoever keyed it in says. */
function readBack(draft: LiveDocument, given: readonly (readonly [string, string])[], today: string): void {
  const cells = given.map(([key, value]) => {
    const name = READ_BACK.get(key)
    if (draft.kind !== 'media' || name === undefined)
      throw new CannotRun(`Nothing is written. ${key} is nothing that is read back from a machine.`)
    return [name, value] as const
  })
  const made = withEntry(draft, evidenceKind('keyed')!, [['date', today], ...cells], { today, repeats: true })
  if (!made.ok) throw new CannotRun(`Nothing is written. ${made.refused}`)
  draft.update(made.text)
}
