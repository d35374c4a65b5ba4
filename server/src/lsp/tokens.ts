// The meaning of a document's words for an editor that colours by it: whole, of a stretch, or what has changed since the last answer.
import type {
  SemanticTokens,
  SemanticTokensDelta,
  SemanticTokensDeltaParams,
  SemanticTokensParams,
  SemanticTokensRangeParams,
} from 'vscode-languageserver'
import type { Span } from '../base/span.ts'
import { TOKEN_MODIFIERS, TOKEN_TYPES } from '../features/tokens.ts'
import { type Asked, aboutDocument, type Feature } from './feature.ts'
import type { Session } from './session.ts'
import { toSpan } from './to-proto.ts'

export const tokens: Feature = {
  capability: {
    semanticTokensProvider: {
      legend: { tokenTypes: [...TOKEN_TYPES], tokenModifiers: [...TOKEN_MODIFIERS] },
      full: { delta: true },
      range: true,
    },
  },
  requests: {
    'textDocument/semanticTokens/full': aboutDocument<SemanticTokensParams, SemanticTokens>({}, (_, at) =>
      answered(at, dataOf(at)),
    ),
    'textDocument/semanticTokens/full/delta': aboutDocument<SemanticTokensDeltaParams, SemanticTokens | SemanticTokensDelta>(
      { previousResultId: 'text' },
      ({ previousResultId }, at) => {
        const before = answers(at.session).get(at.file)
        const data = dataOf(at)
        const { resultId } = answered(at, data)
        return before?.resultId === previousResultId ? { resultId, edits: changed(before.data, data) } : { resultId, data }
      },
    ),
    'textDocument/semanticTokens/range': aboutDocument<SemanticTokensRangeParams, SemanticTokens>(
      { range: 'range' },
      ({ range }, at) => ({ data: dataOf(at, toSpan(at.positions, range)) }),
    ),
  },
}

/** Five numbers a token: lines and columns since the one before, length, type, and a bit for each modifier. */
function dataOf({ file, positions, session }: Asked, within?: Span): number[] {
  const data: number[] = []
  let [line, character] = [0, 0]
  for (const { start, end, type, modifiers } of session.analysis.tokens(file, within)) {
    const at = positions.position(start)
    const length = positions.position(end).character - at.character
    const bits = modifiers.reduce((sum, modifier) => sum + (1 << TOKEN_MODIFIERS.indexOf(modifier)), 0)
    data.push(at.line - line, at.line === line ? at.character - character : at.character, length, TOKEN_TYPES.indexOf(type), bits)
    ;({ line, character } = at)
  }
  return data
}

interface Answer {
  readonly resultId: string
  readonly data: number[]
}

/** For how many documents the last answer is kept. */
const MAX_KEPT = 32

const kept = new WeakMap<Session, Map<string, Answer>>()
let answersGiven = 0

function answers(session: Session): Map<string, Answer> {
  const before = kept.get(session)
  if (before) return before
  const made = new Map<string, Answer>()
  kept.set(session, made)
  return made
}

function answered({ file, session }: Asked, data: number[]): Answer {
  const all = answers(session)
  const answer = { resultId: String(++answersGiven), data }
  all.delete(file)
  all.set(file, answer)
  if (all.size > MAX_KEPT) all.delete(all.keys().next().value!)
  return answer
}

/** One edit, from the first number that differs to the last. */
function changed(before: readonly number[], after: readonly number[]): { start: number; deleteCount: number; data: number[] }[] {
  const shorter = Math.min(before.length, after.length)
  let start = 0
  while (start < shorter && before[start] === after[start]) start++
  let tail = 0
  while (tail < shorter - start && before[before.length - 1 - tail] === after[after.length - 1 - tail]) tail++
  const data = after.slice(start, after.length - tail)
  const deleteCount = before.length - tail - start
  return deleteCount === 0 && data.length === 0 ? [] : [{ start, deleteCount, data }]
}
