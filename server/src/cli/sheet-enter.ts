// `rollbook sheet --enter`: what was written on a sheet by hand, typed at a terminal or read from a script's answers, and written into the profile at the end.
import { resolve } from 'node:path'
import { fileUri } from '../host/node.ts'
import type { RollDocument } from '../model/document.ts'
import { enterSheet } from '../report/fleet/sheet-enter.ts'
import { openBench, tellTroubles } from './bench.ts'
import { CannotRun, type CliHost, EXIT, type Talk } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { profileFile, setupOf } from './profile.ts'
import { printable, styleOf } from './terminal.ts'
import { unreadOf } from './unjudged.ts'

export async function enterValues(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const [named, ...others] = options.positionals
  if (named === undefined || others.length > 0 || ['html', 'pdf', 'from'].some((name) => options.has(name)))
    throw new CannotRun(`--enter takes one profile, and nothing else than --answers.${seeHelp('sheet')}`)
  const bench = openBench(cli)
  at('looking for the profile')
  const file = await profileFile(cli, bench, named, 'evidence')
  await setupOf(bench, file, bench.shown(file))
  const document = bench.workspace.document(file)
  const [unread] = document ? unreadOf(bench, document) : []
  if (!document || unread) throw new CannotRun(`Nothing is written: ${unread?.text ?? 'it cannot be read.'}`)
  const answers = options.word('answers')
  const talk = answers === undefined ? cli.talk() : await fromFile(cli, answers)
  if (!talk) throw new CannotRun(`Nobody answers here: give the answers a line each with --answers.${seeHelp('sheet')}`)
  at('asking')
  const style = styleOf(cli)
  const asking = enterSheet(document as RollDocument<'media'>, (draft) => bench.workspace.setup(draft))
  let [part, said] = ['', '']
  let step = asking.next()
  try {
    while (!step.done) {
      const { value } = step
      if (value.part !== part) talk.tell(`\n${style.bold(printable(value.part))}\n`)
      part = value.part
      // Behind an answer that is not taken, those of a script would go to other questions.
      if (value.fault !== undefined && answers !== undefined)
        throw new CannotRun(`Nothing is written: to '${value.ask}' the answers say '${said}'. ${value.fault}`)
      if (value.fault !== undefined) talk.tell(`  ${style.red(printable(value.fault))}\n`)
      const choices = value.choices ? `: ${value.choices.join(', ')}` : ''
      talk.tell(`  ${printable(value.ask + choices)}${value.proposed === undefined ? '' : ` [${printable(value.proposed)}]`}\n`)
      const answer = await talk.ask('> ')
      if (answer === undefined) throw new CannotRun('Nothing is written: the questions were not answered to the end.')
      said = answer
      step = asking.next(answer)
    }
  } finally {
    talk.end()
  }
  const { text, told } = step.value
  for (const line of told) cli.out(`+ ${printable(line)}\n`)
  cli.out(
    told.length === 0
      ? 'Nothing is written.\n'
      : `${printable(bench.shown(file))} is added to; nothing else in it has changed.\n`,
  )
  if (told.length > 0) await cli.rewrite(file, document.text, text)
  tellTroubles(cli, bench)
  return bench.troubles.length > 0 ? EXIT.failed : EXIT.clean
}

/** A script's answers, a line each, as somebody would type them; what is asked shows nowhere but where a line is not taken. */
async function fromFile(cli: CliHost, name: string): Promise<Talk> {
  const text = await (name === '-' ? cli.stdin() : cli.host.read(fileUri(resolve(cli.cwd, name))))
  const lines = text.replace(/\r?\n$/, '').split(/\r?\n/)
  return { ask: async () => lines.shift(), tell: (line) => cli.err(line), end: () => undefined }
}
