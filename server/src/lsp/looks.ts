// How a document is looked at: the same name highlighted, a selection that grows, folds, links.
import type {
  DocumentHighlight,
  DocumentLink,
  DocumentLinkParams,
  FoldingRange,
  FoldingRangeParams,
  SelectionRange,
  SelectionRangeParams,
  TextDocumentPositionParams,
} from 'vscode-languageserver'
import type { Span } from '../base/span.ts'
import type { Positions } from './documents.ts'
import { aboutDocument, type Feature } from './feature.ts'
import { DocumentHighlightKind, FoldingRangeKind } from './protocol.ts'
import { toRange } from './to-proto.ts'

export const highlights: Feature = {
  capability: { documentHighlightProvider: true },
  requests: {
    'textDocument/documentHighlight': aboutDocument<TextDocumentPositionParams, DocumentHighlight[]>(
      { position: 'position' },
      ({ position }, { file, positions, session }) =>
        session.analysis.highlights(file, positions.offset(position)).map(({ span, gives }) => ({
          range: toRange(positions, span),
          kind: gives ? DocumentHighlightKind.Write : DocumentHighlightKind.Read,
        })),
    ),
  },
}

export const selections: Feature = {
  capability: { selectionRangeProvider: true },
  requests: {
    'textDocument/selectionRange': aboutDocument<SelectionRangeParams, SelectionRange[]>(
      { positions: 'positions' },
      (params, { file, positions, session }) =>
        params.positions.map((position) => toSelection(positions, session.analysis.selections(file, positions.offset(position)))),
    ),
  },
}

/** The smallest stretch, in which each names the next larger one. */
function toSelection(positions: Positions, spans: readonly Span[]): SelectionRange {
  const [first, ...larger] = spans.map((span) => toRange(positions, span)).reverse()
  return larger.reduce<SelectionRange>((parent, range) => ({ range, parent }), { range: first! })
}

export const folding: Feature = {
  capability: { foldingRangeProvider: true },
  requests: {
    'textDocument/foldingRange': aboutDocument<FoldingRangeParams, FoldingRange[]>({}, (_, { file, positions, session }) =>
      session.analysis.folds(file).map(({ start, end, kind }) => ({
        startLine: positions.position(start).line,
        endLine: positions.position(end).line,
        ...(kind === 'comment' && { kind: FoldingRangeKind.Comment }),
      })),
    ),
  },
}

export const links: Feature = {
  capability: { documentLinkProvider: {} },
  requests: {
    'textDocument/documentLink': aboutDocument<DocumentLinkParams, DocumentLink[]>({}, (_, { file, positions, session }) =>
      session.analysis.links(file).map(({ span, target, tooltip }) => ({
        range: toRange(positions, span),
        target: session.texts.uri(target),
        ...(session.able.linkTooltips && { tooltip }),
      })),
    ),
  },
}
