// The arguments of a command, with messages that name what was mistyped and what was probably meant.
import { parseArgs } from 'node:util'
import { nearest } from '../base/nearest.ts'
import { CannotRun } from './host.ts'

/** The options of a command by name: a flag, any text, or the words it takes. */
export type OptionSpecs = Readonly<Record<string, 'flag' | 'text' | readonly string[]>>

export interface Options {
  readonly positionals: readonly string[]
  has(name: string): boolean
  /** The word given to an option, the last one where it is given twice. */
  word(name: string): string | undefined
  /** The words given to an option, in order. */
  words(name: string): readonly string[]
}

/** Reads arguments. `--help` and `-h` are known everywhere. Throws `CannotRun` for an unknown option and for a word an option does not take. */
export function readOptions(command: string, args: readonly string[], specs: OptionSpecs): Options {
  const takesWord = Object.keys(specs).filter((name) => specs[name] !== 'flag')
  const { tokens, positionals } = parseArgs({
    args: [...args],
    options: {
      help: { type: 'boolean', short: 'h' },
      ...Object.fromEntries(takesWord.map((name) => [name, { type: 'string' as const }])),
    },
    strict: false,
    allowPositionals: true,
    tokens: true,
  })
  const given = new Map<string, readonly (string | undefined)[]>()
  for (const token of tokens) {
    if (token.kind !== 'option') continue
    const { name, rawName, value } = token
    const spec = name === 'help' ? 'flag' : Object.hasOwn(specs, name) ? specs[name] : undefined
    if (spec === undefined) throw unknownOption(command, rawName, specs)
    if (spec === 'flag' && value !== undefined)
      throw new CannotRun(`${rawName} is either given or not: it takes no '${value}'.${seeHelp(command)}`)
    if (spec === 'text' && !value) throw new CannotRun(`${rawName} needs a word after it.${seeHelp(command)}`)
    if (typeof spec === 'object' && (value === undefined || !spec.includes(value))) throw wrongWord(command, rawName, value, spec)
    given.set(name, [...(given.get(name) ?? []), value])
  }
  return {
    positionals,
    has: (name) => given.has(name),
    word: (name) => given.get(name)?.at(-1),
    words: (name) => (given.get(name) ?? []).filter((word) => word !== undefined),
  }
}

function unknownOption(command: string, rawName: string, specs: OptionSpecs): CannotRun {
  const meant = nearest(rawName.replace(/^-+/, ''), [...Object.keys(specs), 'help'])
  return new CannotRun(
    `rollbook ${command} has no option ${rawName}.${meant === undefined ? '' : ` Do you mean --${meant}?`}${seeHelp(command)}`,
  )
}

function wrongWord(command: string, rawName: string, value: string | undefined, words: readonly string[]): CannotRun {
  const meant = value === undefined ? undefined : nearest(value, words)
  const given = value === undefined ? `${rawName} needs a word after it` : `${rawName} does not know '${value}'`
  const choice = meant === undefined ? ` It takes ${words.join(' or ')}.` : ` Do you mean ${meant}?`
  return new CannotRun(`${given}.${choice}${seeHelp(command)}`)
}

export const seeHelp = (command: string): string => ` See 'rollbook ${command} --help'.`
