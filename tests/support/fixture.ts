// The fixture language: a text with `$0` (a cursor) or `$0…$0` (a selection), and `#- name` header lines for several files. Tests read like
// the user's screen: text in, rendered text out; coordinates never appear.
import type { Span } from '../../server/src/base/span.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { Analysis } from '../../server/src/workspace/analysis.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { sketchedIcc } from './icc.ts'

export const ROOT = 'file:///shop/'

export interface Fixture {
  /** The checked file: the first one, or the one that holds the mark. */
  readonly file: string
  /** Its text without marks. */
  readonly text: string
  /** The cursor or selection; undefined without a mark. */
  readonly mark: Span | undefined
  readonly files: Map<string, string>
}

/** Splits a fixture into files and takes the marks out. One file needs no header; it is `example.media.yaml`. */
export function parseFixture(source: string, defaultName = 'example.media.yaml'): Fixture {
  const parts = source.split(/^#- (\S+)\r?\n/m)
  const named: [string, string][] = []
  if (parts[0]) named.push([defaultName, parts[0]])
  for (let i = 1; i < parts.length; i += 2) named.push([parts[i]!, parts[i + 1] ?? ''])
  if (named.length === 0) named.push([defaultName, ''])
  const files = new Map<string, string>()
  let marked: { file: string; mark: Span } | undefined
  for (const [name, raw] of named) {
    const pieces = raw.split('$0')
    if (pieces.length > 3) throw new Error(`more than two marks in ${name}`)
    const file = ROOT + name
    if (pieces.length > 1) {
      if (marked) throw new Error('marks in two files')
      const start = pieces[0]!.length
      marked = { file, mark: { start, end: start + (pieces.length === 3 ? pieces[1]!.length : 0) } }
    }
    files.set(file, pieces.join(''))
  }
  const file = marked?.file ?? ROOT + named[0]![0]
  return { file, text: files.get(file)!, mark: marked?.mark, files }
}

/** A workspace over a fixture's files, with everything the checked file needs loaded and the file open. Rules that throw fail the test. */
export async function openFixture(fixture: Fixture, today = '2026-03-31'): Promise<Analysis> {
  const workspace = new Workspace(new MemoryHost(fixture.files, today, sketchedIcc(fixture.files)))
  await workspace.addFolder(ROOT)
  workspace.update(fixture.file, fixture.text)
  await workspace.prepare(fixture.file)
  return new Analysis(workspace, true)
}

/** The offset of the one cursor of a fixture. */
export function cursorOf(fixture: Fixture): number {
  if (!fixture.mark) throw new Error('the fixture has no $0')
  return fixture.mark.start
}
