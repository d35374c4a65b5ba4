// The entries of a document as lines of text, where its tree is broken: which one holds an offset, and which keys are at home there.
import { startOfLine } from '../../base/lines.ts'
import { nearest } from '../../base/nearest.ts'
import type { Span } from '../../base/span.ts'
import { type DocumentKind, keysOf, schemaAt, schemaOf } from '../../schema/schema.ts'
import { cursorAt } from '../../syntax/cursor.ts'
import { lineAt, nextLine } from './lines.ts'

/** The top-level entry that holds an offset: from its key's line to the next key at the margin. */
export function entryAround(text: string, offset: number): Span {
  let start = lineAt(text, offset).start
  while (start > 0 && !ENTRY.test(lineText(text, start))) start = startOfLine(text, start - 1)
  let end = nextLine(text, offset)
  while (end < text.length && !ENTRY.test(lineText(text, end))) end = nextLine(text, end)
  return { start, end }
}

/** The keys known at a path; every key of the kind where the path is not clear. */
export function keysAt(kind: DocumentKind, path: readonly (string | number)[]): readonly string[] {
  const schema = path.length === 0 ? schemaOf(kind) : schemaAt(kind, path)
  if (schema?.kind === 'map') return [...schema.properties.keys()]
  return schema?.kind === 'table' ? [] : keysOf(kind).map((key) => key.slice(key.lastIndexOf('.') + 1))
}

/** The path of keys above a line, to its own mapping. */
export function pathAt(text: string, at: number): readonly (string | number)[] {
  const cursor = cursorAt(text, at)
  if (!cursor || cursor.role === 'value') return []
  return cursor.path
}

/** Whether a text reads as a known key and a value without a proper colon between them. */
export function keyWithoutColon(text: string, known: readonly string[]): string | undefined {
  const word = /^([A-Za-z0-9][\w-]*)(?:[ \t]*[:=]|[ \t]+)[ \t]*\S/.exec(text)?.[1]
  if (word === undefined) return undefined
  return known.includes(word) ? word : nearest(word, known)
}

/** Whether a line begins an entry at the margin. */
export const beginsEntry = (line: string): boolean => ENTRY.test(line)

/** The text of the line that holds an offset. */
export const lineText = (text: string, at: number): string => {
  const { start, end } = lineAt(text, at)
  return text.slice(start, end)
}

const ENTRY = /^[A-Za-z0-9_$"'][^\r\n]*?:(?:[ \t]|$)/
