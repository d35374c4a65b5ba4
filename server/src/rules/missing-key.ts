// A key that must be there: without it the document, or the check it stands in, proves nothing.
import { addKey } from '../model/edit.ts'
import { ID_KEY } from '../model/facts.ts'
import type { ShopDocument } from '../model/generated/documents.ts'
import { isId } from '../schema/structure.ts'
import type { MapNode } from '../syntax/tree.ts'
import { defineRule, type Fix, type RuleContext } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { fixOf } from './support/fixes.ts'
import { issuesOf, mapSchemaOf, type Spotted } from './support/issues.ts'
import { visible } from './support/lines.ts'
import { asPhrase, listed } from './support/words.ts'

export const rule = defineRule({
  code: 'missing-key',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A key is missing that has to be there.',
  docs: `A profile needs its stock, its printer and its mode (or a base to take them from), and a check needs its date and what was
commanded, measured and applied: without them nothing can be reckoned. Where the value is beyond doubt, such as a name that is the file's,
it is offered.`,
  check(context) {
    if (!context.document.tree.root) reportEmpty(context)
    const together = new Map<unknown, Spotted<'missing-key'>[]>()
    for (const found of issuesOf(context, 'missing-key')) {
      const before = together.get(found.node)
      if (before) before.push(found)
      else together.set(found.node, [found])
    }
    for (const missing of together.values()) {
      context.report(missing[0]!.span, messageFor(context, missing), { fixes: () => fixesFor(context, missing) })
    }
  },
  examples: [
    {
      name: 'a check without its result',
      text: 'profile: example\nbase: other\nfeed:\n  checks:\n    - $0{ date: 2026-03-14, commanded: 1000 mm, applied: 0 % }$0\n',
      message: "'measured' is missing: length the pattern came out at.",
    },
    {
      name: 'a profile without its name',
      text: '$0base$0: other\ngap: 2 mm\n',
      message: "'profile' is missing: name of the profile, the same as the name of its file.",
      after: 'profile: example\nbase: other\ngap: 2 mm\n',
      fixes: ["Add 'profile: example' [preferred]"],
    },
    {
      name: 'a profile with nothing to print on',
      text: '$0profile$0: example\ngap: 2 mm\n',
      message: "'stock', 'printer' and 'mode' are missing; without 'base' there is nowhere to take them from.",
    },
    {
      name: 'a stock, where the shop has one only',
      text: '$0profile$0: example\nprinter: bay-1\nmode: draft\n#- banner.stock.yaml\nstock: banner\n',
      message: "'stock' is missing: the stock that is printed on; without 'base' there is nowhere to take it from.",
      after: 'profile: example\nstock: banner\nprinter: bay-1\nmode: draft\n',
      fixes: ["Add 'stock: banner'"],
      testOnly: true,
    },
    {
      name: 'a mode, where the printer has one only',
      text: '$0profile$0: example\nstock: banner\nprinter: bay-1\n#- bay-1.printer.yaml\nprinter: bay-1\nmodes: {draft: {passes: 4}}\n',
      message:
        "'mode' is missing: the print mode, as the printer's document names it; without 'base' there is nowhere to take it from.",
      after: 'profile: example\nstock: banner\nprinter: bay-1\nmode: draft\n',
      fixes: ["Add 'mode: draft'"],
      testOnly: true,
    },
    {
      name: 'a section without its date',
      text: 'profile: example\nbase: other\n$0alignment$0:\n  gap: 2 mm\n',
      message: "'date' is missing: day the pattern was printed.",
      testOnly: true,
    },
    {
      name: 'an error that begins nowhere',
      text: `#- rollbook.yaml
shop: S
instruments:
  tape: { kind: tape, calibrated: 2026-02-10, errors: [$0{ error: +0.6 mm/m }$0] }
`,
      message: "'from' is missing: first day on which it read wrong by this much.",
      after: `shop: S
instruments:
  tape: { kind: tape, calibrated: 2026-02-10, errors: [{ error: +0.6 mm/m, from: 2026-02-10 }] }
`,
      fixes: ["Add 'from: 2026-02-10'"],
    },
    {
      name: 'an empty document',
      text: '$0# a profile to come\n',
      message: "This document is empty; it begins with its name, 'profile: example'.",
      testOnly: true,
    },
    { name: 'everything that has to be there', text: 'profile: example\nstock: banner\nprinter: bay-1\nmode: draft\n' },
    { name: 'taken from a base', text: 'profile: example\nbase: other\n' },
    {
      name: 'an empty document of the shop',
      text: `#- rollbook.yaml

$0# nothing yet$0
`,
      message: "This document is empty; it begins with its name, 'shop: Our Print Shop'.",
      testOnly: true,
    },
    {
      name: 'an empty document whose file has a name that no document can have',
      text: `#- My_Film.stock.yaml
$0# to come$0
`,
      message: "This document is empty; it begins with its name, 'stock: its-name'.",
      testOnly: true,
    },
    {
      name: 'a stock, where the shop has two',
      text: `$0profile$0: example
printer: bay-1
mode: draft
#- banner.stock.yaml
stock: banner
#- film.stock.yaml
stock: film
`,
      message: "'stock' is missing: the stock that is printed on; without 'base' there is nowhere to take it from.",
      testOnly: true,
    },
    {
      name: 'a stock, where the only one has no name that can be written',
      text: `$0profile$0: example
printer: bay-1
mode: draft
#- Banner.stock.yaml
stock: Banner 510
`,
      message: "'stock' is missing: the stock that is printed on; without 'base' there is nowhere to take it from.",
      testOnly: true,
    },
    {
      name: 'a mode, where the printer has two',
      text: `$0profile$0: example
stock: banner
printer: bay-1
#- bay-1.printer.yaml
printer: bay-1
modes: {draft: {passes: 4}, fine: {passes: 16}}
`,
      message:
        "'mode' is missing: the print mode, as the printer's document names it; without 'base' there is nowhere to take it from.",
      testOnly: true,
    },
    {
      name: 'a stock without its name',
      text: `#- My_Film.stock.yaml
$0family$0: film-pet
`,
      message: "'stock' and 'thickness' are missing.",
      testOnly: true,
    },
    {
      name: 'a printer, where the shop has one only',
      text: `$0profile$0: example
stock: banner
mode: draft
#- bay-1.printer.yaml
printer: bay-1
#- x.stock.yaml
# no name yet
`,
      message: "'printer' is missing: the printer that prints; without 'base' there is nowhere to take it from.",
      after: `profile: example
stock: banner
printer: bay-1
mode: draft
`,
      fixes: ["Add 'printer: bay-1'"],
      testOnly: true,
    },
  ],
})

/** A document of comments alone. One whose text could not be read at all is told of by other rules. */
function reportEmpty(context: RuleContext): void {
  const { document } = context
  if (document.tree.problems.length > 0) return
  const { kind, baseName, text } = document
  const name = kind === 'shop' ? 'shop: Our Print Shop' : `${ID_KEY[kind]}: ${isId(baseName) ? baseName : 'its-name'}`
  const first = Math.max(text.search(/\S/), 0)
  context.report(visible(text, { start: first, end: text.length }), `This document is empty; it begins with its name, '${name}'.`)
}

function messageFor(context: RuleContext, missing: readonly Spotted<'missing-key'>[]): string {
  const [first, ...others] = missing
  const why = missing.find((m) => m.issue.why)?.issue.why
  if (others.length === 0) {
    const meaning = mapSchemaOf(context, first!)?.properties.get(first!.issue.key)?.description
    return `'${first!.issue.key}' is missing${meaning ? `: ${asPhrase(withoutHead(meaning))}` : ''}${why ? `; ${why}` : ''}.`
  }
  const names = listed(missing.map((m) => `'${m.issue.key}'`))
  return `${names} are missing${why ? `; ${why.replace(/\bit\b/, 'them')}` : ''}.`
}

/** "The feed: how its correction is keyed in." without what the key says by itself. */
const withoutHead = (meaning: string): string => meaning.slice(meaning.indexOf(': ') + 1).trim()

function fixesFor(context: RuleContext, missing: readonly Spotted<'missing-key'>[]): readonly (Fix | undefined)[] {
  return missing.map(({ issue, node, path }) => {
    const value = node === context.document.tree.root ? valueFor(context, issue.key) : calibratedOf(context, path, issue.key)
    if (value === undefined || node.kind !== 'map') return undefined
    const own = issue.key === ID_KEY[context.document.kind]
    const title = `Add '${issue.key}: ${value}'`
    return fixOf(title, addKey(context.document.text, node, issue.key, value, keyBefore(context, node, issue.key)), own)
  })
}

/** The value of a key of the document itself, where nothing else can be meant. */
function valueFor({ document, shelf, setup }: RuleContext, key: string): string | undefined {
  if (key === ID_KEY[document.kind]) return isId(document.baseName) ? document.baseName : undefined
  if (document.kind !== 'media') return undefined
  if (key === 'mode') {
    const modes = [...(setup?.printer?.modes?.entries.keys() ?? [])]
    return modes.length === 1 ? modes[0] : undefined
  }
  if ((key !== 'stock' && key !== 'printer') || !shelf.complete) return undefined
  const ids = new Set([...shelf.all(key)].flatMap((facts) => facts.values[key]?.text ?? []))
  const [only] = ids
  return ids.size === 1 && only !== undefined && isId(only) ? only : undefined
}

/** An instrument that is in doubt, or wrong, since nobody knows when: it was not before it was last calibrated. */
function calibratedOf({ document }: RuleContext, path: readonly (string | number)[], key: string): string | undefined {
  if (document.kind !== 'shop' || path[0] !== 'instruments' || key !== 'from') return undefined
  return (document.content as ShopDocument | undefined)?.instruments?.entries.get(String(path[1]))?.calibrated?.value
}

/** The last key that stands before this one in the schema's order and is given. */
function keyBefore({ document }: RuleContext, map: MapNode, key: string): string | undefined {
  const order = [...document.schema.properties.keys()]
  return order
    .slice(0, order.indexOf(key))
    .filter((k) => map.pair(k))
    .at(-1)
}
