// What git itself calls: `rollbook git merge` for three versions of a file, and `rollbook git text` for a document as lines to compare. Whatever fails here
// leaves the work to git's own text merge: see the command line in git-setup.ts.
import { resolve } from 'node:path'
import { CannotRead } from '../host/host.ts'
import { fileUri } from '../host/node.ts'
import { auditMerge } from '../merge/audit.ts'
import { plainForm } from '../merge/plain-form.ts'
import { mergeTexts } from '../merge/three-way.ts'
import { LiveDocument } from '../model/document.ts'
import { kindOfFile } from '../schema/schema.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { printable } from './terminal.ts'

/** Takes the files of the three versions, the file to write and the document's path; prints `merged`, `conflict` or `text`, and nothing where it fails. */
export async function gitMerge(cli: CliHost, { positionals }: Options): Promise<number> {
  const [, base, ours, theirs, into, path, ...others] = positionals
  if (
    base === undefined ||
    ours === undefined ||
    theirs === undefined ||
    into === undefined ||
    path === undefined ||
    others.length > 0
  )
    throw new CannotRun(`rollbook git merge is called by git: it takes BASE OURS THEIRS RESULT PATH.${seeHelp('git')}`)
  const kind = kindOfFile(path)
  if (!kind) throw new CannotRun(`'${path}' is not a Rollbook document, and is left to git's text merge.`)
  const texts = { base: await textOf(cli, base), ours: await textOf(cli, ours), theirs: await textOf(cli, theirs) }
  const made = mergeTexts(kind, texts)
  if (made.ok) {
    await cli.create(resolve(cli.cwd, into), made.value.text)
    for (const remark of made.value.remarks) cli.err(`${printable(`${path}: ${remark}`)}\n`)
    cli.out('merged\n')
    return EXIT.clean
  }
  const { input, reason } = made.problem
  // Where git's text merge has no conflict, it may still have lost something, or have chosen.
  const text = await cli.revisions.mergedByLine(texts)
  const wrong = text === undefined ? undefined : auditMerge(kind, { ...texts, merged: text })
  const why = wrong ?? `${input === '' ? '' : `${input}: `}${reason}`
  cli.err(
    `${printable(`${path}: ${why}. ${wrong === undefined ? "It is left to git's text merge." : "Git's text merge is no answer to that: look at the file, then 'git add' it."}`)}\n`,
  )
  cli.out(wrong === undefined ? 'text\n' : 'conflict\n')
  return EXIT.findings
}

/** With its byte order mark: what git compares and writes is bytes. */
async function textOf(cli: CliHost, path: string): Promise<string> {
  try {
    const bytes = await cli.host.readBytes(fileUri(resolve(cli.cwd, path)), MAX_BYTES)
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes)
  } catch (error) {
    if (error instanceof CannotRead) throw new CannotRun(error.message)
    if (error instanceof TypeError) throw new CannotRun(`${path} is not UTF-8 text.`)
    throw error
  }
}

const MAX_BYTES = 1 << 23

export async function gitText(cli: CliHost, { positionals: [, path, ...others] }: Options): Promise<number> {
  if (path === undefined || others.length > 0) throw new CannotRun(`rollbook git text takes one document.${seeHelp('git')}`)
  const text = await textOf(cli, path)
  // Git hands over old versions under names of its own.
  const form = plainForm(new LiveDocument('any.media.yaml', kindOfFile(path) ?? 'media', text.replace(/^\ufeff/, '')))
  cli.out(form ?? text)
  return EXIT.clean
}
