// A stretch of text as offsets. Inside the core, text is a JavaScript string and an offset counts UTF-16 code units
// (so does the protocol by default); lines, columns and other encodings exist only at the protocol's boundary.

/** Half-open stretch [start, end) of a document's text, in UTF-16 code units. */
export interface Span {
  readonly start: number
  readonly end: number
}

export const span = (start: number, end: number): Span => ({ start, end })

/** Whether an offset lies in a span or touches its end, as a cursor does. */
export const touches = (s: Span, offset: number): boolean => s.start <= offset && offset <= s.end
