// A question that a new document is made from, as data: what is asked, why, where the answer is found, and what cannot be judged without it. What it takes,
// its limits and what holds where it is left open come from the format itself (takes.ts), never from here.

/** What can be made from answers. A profile is not composed here but started: report/start. */
export const NEW_KINDS = ['shop', 'stock', 'printer', 'instrument', 'profile'] as const

export type NewKind = (typeof NEW_KINDS)[number]

export interface Question {
  /** What it is answered by: an option of the command line, a key of a file of answers. */
  readonly key: string
  /** The dotted key of the document that takes the answer, as `keysOf` gives it. A `*` of a table is what the table's own question is answered with. */
  readonly path: string
  readonly ask: string
  readonly why: string
  /** Where the answer is found, and how it is measured. */
  readonly where: string
  /** What is not judged while it is left open. Undefined where a document cannot begin without it, or where the format says what holds then. */
  readonly without?: string
  /** A document cannot begin without an answer. */
  readonly must?: true
  /** Asked only where another question is answered, and where the answer is, or holds, one of these words. */
  readonly after?: { readonly key: string; readonly says?: readonly string[] }
}

/** The items typed for each question, by its key. What is left open is not in it. */
export type Answers = ReadonlyMap<string, readonly string[]>

/** Whether a question arises beside the other answers. */
export function arises({ after }: Question, answers: Answers): boolean {
  if (after === undefined) return true
  const given = answers.get(after.key)
  return given !== undefined && (after.says === undefined || given.some((word) => after.says!.includes(word)))
}

/** Words by which a person says that nobody knows; what is typed so is left open. */
const UNKNOWN: ReadonlySet<string> = new Set(['', 'unknown', '~', 'null'])

/** What stands between the items of a list that is typed: words of a text may hold commas, and between digits a comma is a decimal comma, to be told as one. */
const BETWEEN = { commas: /;|(?<!\d),|,(?!\d)/, semicolons: /;/ } as const

/** What is typed as an answer, item by item. Empty for an answer that is left open. */
export function itemsIn(typed: string, apart: keyof typeof BETWEEN | undefined): readonly string[] {
  const text = typed.trim()
  if (UNKNOWN.has(text.toLowerCase())) return []
  if (apart === undefined) return [text]
  return text
    .split(BETWEEN[apart])
    .map((item) => item.trim())
    .filter((item) => item !== '')
}
