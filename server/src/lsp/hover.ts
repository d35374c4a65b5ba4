// What stands under the pointer, explained.
import type { Hover, HoverParams } from 'vscode-languageserver'
import { aboutText, type Feature } from './feature.ts'
import { toMarkup, toRange } from './to-proto.ts'

export const hover: Feature = {
  capability: { hoverProvider: true },
  requests: {
    'textDocument/hover': aboutText<HoverParams, Hover | null>(
      { position: 'position' },
      ({ position }, { file, positions, session }) => {
        const found = session.analysis.hover(file, positions.offset(position))
        return found ? { contents: toMarkup(found.markdown, session.able.markdown), range: toRange(positions, found.span) } : null
      },
    ),
  },
}
