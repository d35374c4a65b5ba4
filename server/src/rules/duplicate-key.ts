// A key that is given twice: one of the two values is dropped without a sign, and programs differ in which.
import type { TextEdit } from '../base/text-edit.ts'
import type { MapNode, Node, Pair } from '../syntax/tree.ts'
import { defineRule, type Fix, type RuleContext } from './rule.ts'
import { ALL_KINDS } from './support/bad-quantity.ts'
import { lineAt, nextLine } from './support/lines.ts'
import { reportSyntax } from './support/syntax-problems.ts'
import { quoted } from './support/words.ts'

export const rule = defineRule({
  code: 'duplicate-key',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A key is given twice.',
  docs: `Rollbook reads the first of the two; other programs may read the last, or refuse the file. On press that is two people with two
different settings from one profile. Keep the one that is right. Where both say the same, the later one can be deleted without asking.`,
  check(context) {
    const { document } = context
    reportSyntax(
      context,
      'duplicate-key',
      (problem) => message(context, problem.start, problem.detail),
      (problem) => {
        const found = findTwice(document.tree.root, problem.start)
        if (!found) return {}
        const { map, first, again } = found
        return {
          related: [
            {
              file: document.file,
              span: { start: first.start, end: first.key!.end },
              message: 'The first one, which counts here.',
            },
          ],
          fixes: () => [sameText(document.text, first, again) ? removal(document.text, map, again) : undefined],
        }
      },
    )
  },
  examples: [
    {
      name: 'two values',
      text: 'gap: 2.0 mm\nsuction: 2\n$0gap$0: 2.5 mm\n',
      message: "'gap' is given twice; the first one, '2.0 mm', counts here, and other programs may take '2.5 mm'. Keep one.",
      related: ['The first one, which counts here. gap'],
    },
    {
      name: 'twice the same',
      text: 'gap: 2.0 mm\nsuction: 2\n$0gap$0: 2.0 mm\nslot: 3\n',
      message: "'gap' is given twice with the same value. One is enough.",
      after: 'gap: 2.0 mm\nsuction: 2\nslot: 3\n',
      fixes: ['Delete the later one [preferred] [form]'],
      related: ['The first one, which counts here. gap'],
    },
    {
      name: 'twice the same in brackets',
      text: 'heat: { fan: true, $0fan$0: true, platen: 40 °C }\n',
      message: "'fan' is given twice with the same value. One is enough.",
      after: 'heat: { fan: true, platen: 40 °C }\n',
      fixes: ['Delete the later one [preferred] [form]'],
      related: ['The first one, which counts here. fan'],
      testOnly: true,
    },
    {
      name: 'two sections',
      text: 'heat:\n  fan: true\n$0heat$0:\n  platen: 40 °C\n',
      message: "'heat' is given twice; only the first one counts here, and other programs may take the other. Keep one.",
      related: ['The first one, which counts here. heat'],
      testOnly: true,
    },
    {
      name: 'two states of one name',
      text: `conditions:
  s3m4f: { from: profile, stock: film, printer: bay-1, mode: fine, suction: 4 }
  $0s3m4f$0: { from: profile, stock: film, printer: bay-1, mode: fine, suction: 3 }
`,
      message:
        "State 's3m4f' is there twice, and the two differ, so nothing under it proves anything. Give one of them another name.",
      related: ['The first one, which counts here. s3m4f'],
      testOnly: true,
    },
    { name: 'once', text: 'gap: 2.0 mm\n' },
    {
      name: 'twice the same in a later item of a list',
      text: `feed:
  checks:
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
    - { date: 2026-03-02, commanded: 1000 mm, $0date$0: 2026-03-02, measured: 998 mm, applied: 0 % }
`,
      message: "'date' is given twice with the same value. One is enough.",
      after: `feed:
  checks:
    - { date: 2026-03-01, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
    - { date: 2026-03-02, commanded: 1000 mm, measured: 998 mm, applied: 0 % }
`,
      fixes: ['Delete the later one [preferred] [form]'],
      related: ['The first one, which counts here. date'],
      testOnly: true,
    },
    {
      name: 'with a comment behind it',
      text: `gap: 2.0 mm
$0gap$0: 2.0 mm # measured twice
slot: 3
`,
      message: "'gap' is given twice with the same value. One is enough.",
      related: ['The first one, which counts here. gap'],
      testOnly: true,
    },
    {
      name: 'at the beginning of an item',
      text: `#- p.printer.yaml
printer: p
panel:
  - key: gap
    where: lever
    $0where$0: lever
`,
      message: "'where' is given twice with the same value. One is enough.",
      after: `printer: p
panel:
  - key: gap
    where: lever
`,
      fixes: ['Delete the later one [preferred] [form]'],
      related: ['The first one, which counts here. where'],
      testOnly: true,
    },
    {
      name: 'a comment that ends in a comma between them',
      text: `heat: { fan: true, # on,
  $0fan$0: true, platen: 40 °C }
`,
      message: "'fan' is given twice with the same value. One is enough.",
      related: ['The first one, which counts here. fan'],
      testOnly: true,
    },
    {
      name: 'a comma on the next line',
      text: `heat: { fan: true
  , $0fan$0: true }
`,
      message: "'fan' is given twice with the same value. One is enough.",
      after: 'heat: { fan: true }\n',
      fixes: ['Delete the later one [preferred] [form]'],
      related: ['The first one, which counts here. fan'],
      testOnly: true,
    },
    {
      name: 'two in one section, none in the one before',
      text: `heat: { fan: true }
feed:
  correction: 0 %
  $0correction$0: 0.1 %
`,
      message: "'correction' is given twice; the first one, '0 %', counts here, and other programs may take '0.1 %'. Keep one.",
      related: ['The first one, which counts here. correction'],
      testOnly: true,
    },
    {
      name: 'no value yet',
      text: `gap:
suction: 2
$0gap$0: 2 mm
`,
      message: "'gap' is given twice; only the first one counts here, and other programs may take the other. Keep one.",
      related: ['The first one, which counts here. gap'],
      testOnly: true,
    },
  ],
})

interface Twice {
  readonly map: MapNode
  readonly first: Pair
  readonly again: Pair
}

function message(context: RuleContext, at: number, key: string): string {
  const { document } = context
  const found = findTwice(document.tree.root, at)
  const name = quoted(key)
  if (found && sameText(document.text, found.first, found.again))
    return `${name} is given twice with the same value. One is enough.`
  const [first, again] = [found?.first.value, found?.again.value]
  if (first?.kind === 'scalar' && again?.kind === 'scalar' && first.style !== 'empty' && again.style !== 'empty')
    return `${name} is given twice; the first one, ${quoted(first.text)}, counts here, and other programs may take ${quoted(again.text)}. Keep one.`
  if (found && isStates(context, found))
    return `State ${name} is there twice, and the two differ, so nothing under it proves anything. Give one of them another name.`
  return `${name} is given twice; only the first one counts here, and other programs may take the other. Keep one.`
}

/** Whether both are states, whose names evidence goes by. */
const isStates = ({ document }: RuleContext, { map }: Twice): boolean =>
  document.kind === 'media' && document.tree.root?.kind === 'map' && document.tree.root.pair('conditions')?.value === map

/** The pair whose key begins at an offset, and the first one of that key beside it. */
function findTwice(root: Node | undefined, at: number): Twice | undefined {
  let node = root
  while (node) {
    if (node.kind === 'map') {
      const again = node.pairs.find((p) => p.key?.start === at)
      const first = again?.key && node.pair(again.key.text)
      if (first && first !== again) return { map: node, first, again }
      node = node.pairs.find((p) => at < p.value.end)?.value
    } else if (node.kind === 'seq') node = node.items.find((item) => at < item.end)
    else return undefined
  }
  return undefined
}

const sameText = (text: string, a: Pair, b: Pair): boolean =>
  text.slice(a.start, a.end).trim() === text.slice(b.start, b.end).trim()

/** Deletes a pair with its line, or with the comma before it. Nothing is offered where a comment would go with it. */
function removal(text: string, map: MapNode, pair: Pair): Fix | undefined {
  const last = pair.start + text.slice(pair.start, pair.end).trimEnd().length
  let edit: TextEdit
  if (map.flow) {
    const before = map.pairs[map.pairs.indexOf(pair) - 1]!
    if (text.slice(before.end, pair.start).trim() !== ',') return undefined
    edit = { start: before.end, end: last, newText: '' }
  } else {
    const { start } = lineAt(text, pair.start)
    const { end } = lineAt(text, last)
    if (text.slice(start, pair.start).trim() !== '' || text.slice(last, end).trim() !== '') return undefined
    edit = { start, end: nextLine(text, last), newText: '' }
  }
  return { title: 'Delete the later one', edits: [edit], preferred: true, form: true }
}
