// `rollbook git setup`, `remove` and `status`: lines of ours in .gitattributes and in the repository's own configuration, which make git merge and compare
// documents by what they say. Taken out, every other byte is as it was.
import { join } from 'node:path'
import { CannotRead } from '../host/host.ts'
import { fileUri } from '../host/node.ts'
import { NoHistory, type Repository } from '../host/revisions.ts'
import { blockIn, type Held, withBlock } from '../merge/own-block.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { printable } from './terminal.ts'

const PATTERNS = ['*.media.yaml', '*.stock.yaml', '*.printer.yaml', 'rollbook.yaml']

const ATTRIBUTES = PATTERNS.map((pattern) => `${pattern} diff=rollbook merge=rollbook\n`).join('')

/**
 * Only the word `merged`, printed after the result was written whole, is taken for one. Where the command is missing, dies, is killed, has no room to
 * write, or is another that does nothing, git's own text merge makes the file, with markers: without that git would leave plain ours.
 */
const DRIVER = [
  'r=$(rollbook git merge %O %A %B %A.new %P)',
  'if test "$r" = merged && mv -f %A.new %A; then exit 0; fi',
  'rm -f %A.new',
  'git merge-file -L ours -L base -L theirs --marker-size=%L %A %O %B',
  's=$?',
  'if test "$s" = 0 && test "$r" = conflict; then s=1; fi',
  'exit $s',
].join('; ')

/** Where the command fails, the text is compared as it is. */
const TEXT = 'f() { t=$(rollbook git text "$1" 2>/dev/null) && printf "%s\\n" "$t" || cat "$1"; }; f'

const quoted = (value: string): string => `"${value.replace(/[\\"]/g, '\\$&')}"`

const CONFIG = `[merge "rollbook"]
\tname = Rollbook documents: measurements as a set, settings one by one
\tdriver = ${quoted(DRIVER)}
[diff "rollbook"]
\ttextconv = ${quoted(TEXT)}
`

interface Place {
  readonly path: string
  readonly lines: string
  readonly text: string | undefined
  readonly held: Held
}

/** The two files, and what stands in them of ours. Throws `CannotRun` where there is no repository. */
async function places(
  cli: CliHost,
  options: Options,
): Promise<{ readonly repository: Repository; readonly files: readonly Place[] }> {
  const [name, ...others] = options.positionals
  if (others.length > 0) throw new CannotRun(`rollbook git ${name} takes no '${others[0]}'.${seeHelp('git')}`)
  const repository = await cli.revisions.repository(fileUri(cli.cwd)).catch((error) => {
    throw error instanceof NoHistory ? new CannotRun(error.message) : error
  })
  const files: Place[] = []
  for (const [path, lines] of [
    [repository.config, CONFIG],
    [join(repository.top, '.gitattributes'), ATTRIBUTES],
  ] as const) {
    const text = await textOf(cli, path)
    files.push({ path, lines, text, held: blockIn(text) })
  }
  for (const { path, held } of files)
    if (held.is === 'changed')
      throw new CannotRun(
        `Somebody changed the lines of Rollbook in ${path}, from '# rollbook: begin' to '# rollbook: end'. Take them out by hand; nothing is written.`,
      )
  return { repository, files }
}

async function textOf(cli: CliHost, path: string): Promise<string | undefined> {
  try {
    const bytes = await cli.host.readBytes(fileUri(path), 1 << 23)
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes)
  } catch (error) {
    if (error instanceof CannotRead && error.gone) return undefined
    throw new CannotRun(`${path} cannot be read${error instanceof CannotRead ? `: ${error.message}` : ': it is not UTF-8 text.'}`)
  }
}

export async function gitSetup(cli: CliHost, options: Options): Promise<number> {
  const { repository, files } = await places(cli, options)
  if (files[0]!.held.is === 'absent' && (await repository.configured()))
    throw new CannotRun(
      `Git knows a driver 'rollbook' already that was not set up here: 'git config --show-origin --get-regexp "(merge|diff).rollbook"' shows it. Nothing is written.`,
    )
  const other = await repository.attributeOf(PATTERNS.map((pattern) => pattern.replace('*', 'any')))
  if (other !== undefined)
    throw new CannotRun(
      `Documents have an attribute already that would be another: ${other}. Take it out of .gitattributes first; nothing is written.`,
    )
  let written = 0
  for (const { path, lines, text, held } of files) {
    if (held.is === 'own' && held.lines === lines) continue
    await write(cli, path, text, withBlock(held.is === 'own' ? held.without : text, lines))
    written++
  }
  cli.out(
    written === 0
      ? 'It is set up already: nothing to do.\n'
      : `Git merges and compares documents of ${printable(repository.top)} by what they say from now on. Commit .gitattributes, and run 'rollbook git setup' in each clone: a clone has the attributes and not the driver, and merges by lines until then, as hosts do at all times.\n`,
  )
  return EXIT.clean
}

export async function gitRemove(cli: CliHost, options: Options): Promise<number> {
  const { files } = await places(cli, options)
  let written = 0
  for (const { path, text, held } of [...files].reverse()) {
    if (held.is !== 'own') continue
    await write(cli, path, text, held.without)
    written++
  }
  cli.out(
    written === 0
      ? 'It is not set up here: nothing to do.\n'
      : 'What was set up is taken out again: git merges and compares by lines.\n',
  )
  return EXIT.clean
}

export async function gitStatus(cli: CliHost, options: Options): Promise<number> {
  const { files } = await places(cli, options)
  const says = ({ held, lines, path }: Place): string =>
    `${printable(path)}: ${held.is !== 'own' ? 'not set up' : held.lines === lines ? 'set up' : "set up by another version: 'rollbook git setup' renews it"}\n`
  cli.out(files.map(says).join(''))
  return files.every(({ held, lines }) => held.is === 'own' && held.lines === lines) ? EXIT.clean : EXIT.findings
}

async function write(cli: CliHost, path: string, before: string | undefined, after: string | undefined): Promise<void> {
  if (before === undefined) await cli.create(path, after!)
  else if (after === undefined) await cli.discard(path, before)
  else await cli.rewrite(fileUri(path), before, after)
}
