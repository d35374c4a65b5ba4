// A name that is not written as names are: other documents could not refer to it.
import { ID_KEY } from '../model/facts.ts'
import { isId } from '../schema/structure.ts'
import { defineRule } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { writeValue } from './support/fixes.ts'
import { issuesOf } from './support/issues.ts'
import { placeOfSpot } from './support/places.ts'
import { quoted } from './support/words.ts'

export const rule = defineRule({
  code: 'bad-id',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A name is not lower-case words joined by hyphens.',
  docs: `Names are lower-case words of letters and digits joined by hyphens, such as \`cast-film-50\`, and no plain number: so they are the same on
every computer, in every file name and to every program. The words a person should see belong in \`title\`.`,
  check(context) {
    const { document } = context
    for (const found of issuesOf(context, 'bad-id')) {
      const { issue, span } = found
      const own = found.path.length === 1 && found.name === ID_KEY[document.kind]
      const right = own && isId(document.baseName) ? document.baseName : issue.suggestion
      const meant = right === undefined ? '.' : `; did you mean '${right}'?`
      context.report(span, `${quoted(issue.value)} is not a name: names are lower-case words joined by hyphens${meant}`, {
        fixes: () => (right === undefined ? [] : [writeValue(placeOfSpot(document, found), right, true)]),
      })
    }
  },
  examples: [
    {
      name: 'capitals and a space',
      text: 'stock: $0Cast Film 50$0\n',
      message: "'Cast Film 50' is not a name: names are lower-case words joined by hyphens; did you mean 'cast-film-50'?",
      after: 'stock: cast-film-50\n',
      fixes: ["Write 'cast-film-50' [preferred]"],
    },
    {
      name: 'the document’s own name is its file’s',
      text: 'profile: $0The_Example$0\n',
      message: "'The_Example' is not a name: names are lower-case words joined by hyphens; did you mean 'example'?",
      after: 'profile: example\n',
      fixes: ["Write 'example' [preferred]"],
      testOnly: true,
    },
    { name: 'lower-case words', text: 'stock: cast-film-50\n' },
    {
      name: 'nothing to make a name of',
      text: 'stock: $0"§§"$0\n',
      message: "'§§' is not a name: names are lower-case words joined by hyphens.",
      testOnly: true,
    },
  ],
})
