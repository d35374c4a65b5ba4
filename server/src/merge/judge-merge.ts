// One file of a merge commit judged: which of its texts have to be read at all, and what became of the measurements in them.
import { LiveDocument } from '../model/document.ts'
import { type Loss, lossesIn } from './lost.ts'
import { type Measurement, measurementsIn } from './measurements.ts'

/** What stands for each version of a file: equal where the texts are, undefined where there is no such file. */
export interface FileVersions {
  readonly merged: string | undefined
  readonly parents: readonly (string | undefined)[]
  readonly bases: readonly (string | undefined)[]
}

/** Whether the merged file is what one side made of it alone, or what all sides made alike: then there is nothing to look for. */
export function isPlain({ merged, parents, bases }: FileVersions): boolean {
  return (bases.length > 0 ? bases : [undefined]).some((base) => {
    const changed = new Set(parents.filter((parent) => parent !== base))
    return changed.size === 0 ? merged === base : changed.size === 1 && changed.has(merged)
  })
}

/** A text's measurements, or why nobody can tell all of them: words behind a colon. */
export type Read =
  | { readonly ok: true; readonly all: readonly Measurement[]; readonly text: string }
  | { readonly ok: false; readonly why: string }

export const NO_FILE: Read = { ok: true, all: [], text: '' }

/** Reads a profile as a version has it; undefined for what is no text. */
export function readVersion(text: string | undefined): Read {
  if (text === undefined) return { ok: false, why: 'it is not UTF-8 text' }
  const document = new LiveDocument('merged.media.yaml', 'media', text.charCodeAt(0) === 0xfeff ? text.slice(1) : text)
  if (document.unsettled) return { ok: false, why: 'lines of a merge conflict stand in it' }
  if (document.tree.problems.length > 0) return { ok: false, why: 'its text is broken' }
  return { ok: true, all: measurementsIn(document), text: document.text }
}

export interface JudgedMerge {
  readonly losses: readonly Loss[]
  /** Of which versions nobody can tell, and why. */
  readonly unread: readonly string[]
}

/** What is lost of a file. `elsewhere`: what the merge has in files that a side has not, where a file may have gone that is not there any more. */
export function judgeMerge(
  {
    merged,
    parents,
    bases,
  }: { readonly [K in keyof FileVersions]: FileVersions[K] extends readonly unknown[] ? readonly Read[] : Read },
  elsewhere: () => readonly Measurement[],
): JudgedMerge {
  const all = [merged, ...parents, ...bases]
  const unread = [...new Set(all.flatMap((read) => (read.ok ? [] : [read.why])))]
  if (unread.length > 0) return { losses: [], unread }
  const of = (read: Read): readonly Measurement[] => (read.ok ? read.all : [])
  const losses = lossesIn({ bases: bases.map(of), parents: parents.map(of), merged: of(merged) })
  if (merged !== NO_FILE || losses.length === 0) return { losses, unread }
  const moved = new Set(elsewhere().map(({ reading, state }) => `${reading}\n${state}`))
  return { losses: losses.filter(({ measurement: { reading, state } }) => !moved.has(`${reading}\n${state}`)), unread }
}
