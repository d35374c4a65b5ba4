// `rollbook work-out`: how a number is measured that no data sheet tells, and the arithmetic with what was measured.
import { nearest } from '../base/nearest.ts'
import { pageText } from '../report/page.ts'
import type { Way } from '../report/work-out/way.ts'
import { readTyped, WAYS, workOutPage } from '../report/work-out/ways.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type OptionSpecs, type Options, seeHelp } from './options.ts'

export const WORK_OUT_OPTIONS: OptionSpecs = Object.fromEntries(
  WAYS.flatMap(({ asks }) => asks.map(({ key }) => [key, 'text' as const])),
)

export function workOut(cli: CliHost, options: Options): number {
  const way = wayOf(options)
  const words = new Map(way.asks.map(({ key }) => [key, options.words(key)] as const).filter(([, given]) => given.length > 0))
  const strange = Object.keys(WORK_OUT_OPTIONS).find((key) => options.has(key) && !words.has(key))
  if (strange !== undefined) throw new CannotRun(`${way.name} is not worked out from --${strange}.${seeHelp('work-out')}`)
  if (words.size === 0) {
    cli.out(pageText(workOutPage(way, undefined)))
    return EXIT.clean
  }
  const typed = readTyped(way, words)
  if (!typed.ok) throw new CannotRun(typed.problem.reason)
  const worked = way.reckon(typed.value)
  if (!worked.ok) throw new CannotRun(`It cannot be worked out: ${worked.problem.reason}.`)
  cli.out(pageText(workOutPage(way, worked.value)))
  return EXIT.clean
}

function wayOf({ positionals }: Options): Way {
  const [word, ...others] = positionals
  const names = WAYS.map(({ name }) => name)
  const list = names.join(', ')
  if (word === undefined || others.length > 0)
    throw new CannotRun(`rollbook work-out takes one of ${list}.${seeHelp('work-out')}`)
  const way = WAYS.find(({ name }) => name === word)
  const meant = nearest(word, names)
  if (!way)
    throw new CannotRun(
      `Nothing is known of how to work out '${word}'. ${meant === undefined ? `There is ${list}.` : `Do you mean '${meant}'?`}`,
    )
  return way
}
