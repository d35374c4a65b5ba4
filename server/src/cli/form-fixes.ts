// `rollbook check --fix`: makes the fixes that their rules declare to be of form, and holds each of them to it: a fix after which a document says
// anything else than before is not made.
import { LineIndex } from '../base/line-index.ts'
import { applyEdits, editsOf } from '../base/text-edit.ts'
import { formFix, saysTheSame } from '../features/fix-all.ts'
import { kindOfFile } from '../schema/schema.ts'
import type { Bench } from './bench.ts'
import type { CliHost } from './host.ts'
import type { Fixed } from './report/report.ts'
import { printable } from './terminal.ts'

/** One mistake can hide another; a text that is still not right after so many rounds is left to a person. */
const ROUNDS = 100

/** Mends the files on disk. Gives what was done; says it on standard error too, where no report can hide it. */
export async function fixForm(cli: CliHost, bench: Bench, files: readonly string[]): Promise<readonly Fixed[]> {
  const all: Fixed[] = []
  for (const file of files) {
    const document = await bench.workspace.load(file)
    if (!document) continue
    const before = document.text
    const { text, done } = await mended(bench, file, before)
    if (done.length > 0) await cli.rewrite(file, before, text)
    if (done.length > 0) await bench.workspace.changedOnDisk(file)
    else if (document.kind === 'media') bench.workspace.release(file)
    for (const fixed of done) {
      all.push(fixed)
      cli.err(`${printable(`Fixed ${fixed.file}:${fixed.line}: ${fixed.title} (${fixed.code}).`)}\n`)
    }
  }
  return all
}

async function mended(
  bench: Bench,
  file: string,
  before: string,
): Promise<{ readonly text: string; readonly done: readonly Fixed[] }> {
  const { workspace, analysis } = bench
  const done: Fixed[] = []
  let text = before
  for (let round = 0; round < ROUNDS; round++) {
    await workspace.prepare(file)
    const fixed = firstFix(analysis.findings(file), file, text)
    if (!fixed) break
    const { start, code, title } = fixed
    done.push({ file: bench.shown(file), line: new LineIndex(text).position(start).line + 1, code, title })
    text = fixed.text
    workspace.update(file, text)
  }
  if (done.length > 0) await workspace.close(file)
  return { text, done }
}

type Findings = ReturnType<Bench['analysis']['findings']>

function firstFix(
  findings: Findings,
  file: string,
  text: string,
): { text: string; start: number; code: string; title: string } | undefined {
  for (const finding of findings) {
    const { code, span } = finding
    const fix = formFix(finding, file)
    if (!fix) continue
    const after = applyEdits(text, editsOf(text, fix.edits))
    if (after !== text && saysTheSame(kindOfFile(file)!, text, after))
      return { text: after, start: span.start, code, title: fix.title }
  }
  return undefined
}
