// A key that the format does not know: what it was meant to set is not set.
import { replaceKey } from '../model/edit.ts'
import { renamedWord } from '../schema/renamed.ts'
import { DOCUMENT_KINDS, type DocumentKind, keysOf, type SchemaNode, schemaOfKey, wordsOf } from '../schema/schema.ts'
import type { Pair } from '../syntax/tree.ts'
import { defineRule, type Fix, type RuleContext } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { fixOf } from './support/fixes.ts'
import { type Issue, issuesOf, keySpanIn, mapSchemaOf, type Spotted } from './support/issues.ts'
import { pairOf } from './support/mistakes.ts'
import { isMoved, moveToState } from './support/moved.ts'
import { listed, quoted } from './support/words.ts'

export const rule = defineRule({
  code: 'unknown-key',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A key is not known.',
  docs: `What an unknown key was meant to set is not set, and nobody is told on press. Most often a letter slipped, or the key stands in the wrong
section. Below \`notes\`, and below keys of your own that begin with \`x-\`, anything may stand.`,
  check(context) {
    for (const found of issuesOf(context, 'unknown-key')) {
      const { issue, node } = found
      const near = issue.nearest
      if (context.setup && node.kind === 'map' && context.document.kind === 'media' && isMoved(found.path, issue.key)) {
        const { document, setup } = context
        context.report(
          keySpanIn(context, found, issue.key),
          `'${issue.key}' is not a key here any more: the state that 'under' names says it.`,
          {
            fixes: () => [moveToState(document, setup, found.path, node)],
          },
        )
        continue
      }
      const pair = pairOf(node, issue.key)
      context.report(keySpanIn(context, found, issue.key), messageFor(context, found), {
        fixes: () =>
          near !== undefined && pair && !pairOf(node, near)
            ? [writeMeant(pair, near, mapSchemaOf(context, found)?.properties.get(near), issue.elsewhere.length === 0)]
            : [],
      })
    }
  },
  examples: [
    {
      name: 'a mistyped key',
      text: 'feed: { $0corection$0: +0.12 % }\n',
      message: "'corection' is not a key here; did you mean 'correction'?",
      after: 'feed: { correction: +0.12 % }\n',
      fixes: ["Write 'correction' [preferred]"],
    },
    {
      name: 'a key that has another name now',
      text: 'carriage: { $0travel$0: image, strikes: 1 }\n',
      message: "'travel' is not a key here; did you mean 'turn-at'?",
      after: 'carriage: { turn-at: print-edge, strikes: 1 }\n',
      fixes: ["Write 'turn-at: print-edge' [preferred]"],
    },
    {
      name: 'another name now, with a word that nobody knows',
      text: 'carriage: { $0travel$0: far }\n',
      message: "'travel' is not a key here; did you mean 'turn-at'?",
      after: 'carriage: { turn-at: far }\n',
      fixes: ["Write 'turn-at' [preferred]"],
      testOnly: true,
    },
    {
      name: 'a key in the wrong section',
      text: 'heat:\n  $0pause$0: 2 s\n',
      message: "'pause' is not a key here; it belongs in 'drying' or an entry of 'keyed'.",
    },
    {
      name: 'a key of another kind of document',
      text: 'profile: example\n$0grammage$0: 510 g/m²\n',
      message: "'grammage' is not a key here; it belongs in a stock's document.",
    },
    {
      name: 'a key that nothing is like',
      text: 'web: { $0colour-of-liner$0: white }\n',
      message:
        "'colour-of-liner' is not a key here; there are 'wound', 'tension', 'slack-watch' and 'speed'. Keys of your own begin with x-.",
    },
    {
      name: 'a key that programs trip over',
      text: '$0__proto__$0: { gap: 2 mm }\n',
      message: "'__proto__' is not a key here. Keys of your own begin with x-.",
      testOnly: true,
    },
    {
      name: 'known keys, and one of the shop’s own',
      text: 'feed: { correction: +0.12 % }\nx-shelf: 12\nnotes: { anything: goes }\n',
    },
    {
      name: 'a key of an entry, in the document itself',
      text: `#- p.printer.yaml
printer: p
$0resolution$0: 720 x 720 dpi
`,
      message: "'resolution' is not a key here; it belongs in an entry of 'modes'.",
      testOnly: true,
    },
    {
      name: 'a key of the document itself, in a section',
      text: 'heat: { $0gap$0: 2 mm }\n',
      message: "'gap' is not a key here; it belongs in the document itself, an entry of 'keyed' or an entry of 'conditions'.",
      testOnly: true,
    },
    {
      name: 'a mistyped key that stands there already',
      text: 'feed: { correction: 0 %, $0corection$0: +0.12 % }\n',
      message: "'corection' is not a key here; did you mean 'correction'?",
      testOnly: true,
    },
    {
      name: 'a mode that a state says now',
      text: `stock: banner
printer: bay-1
mode: quick
alignment:
  date: 2026-03-14
  $0mode$0: fine    # the slow one
  two-way: { cyan: 1 }

notes: none
`,
      message: "'mode' is not a key here any more: the state that 'under' names says it.",
      after: `stock: banner
printer: bay-1
mode: quick
alignment:
  date: 2026-03-14
  under: s6fpl    # the slow one
  two-way: { cyan: 1 }

conditions:
  s6fpl: { from: said, stock: banner, printer: bay-1, mode: fine }

notes: none
`,
      fixes: ['Move mode into a state under conditions'],
    },
    {
      name: 'of fine picks, where such a state is there already',
      text: `stock: banner
printer: bay-1
mode: quick
feed: { fine: { date: 2026-03-14, applied: 0 %, $0mode$0: fine, picks: [0] } }
conditions:
  slow: { from: said, stock: banner, printer: bay-1, mode: fine }
`,
      message: "'mode' is not a key here any more: the state that 'under' names says it.",
      after: `stock: banner
printer: bay-1
mode: quick
feed: { fine: { date: 2026-03-14, applied: 0 %, under: slow, picks: [0] } }
conditions:
  slow: { from: said, stock: banner, printer: bay-1, mode: fine }
`,
      fixes: ['Move mode into a state under conditions'],
      testOnly: true,
    },
    {
      name: 'a gap in one of several modes',
      text: `stock: banner
printer: bay-1
mode: quick
alignment: { date: 2026-03-14, $0gap$0: 1.5 mm }
#- bay-1.printer.yaml
printer: bay-1
modes: { quick: { passes: 4 }, fine: { passes: 16 } }
`,
      message: "'gap' is not a key here any more: the state that 'under' names says it.",
      fixes: [
        'Move gap into a state under conditions [refused: A state needs its mode, and this does not say in which it was printed.]',
      ],
      testOnly: true,
    },
    {
      name: 'a gap in the one mode there is',
      text: `stock: banner
printer: bay-1
mode: quick
alignment: { date: 2026-03-14, $0gap$0: 1.5 mm }
#- bay-1.printer.yaml
printer: bay-1
modes: { quick: { passes: 4 } }
`,
      message: "'gap' is not a key here any more: the state that 'under' names says it.",
      after: `stock: banner
printer: bay-1
mode: quick
alignment: { date: 2026-03-14, under: s3a57 }
conditions:
  s3a57: { from: said, stock: banner, printer: bay-1, mode: quick, gap: 1.5 mm }
`,
      fixes: ['Move gap into a state under conditions'],
      testOnly: true,
    },
    {
      name: 'beside a state',
      text: `stock: banner
printer: bay-1
mode: quick
alignment: { date: 2026-03-14, under: slow, $0mode$0: fine }
`,
      message: "'mode' is not a key here any more: the state that 'under' names says it.",
      fixes: [
        'Move mode into a state under conditions [refused: It names a state already: see that it says the same, and take this out by hand.]',
      ],
      testOnly: true,
    },
    {
      name: 'a mode that is no name',
      text: `stock: banner
printer: bay-1
mode: quick
feed: { fine: { date: 2026-03-14, $0mode$0: Fine 2 } }
`,
      message: "'mode' is not a key here any more: the state that 'under' names says it.",
      fixes: ['Move mode into a state under conditions [refused: The mode is no name; put it right first.]'],
      testOnly: true,
    },
    {
      name: 'in many sections',
      text: 'feed: { $0date$0: 2026-03-01 }\n',
      message: "'date' is not a key here; there are 'correction', 'checks' and 'fine'. Keys of your own begin with x-.",
      testOnly: true,
    },
  ],
})

/** Writes the key that was meant, and the word behind it under the name that it has now. */
function writeMeant({ key, value }: Pair, meant: string, schema: SchemaNode | undefined, preferred: boolean): Fix | undefined {
  if (!key) return undefined
  const words = schema?.kind === 'leaf' ? wordsOf(schema) : []
  const word = value.kind === 'scalar' && value.style === 'plain' ? renamedWord(value.text, words) : undefined
  const edit = replaceKey(key, meant)
  if (word === undefined || !edit.ok) return fixOf(`Write '${meant}'`, edit, preferred)
  const edits = [...edit.edits, { start: value.start, end: value.end, newText: word }]
  return { title: `Write '${meant}: ${word}'`, edits, ...(preferred && { preferred }) }
}

/** No more keys than these are listed. */
const MAX_NAMED = 8

function messageFor(context: RuleContext, found: Spotted<'unknown-key'>): string {
  const { issue } = found
  const what = `${quoted(issue.key)} is not a key here`
  const places = belongsIn(context.document.kind, issue)
  if (places.length > 0 && places.length <= 3) {
    const meant = issue.nearest === undefined ? '' : `, or did you mean '${issue.nearest}'?`
    return `${what}; it belongs in ${listed(places, 'or')}${meant || '.'}`
  }
  if (issue.nearest !== undefined) return `${what}; did you mean '${issue.nearest}'?`
  const known = [...(mapSchemaOf(context, found)?.properties.keys() ?? [])]
  const there = known.length > 0 && known.length <= MAX_NAMED ? `; there are ${listed(known.map((k) => `'${k}'`))}` : ''
  return `${what}${there}. Keys of your own begin with x-.`
}

const DOCUMENTS: Readonly<Record<DocumentKind, string>> = {
  media: 'a profile',
  stock: "a stock's document",
  printer: "a printer's document",
  shop: 'rollbook.yaml',
}

/** Where the format does know the key: in other sections of this document, or else in other documents. */
function belongsIn(kind: DocumentKind, { key, elsewhere }: Issue<'unknown-key'>): readonly string[] {
  if (elsewhere.length > 0) return [...new Set(elsewhere.map((path) => sectionOf(schemaOfKey(kind, path)?.steps ?? [])))]
  return DOCUMENT_KINDS.filter((other) => other !== kind && keysOf(other).includes(key)).map((other) => DOCUMENTS[other])
}

function sectionOf(steps: readonly string[]): string {
  const section = steps.slice(0, -1).join('.')
  if (section === '') return 'the document itself'
  return section.endsWith('.*')
    ? `an entry of '${section.slice(0, -2).replaceAll('.*', '')}'`
    : `'${section.replaceAll('.*', '')}'`
}
