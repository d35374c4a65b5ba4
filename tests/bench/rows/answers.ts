// How long an answer takes that is asked for on the heels of a keystroke, as editors ask.
import { type Block, type Context, inRounds, load } from '../context.ts'
import { keys, PLACES, placeOf } from '../keys.ts'
import { median } from '../probe.ts'
import { type Answers, type Position, Session } from '../session.ts'
import { LONG_PROFILE, measuredTexts, type Text } from '../texts.ts'
import { PACE } from './keystroke.ts'

const P95: Readonly<Record<number, number>> = { 120: 2, 300: 2, 2000: 5 }
/** Milliseconds to a new picture. */
const PICTURE = 'picture'
const TO_PICTURE = 15
const KEYS = { warm: 96, before: 24, backToBack: 192, paced: 48 }

export const answers: Block = {
  name: 'answers',
  about: 'hover, completion, hints, actions, lenses, tokens and the picture right after an edit',
  async run(context) {
    for (const text of measuredTexts(context.today)) {
      const section = `Asked right after an edit: ${text.name} (load ${load()})`
      const rounds = await inRounds(context, () => round(context, text))
      for (const name of Object.keys(rounds[0]!))
        add(
          context,
          section,
          name,
          rounds.map((r) => r[name]!),
          name === PICTURE ? TO_PICTURE : P95[text.lines]!,
        )
    }
  },
}

function add({ report }: Context, section: string, name: string, rounds: readonly Asked[], atMost: number): void {
  report.add(
    section,
    `${name}, p95`,
    rounds.map((r) => r.backToBack.p95),
    {
      unit: 'ms',
      atMost,
      note: `p50 ${median(rounds.map((r) => r.backToBack.p50)).toFixed(1)} ms`,
    },
  )
  report.add(
    section,
    `${name} at a person's pace, p95`,
    rounds.map((r) => r.paced.p95),
    {
      unit: 'ms',
      note: `p50 ${median(rounds.map((r) => r.paced.p50)).toFixed(1)} ms`,
    },
  )
}

interface Asked {
  readonly backToBack: Answers
  readonly paced: Answers
}

async function round({ made, shop }: Context, { text }: Text): Promise<Record<string, Asked>> {
  const session = await Session.start(made.server, {}, shop, LONG_PROFILE, text)
  const typist = keys(text, PLACES)
  await session.warmUp(typist, KEYS.warm)
  const check = placeOf(text, 'middle check')
  const out: Record<string, Asked> = {}
  for (const [name, method, at, extra] of questions(check)) {
    await session.measureRequest(method, typist, KEYS.before, 0, at, extra)
    out[name] = {
      backToBack: await session.measureRequest(method, typist, KEYS.backToBack, 0, at, extra),
      paced: await session.measureRequest(method, typist, KEYS.paced, PACE, at, extra),
    }
  }
  await session.end()
  return out
}

type Question = readonly [name: string, method: string, at: number, extra?: (position: Position) => object]

const questions = (check: number): Question[] => [
  ['hover', 'textDocument/hover', check - 3],
  ['completion', 'textDocument/completion', check + 3],
  ['inlay hints of 60 lines', 'textDocument/inlayHint', check, around],
  [
    'code actions of a line',
    'textDocument/codeAction',
    check - 3,
    ({ line }) => ({ range: lines(line, line + 1), context: { diagnostics: [] } }),
  ],
  ['code lenses', 'textDocument/codeLens', check],
  ['tokens of 60 lines', 'textDocument/semanticTokens/range', check, around],
  [PICTURE, 'rollbook/picture', check],
]

const around = ({ line }: Position) => ({ range: lines(Math.max(0, line - 30), line + 30) })

const lines = (from: number, to: number) => ({ start: { line: from, character: 0 }, end: { line: to, character: 0 } })
