// What is shown beside the text, unless a person has turned it off.
import type { InlayHint, InlayHintParams } from 'vscode-languageserver'
import { aboutText, type Feature } from './feature.ts'
import { toHint, toSpan } from './to-proto.ts'

export const hints: Feature = {
  capability: { inlayHintProvider: true },
  requests: {
    'textDocument/inlayHint': aboutText<InlayHintParams, InlayHint[]>(
      { range: 'range' },
      ({ range }, { file, positions, session: { analysis, able, settings } }) =>
        settings.hints ? analysis.hints(file, toSpan(positions, range)).map((hint) => toHint(hint, positions, able)) : [],
    ),
  },
}
