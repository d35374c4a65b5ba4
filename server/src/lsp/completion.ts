// What may be written at the cursor.
import type { CompletionList, CompletionParams } from 'vscode-languageserver'
import { aboutDocument, type Feature } from './feature.ts'
import { takesCompletion, toCompletion } from './to-proto.ts'

export const completion: Feature = {
  // '%' is no part of a word, so that an editor would go on showing the list of a number's units, and take Enter for one of them. Not ':', ',' or
  // '{': what follows them may be a new line, and a list must not stand between a person and Enter.
  capability: { completionProvider: { triggerCharacters: [' ', '%'] } },
  requests: {
    'textDocument/completion': aboutDocument<CompletionParams, CompletionList>(
      { position: 'position' },
      ({ position }, { file, positions, session: { analysis, able } }) => {
        const items = analysis.completions(file, positions.offset(position)).filter((item) => takesCompletion(item, able))
        // Always to be asked again: an editor that goes on with an old list keeps it open where nothing matches what is typed, and Enter
        // then writes an item of it over that.
        return { isIncomplete: true, items: items.map((item) => toCompletion(item, positions, able)) }
      },
    ),
  },
}
