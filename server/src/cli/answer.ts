// What is answered at once, before the engine is loaded: the version and the help texts.
import { VERSION } from '../version.ts'
import { COMMAND_HELP, HELP } from './help.ts'

/** The text for a command line that asks for no more than that; undefined for any other, those included that ask wrongly. */
export function answerAtOnce([name, ...rest]: readonly string[]): string | undefined {
  if (name === '--version' || name === '-v') return `rollbook ${VERSION}\n`
  const about = rest[0]
  if (name === '--help' || name === '-h' || (name === 'help' && about === undefined)) return helpOf(about) ?? HELP
  if (name === 'help') return helpOf(about)
  return rest.includes('--help') || rest.includes('-h') ? helpOf(name) : undefined
}

const helpOf = (command: string | undefined): string | undefined =>
  command !== undefined && Object.hasOwn(COMMAND_HELP, command) ? COMMAND_HELP[command] : undefined
