// `rollbook picture`: the pictures of one profile as a page, or one of them as a drawing.
import { resolve } from 'node:path'
import { pageHtml, pictureSvg } from '../picture/page.ts'
import { picturesOf } from '../report/pictures.ts'
import { tellTroubles } from './bench.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { profileOf } from './profile.ts'
import { printable } from './terminal.ts'

/** The pictures that can be asked for by themselves. */
export const PICTURED = ['feed', 'path', 'suction', 'alignment', 'settings'] as const

export async function picture(cli: CliHost, options: Options, at: (doing: string) => void): Promise<number> {
  const [html, svg, only] = [options.word('html'), options.word('svg'), options.word('of')]
  if ((html === undefined) === (svg === undefined))
    throw new CannotRun(`Say where the pictures go: --html FILE for a page, or --svg FILE for one drawing.${seeHelp('picture')}`)
  const { bench, shown, setup, notChecked } = await profileOf(cli, options, at, {
    command: 'picture',
    holds: 'settings to draw',
    doing: 'drawing',
  })
  const page = picturesOf(setup, notChecked)
  const wanted = only ?? (svg === undefined ? undefined : 'feed')
  const pictures = page.pictures.filter(({ id }) => wanted === undefined || id === wanted)
  const [first] = pictures
  const drawing = svg === undefined ? undefined : first && pictureSvg(first)
  const text = svg === undefined ? pictures.length > 0 && pageHtml({ ...page, pictures }) : drawing
  if (text) await put(cli, (html ?? svg)!, text)
  else cli.err(`${printable(`There is nothing to draw of the ${wanted} of ${shown}.`)}\n`)
  tellTroubles(cli, bench)
  if (notChecked.length > 0) return EXIT.failed
  return text ? EXIT.clean : EXIT.findings
}

/** Into a new file, or for `-` to standard output. */
export async function put(cli: CliHost, where: string, text: string): Promise<void> {
  if (where === '-') cli.out(text)
  else await cli.create(resolve(cli.cwd, where), text)
}
