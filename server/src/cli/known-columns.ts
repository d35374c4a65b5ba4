// What the columns of a shop's own tables are: said once, and kept in a file beside its rollbook.yaml.
import { join } from 'node:path'
import { CannotRead } from '../host/host.ts'
import { fileUri } from '../host/node.ts'
import { COLUMNS_FILE, columnsIn, withColumns } from '../model/columns.ts'
import { CannotRun, type CliHost } from './host.ts'
import { readColumn } from './import-columns.ts'
import { type Options, seeHelp } from './options.ts'

/** What the columns of a shop's tables are: kept beside its rollbook.yaml, and as said now. */
export interface KnownColumns {
  readonly names: ReadonlyMap<string, string>
  /** Writes down what was said. Gives the file where there was anything to write. */
  keep(): Promise<string | undefined>
}

export async function knownColumns(cli: CliHost, folder: string, options: Options): Promise<KnownColumns> {
  const path = join(folder, COLUMNS_FILE)
  const before = await keptColumns(cli, path)
  const kept = columnsIn(before ?? '')
  if (kept.problem !== undefined) throw new CannotRun(`${path} cannot be read: ${kept.problem}.`)
  const said = new Map(options.words('column').map(saidColumn))
  const added = new Map([...said].filter(([header, name]) => kept.names.get(header) !== name))
  const after = added.size > 0 ? withColumns(before, added) : before
  if (added.size > 0 && after === undefined) throw new CannotRun(`${path} cannot be added to; write it by hand.`)
  return {
    names: new Map([...kept.names, ...said]),
    async keep() {
      if (added.size === 0 || after === undefined) return undefined
      if (before === undefined) await cli.create(path, after)
      else await cli.rewrite(fileUri(path), before, after)
      return path
    },
  }
}

async function keptColumns(cli: CliHost, path: string): Promise<string | undefined> {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(await cli.host.readBytes(fileUri(path), 2 ** 20))
  } catch (error) {
    if (error instanceof CannotRead && error.gone) return undefined
    throw new CannotRun(`${path} cannot be read: ${error instanceof CannotRead ? error.reason : 'it is not UTF-8 text'}.`)
  }
}

function saidColumn(words: string): [string, string] {
  const at = words.lastIndexOf('=')
  const [header, name] = [words.slice(0, at).trim(), words.slice(at + 1).trim()]
  if (at < 1 || header === '' || readColumn(name) === undefined)
    throw new CannotRun(
      `--column takes a header and what it is, as in --column 'Length=measured (mm)': '${words}' is not that.${seeHelp('import')}`,
    )
  return [header, name]
}
