// Git's conflict markers: each conflict is one problem with actions, and while it stands the document is read as if "ours" had been
// taken, so that everything around it goes on working. Masking keeps every offset: the other side becomes spaces.

export interface Conflict {
  readonly start: number
  readonly end: number
  /** The two sides' whole lines, as offsets. */
  readonly ours: { readonly start: number; readonly end: number }
  readonly theirs: { readonly start: number; readonly end: number }
}

/** Finds conflicts (two-way, diff3 and zdiff3 styles) and blanks their markers, base and "theirs" with spaces. */
export function maskConflicts(text: string): { masked: string; conflicts: readonly Conflict[] } {
  if (!text.includes('<<<<<<<')) return { masked: text, conflicts: [] }
  const conflicts: Conflict[] = []
  let masked = ''
  let done = 0
  for (let at = lineStarting(text, '<<<<<<<', 0); at >= 0; at = lineStarting(text, '<<<<<<<', done)) {
    const middle = lineStarting(text, '=======', at)
    const close = middle < 0 ? -1 : lineStarting(text, '>>>>>>>', middle)
    if (close < 0) break
    const base = lineStarting(text, '|||||||', at)
    const oursStart = afterLine(text, at)
    const oursEnd = base >= 0 && base < middle ? base : middle
    const end = afterLine(text, close)
    conflicts.push({
      start: at,
      end,
      ours: { start: oursStart, end: oursEnd },
      theirs: { start: afterLine(text, middle), end: close },
    })
    masked +=
      text.slice(done, at) + blank(text.slice(at, oursStart)) + text.slice(oursStart, oursEnd) + blank(text.slice(oursEnd, end))
    done = end
  }
  return { masked: conflicts.length ? masked + text.slice(done) : text, conflicts }
}

/** Whether a line of a conflict stands in a text, be it whole or half of one. */
export const hasMarkers = (text: string): boolean =>
  lineStarting(text, '<<<<<<<', 0) >= 0 || lineStarting(text, '>>>>>>>', 0) >= 0

const blank = (text: string): string => text.replace(/[^\r\n]/g, ' ')

/** The next line, from `from` on, that begins with `marker` followed by a space or the line's end. */
function lineStarting(text: string, marker: string, from: number): number {
  for (let at = text.indexOf(marker, from); at >= 0; at = text.indexOf(marker, at + 1)) {
    const before = at === 0 ? 10 : text.charCodeAt(at - 1)
    const after = text.charCodeAt(at + marker.length)
    if (before === 10 && (after === 32 || after === 10 || after === 13 || Number.isNaN(after))) return at
  }
  return -1
}

function afterLine(text: string, at: number): number {
  const next = text.indexOf('\n', at)
  return next < 0 ? text.length : next + 1
}
