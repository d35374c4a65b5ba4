// A comment is taken out: its line, where it has one of its own, or the end of the line it stands behind.
import type { Span } from '../../base/span.ts'
import type { Fix } from '../rule.ts'
import { lineAt, nextLine } from './lines.ts'

export function removeComment(text: string, comment: Span, title: string): Fix {
  const line = lineAt(text, comment.start)
  const before = text.slice(line.start, comment.start)
  const alone = before.trim() === ''
  const start = alone ? line.start : line.start + before.trimEnd().length
  return { title, edits: [{ start, end: alone ? nextLine(text, comment.start) : line.end, newText: '' }] }
}
