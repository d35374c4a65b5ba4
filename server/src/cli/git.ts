// `rollbook git`: what makes git understand that the files it merges are measurements and settings.
import { nearest } from '../base/nearest.ts'
import { gitMerge, gitText } from './git-driver.ts'
import { gitLost } from './git-lost.ts'
import { gitRemove, gitSetup, gitStatus } from './git-setup.ts'
import { CannotRun, type CliHost } from './host.ts'
import { type Options, seeHelp } from './options.ts'

type Run = (cli: CliHost, options: Options, at: (doing: string) => void) => Promise<number>

const COMMANDS: ReadonlyMap<string, Run> = new Map<string, Run>([
  ['lost', gitLost],
  ['setup', gitSetup],
  ['remove', gitRemove],
  ['status', gitStatus],
  ['merge', gitMerge],
  ['text', gitText],
])

export async function git(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const [name] = options.positionals
  const names = [...COMMANDS.keys()]
  const run = name === undefined ? undefined : COMMANDS.get(name)
  if (run) return run(cli, options, at)
  const meant = name === undefined ? undefined : nearest(name, names)
  const choice = meant === undefined ? `It takes ${names.join(', ')}.` : `Do you mean '${meant}'?`
  throw new CannotRun(
    name === undefined
      ? `rollbook git needs a word. ${choice}${seeHelp('git')}`
      : `rollbook git has no '${name}'. ${choice}${seeHelp('git')}`,
  )
}
