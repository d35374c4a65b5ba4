// A value of another kind than its key takes: a text for a number, a list for a single value.

import { listOfOne } from '../model/edit.ts'
import { renamedSwitch } from '../schema/renamed.ts'
import { type LeafSchema, type MapSchema, type SchemaNode, wordsOf } from '../schema/schema.ts'
import { dateFrom, isId } from '../schema/structure.ts'
import type { MapNode, ScalarNode } from '../syntax/tree.ts'
import { defineRule, type Fix, type RuleContext } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { fixOf } from './support/fixes.ts'
import { type Issue, issuesOf } from './support/issues.ts'
import { keySpanOf, type Spot, schemaOfSpot } from './support/places.ts'
import { leaveOut } from './support/setting.ts'
import { quoted } from './support/words.ts'

export const rule = defineRule({
  code: 'wrong-kind',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A value is not of the kind its key takes.',
  docs: `The setting counts as not given. Often a value is still to be filled in, a number stands in quotes, or \`yes\` stands where \`true\` is due:
some programs read \`yes\` as true and others as the word, so the format takes \`true\` and \`false\` only.`,
  check(context) {
    for (const found of issuesOf(context, 'wrong-kind')) {
      const { issue, pair, span } = found
      const empty = issue.found === 'nothing' && keySpanOf(pair)
      context.report(empty || span, messageFor(context, found, issue), { fixes: () => fixesFor(context, found) })
    }
  },
  examples: [
    {
      name: 'yes for true',
      text: 'heat: { fan: $0yes$0 }\n',
      message: "'fan' takes true or false; 'yes' is a text to some programs and true to others.",
      after: 'heat: { fan: true }\n',
      fixes: ['Write true [preferred]'],
    },
    {
      name: 'no value yet',
      text: '$0gap$0:\nsuction: 2\n',
      message: "'gap' has no value; a length (mm, m, µm or in) is due.",
      after: 'suction: 2\n',
      fixes: ["Leave 'gap' out"],
    },
    {
      name: 'nothing was measured',
      text: 'feed:\n  checks:\n    - { date: 2026-03-14, commanded: 1 m, measured: 1 m, applied: 0 %, $0web$0: , lot: A }\n',
      message: "'web' has no value; a temperature (°C or °F) is due.",
      after: 'feed:\n  checks:\n    - { date: 2026-03-14, commanded: 1 m, measured: 1 m, applied: 0 %, lot: A }\n',
      fixes: ["Leave 'web' out"],
    },
    {
      name: 'a value that must be there',
      text: 'feed:\n  checks:\n    - { date: 2026-03-14, commanded: 1 m, $0measured$0: , applied: 0 % }\n',
      message: "'measured' has no value; a length (mm, m, µm or in) is due.",
      testOnly: true,
    },
    {
      name: 'a number in quotes',
      text: '#- example.printer.yaml\nheads: { rows: $0"2"$0 }\n',
      message: "'rows' takes a whole number; here is a text.",
      after: 'heads: { rows: 2 }\n',
      fixes: ['Write 2 [preferred]'],
    },
    {
      name: 'a group where a list is due',
      text: 'feed:\n  $0checks$0:\n    date: 2026-03-14\n    measured: 998.8 mm\n',
      message: "'checks' takes a list; here is a group of keys. Begin each entry with a dash.",
      after: 'feed:\n  checks:\n    - date: 2026-03-14\n      measured: 998.8 mm\n',
      fixes: ['Make it a list with this one entry [preferred]'],
    },
    {
      name: 'read back once, with comments',
      text: '$0keyed$0: # after the service\n  date: 2026-03-14 # Ada\n\n  # at the lever\n  gap: 2 mm\n\nnotes: none\n',
      message: "'keyed' takes a list; here is a group of keys. Begin each entry with a dash.",
      after: 'keyed: # after the service\n  - date: 2026-03-14 # Ada\n\n    # at the lever\n    gap: 2 mm\n\nnotes: none\n',
      fixes: ['Make it a list with this one entry [preferred]'],
      testOnly: true,
    },
    {
      name: 'read back once, on one line',
      text: 'keyed: $0{ date: 2026-03-14, gap: 2 mm }$0 # Ada\n',
      message: "'keyed' takes a list; here is a group of keys.",
      after: 'keyed: [{ date: 2026-03-14, gap: 2 mm }] # Ada\n',
      fixes: ['Make it a list with this one entry [preferred]'],
      testOnly: true,
    },
    {
      name: 'an entry that another list takes by its anchor',
      text: 'x-first: &first\n  - date: 2026-03-14\nkeyed: &one $0{ date: 2026-03-14, gap: 2 mm }$0\nx-again: *one\n',
      message: "'keyed' takes a list; here is a group of keys.",
      fixes: [
        'Make it a list with this one entry [refused: The value is shared through an anchor (&) and an alias (*): changing it here would change it elsewhere. Write it out first.]',
      ],
      testOnly: true,
    },
    {
      name: 'a group with names of its own where a list is due',
      text: '$0observed$0:\n  monday: { date: 2026-03-14, fault: bands-dark }\n',
      message: "'observed' takes a list; here is a group of keys. Begin each entry with a dash.",
      testOnly: true,
    },
    {
      name: 'one value where a list is due',
      text: '#- example.printer.yaml\nheads: { channels: $0black$0 }\n',
      message: "'channels' takes a list; here is a text.",
      after: 'heads: { channels: [black] }\n',
      fixes: ['Make it a list of one [preferred]'],
    },
    {
      name: 'one word where a list of them is due',
      text: '#- p.printer.yaml\nprinter: p\nweb: { slack-watch: $0always$0 }\n',
      message: "'slack-watch' takes a list; here is a text.",
      after: 'printer: p\nweb: { slack-watch: [always] }\n',
      fixes: ['Make it a list of one [preferred]'],
      testOnly: true,
    },
    {
      name: 'a switch that is a list of words now',
      text: '#- p.printer.yaml\nprinter: p\nweb: { slack-watch: $0true$0 }\n',
      message: "'slack-watch' takes a list; here is true.",
      after: 'printer: p\nweb: { slack-watch: [never, at-intervals] }\n',
      fixes: ['Write [never, at-intervals]'],
      testOnly: true,
    },
    {
      name: 'a switch that was off',
      text: '#- p.printer.yaml\nprinter: p\nweb: { slack-watch: $0false$0 }\n',
      message: "'slack-watch' takes a list; here is false.",
      after: 'printer: p\nweb: { slack-watch: [never] }\n',
      fixes: ['Write [never]'],
      testOnly: true,
    },
    {
      name: 'a word that no list of them has',
      text: '#- p.printer.yaml\nprinter: p\nweb: { slack-watch: $0sometimes$0 }\n',
      message: "'slack-watch' takes a list; here is a text.",
      testOnly: true,
    },
    {
      name: 'a number where names are due',
      text: '#- p.printer.yaml\nprinter: p\nfeed: { fine: { rows: $03$0 } }\n',
      message: "'rows' takes a list; here is a whole number.",
      testOnly: true,
    },
    {
      name: 'a list without its opening bracket',
      text: '#- example.printer.yaml\nfeed: { entry: percent }\nheads:\n  channels: $0cyan, black]$0\n',
      message: "'channels' takes a list; its opening [ is missing.",
      after: 'feed: { entry: percent }\nheads:\n  channels: [cyan, black]\n',
      fixes: ['Add the opening bracket [preferred]'],
      testOnly: true,
    },
    {
      name: 'a date without its hyphens',
      text: 'keyed: [{ date: $020260314$0 }]\n',
      message: "'date' takes a date such as 2026-03-14; here is a whole number.",
      after: 'keyed: [{ date: 2026-03-14 }]\n',
      fixes: ['Write 2026-03-14 [preferred]'],
      testOnly: true,
    },
    {
      name: 'an item that is nothing',
      text: 'feed: { fine: { picks: [0, $0~$0, 0] } }\n',
      message: "An entry of 'picks' has no value; a number is due.",
      testOnly: true,
    },
    {
      name: 'an alias of a list of other things',
      text: 'x-names: &names [Ada, Ben, Cleo]\nobserved: $0*names$0\n',
      message: "An entry of 'observed' takes a group of keys; here is a text.",
      testOnly: true,
    },
    {
      name: 'a list for a document',
      text: '$0- gap: 2 mm$0\n',
      message: 'A document takes a group of keys; here is a list.',
      testOnly: true,
    },
    {
      name: 'a file alone, as measurements once were',
      text: 'colour:\n  measured:\n    - $0colour/strip.txt$0   # on the new lot\n',
      message: "An entry of 'measured' takes a group of keys; here is a text.",
      after: 'colour:\n  measured:\n    - { file: colour/strip.txt }   # on the new lot\n',
      fixes: ['Make it the file of an entry'],
    },
    { name: 'values of the right kinds', text: 'heat: { fan: true }\ncolour: { measured: [{ file: target.txt }] }\n' },
    {
      name: 'a word for a switch',
      text: 'heat: { fan: $0sometimes$0 }\n',
      message: "'fan' takes true or false; here is a text.",
      testOnly: true,
    },
    {
      name: 'a capital TRUE in quotes',
      text: "heat: { fan: $0'TRUE'$0 }\n",
      message: "'fan' takes true or false; here is a text.",
      after: 'heat: { fan: true }\n',
      fixes: ['Write true [preferred]'],
      testOnly: true,
    },
    {
      name: 'a text for a list of groups',
      text: 'observed: $0banding$0\n',
      message: "'observed' takes a list; here is a text.",
      testOnly: true,
    },
    {
      name: 'a group for a switch',
      text: 'heat: { fan: $0{ speed: 2 }$0 }\n',
      message: "'fan' takes true or false; here is a group of keys.",
      testOnly: true,
    },
    {
      name: 'a fraction in quotes where a whole number is due',
      text: "alignment: { one-way: { cyan: $0'1.5'$0 } }\n",
      message: "'cyan' takes a number; here is a text.",
      after: 'alignment: { one-way: { cyan: 1.5 } }\n',
      fixes: ['Write 1.5 [preferred]'],
      testOnly: true,
    },
    {
      name: 'a number in quotes',
      text: `#- s.stock.yaml
stock: s
friction: $0'0.4'$0
`,
      message: "'friction' takes a number; here is a text.",
      after: `stock: s
friction: 0.4
`,
      fixes: ['Write 0.4 [preferred]'],
      testOnly: true,
    },
    {
      name: 'words for a number',
      text: `#- s.stock.yaml
stock: s
friction: $0low$0
`,
      message: "'friction' takes a number; here is a text.",
      testOnly: true,
    },
    {
      name: 'an item without a value',
      text: `colour: { measured: [{ file: a.txt }, ] }
feed:
  checks:
    $0-$0
`,
      message: "An entry of 'checks' has no value; a group of keys is due.",
      testOnly: true,
    },
    {
      name: 'a list for a date',
      text: 'keyed: [{ date: $0[2026-03-14]$0 }]\n',
      message: "'date' takes a date such as 2026-03-14; here is a list.",
      testOnly: true,
    },
  ],
})

function messageFor(context: RuleContext, spot: Spot, { expected, found, path }: Issue<'wrong-kind'>): string {
  const isItem = typeof (path.at(-1) ?? spot.path.at(-1)) === 'number'
  const what = spot.name === undefined ? 'A document' : isItem ? `An entry of '${spot.name}'` : `'${spot.name}'`
  if (found === 'nothing') return `${what} has no value; ${expected} is due.`
  const text = spot.node.kind === 'scalar' ? spot.node.text : ''
  if (expected === 'true or false' && SWITCHES[text.toLowerCase()] !== undefined)
    return `${what} takes true or false; ${quoted(text)} is a text to some programs and ${SWITCHES[text.toLowerCase()]} to others.`
  if (lacksBracket(spot, schemaOfSpot(context.document, spot))) return `${what} takes ${expected}; its opening [ is missing.`
  const dash = schemaOfSpot(context.document, spot)?.kind === 'list' && spot.node.kind === 'map' && !spot.node.flow
  return `${what} takes ${expected}; here is ${found}.${dash ? ' Begin each entry with a dash.' : ''}`
}

const SWITCHES: Readonly<Record<string, 'true' | 'false'>> = {
  yes: 'true',
  y: 'true',
  on: 'true',
  no: 'false',
  n: 'false',
  off: 'false',
}

function fixesFor(context: RuleContext, spot: Spot): readonly (Fix | undefined)[] {
  const { node } = spot
  const schema = schemaOfSpot(context.document, spot)
  if (node.kind === 'scalar' && node.style === 'empty') return [leaveOut(context.document, spot.path)]
  if (spot.pair && node.kind === 'map' && isEntry(node, schema))
    return [fixOf('Make it a list with this one entry', listOfOne(context.document.text, spot.pair), true)]
  if (node.kind !== 'scalar' || node.style === 'block' || !schema) return []
  const value = meant(node.text, schema)
  if (value !== undefined && (node.style === 'plain' || schema.kind === 'leaf')) {
    // Quotes would keep a number or a switch a text: the whole token is replaced.
    const edits = [{ start: node.start, end: node.end, newText: value }]
    return [{ title: `Write ${value}`, edits, preferred: true }]
  }
  if (lacksBracket(spot, schema))
    return [{ title: 'Add the opening bracket', edits: [{ start: node.start, end: node.start, newText: '[' }], preferred: true }]
  if (schema.kind === 'map') return [asFile(context, node, schema)]
  if (schema.kind !== 'list' || schema.items.kind !== 'leaf') return []
  const words = wordsOf(schema.items)
  const now = renamedSwitch(node.text, words)
  if (now)
    return [{ title: `Write [${now.join(', ')}]`, edits: [{ start: node.start, end: node.end, newText: `[${now.join(', ')}]` }] }]
  const names = schema.items.accepts.every((type) => type.type === 'text' && type.form === 'id')
  if ((names && !isId(node.text)) || (words.length > 0 && !words.includes(node.text))) return []
  const written = context.document.text.slice(node.start, node.end)
  return [
    { title: 'Make it a list of one', edits: [{ start: node.start, end: node.end, newText: `[${written}]` }], preferred: true },
  ]
}

/** A group of keys that would be an entry of the list that is due, as a list was once written that had one entry. */
const isEntry = (node: MapNode, schema: SchemaNode | undefined): boolean => {
  const entry = schema?.kind === 'list' ? schema.items : undefined
  return entry?.kind === 'map' && node.pairs.some(({ key }) => key && entry.properties.has(key.text))
}

/** A file that stands alone in a list of what was measured, as it did before each had its day. */
function asFile({ document }: RuleContext, { start, end }: ScalarNode, schema: MapSchema): Fix | undefined {
  const isFile = (node: SchemaNode): boolean =>
    node.kind === 'leaf' && node.accepts.some((type) => type.type === 'text' && type.path === true)
  const key = schema.required.find((name) => isFile(schema.properties.get(name)!))
  if (key === undefined) return undefined
  const newText = `{ ${key}: ${document.text.slice(start, end)} }`
  return { title: `Make it the ${key} of an entry`, edits: [{ start, end, newText }] }
}

/** `picks: 0, 1, 0]` */
const lacksBracket = ({ node }: Spot, schema: SchemaNode | undefined): boolean =>
  schema?.kind === 'list' && node.kind === 'scalar' && node.style === 'plain' && /^[^[\]]*\]$/.test(node.text)

function meant(text: string, schema: SchemaNode): string | undefined {
  if (schema.kind !== 'leaf') return undefined
  const takes = (type: LeafSchema['accepts'][number]['type']): boolean => schema.accepts.some((a) => a.type === type)
  if (takes('boolean')) return SWITCHES[text.toLowerCase()] ?? /^(?:true|false)$/.exec(text.toLowerCase())?.[0]
  if (takes('date')) return dateFrom(text)
  if (takes('integer') && /^[-+]?\d{1,9}$/.test(text)) return text
  return takes('number') && /^[-+]?\d{1,9}(?:\.\d{1,9})?$/.test(text) ? text : undefined
}
