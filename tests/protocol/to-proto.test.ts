// The core's values as messages: snippets and Markdown for clients that know them, plain text for those that do not.
// biome-ignore-all lint/suspicious/noTemplateCurlyInString: the stops of snippets look like placeholders.
import { describe, expect, test } from 'vitest'
import { LineIndex } from '../../server/src/base/line-index.ts'
import { plainText } from '../../server/src/base/plain-text.ts'
import { withoutStops } from '../../server/src/base/text-edit.ts'
import type { Action } from '../../server/src/features/context.ts'
import { abilitiesOf } from '../../server/src/lsp/abilities.ts'
import { type Papers, toCodeAction, toDiagnostic } from '../../server/src/lsp/to-proto.ts'
import { FULL } from './client.ts'

const TEXT = 'feed:\n  checks:\n    - {a: 1}\n'
const papers: Papers = { positions: () => new LineIndex(TEXT), version: () => 4, uri: (file) => file }
const able = (capabilities: object) => abilitiesOf({ capabilities, processId: null, rootUri: null })

describe('an action whose text has stops', () => {
  const action: Action = {
    title: 'Record a feed check',
    kind: 'record',
    records: 'feed.checks',
    snippet: true,
    file: 'file:///a.media.yaml',
    edits: [{ start: 28, end: 28, newText: '\n    - {date: 2026-03-31, commanded: ${1:1000 mm}, note: \\$5, measured: ${2}$0}' }],
  }

  test('goes as a snippet to a client that declares snippet edits', () => {
    const { edit, kind } = toCodeAction(action, papers, [], able(FULL))
    expect(kind).toBe('refactor.record.feed.checks')
    expect(edit).toEqual({
      documentChanges: [
        {
          textDocument: { uri: 'file:///a.media.yaml', version: 4 },
          edits: [
            {
              range: { start: { line: 2, character: 12 }, end: { line: 2, character: 12 } },
              snippet: { kind: 'snippet', value: action.edits[0]!.newText },
            },
          ],
        },
      ],
    })
  })

  test('goes as plain text to any other', () => {
    const plain = '\n    - {date: 2026-03-31, commanded: 1000 mm, note: $5, measured: }'
    const range = { start: { line: 2, character: 12 }, end: { line: 2, character: 12 } }
    expect(toCodeAction(action, papers, [], able({})).edit).toEqual({
      changes: { 'file:///a.media.yaml': [{ range, newText: plain }] },
    })
    const changes = able({ workspace: { workspaceEdit: { snippetEditSupport: true } } })
    expect(toCodeAction(action, papers, [], changes).edit).toHaveProperty('changes')
  })
})

test('a finding is marked by what the client knows of such marks, and by no other', () => {
  const finding = { code: 'a', severity: 'hint', file: 'file:///a.media.yaml', span: { start: 0, end: 4 }, message: '' } as const
  const marked = { ...finding, unnecessary: true, outdated: true }
  const told = (valueSet: readonly number[]) => ({ publishDiagnostics: { tagSupport: { valueSet } } })
  const tagsFor = (one: typeof finding, text: object) => toDiagnostic(one, papers, able({ textDocument: text })).tags
  expect(tagsFor(marked, told([1, 2]))).toEqual([1, 2])
  expect(tagsFor(marked, told([1]))).toEqual([1])
  expect(tagsFor(marked, {})).toBeUndefined()
  expect(tagsFor(finding, told([1, 2]))).toBeUndefined()
  expect(tagsFor(marked, { ...told([1]), diagnostic: { tagSupport: { valueSet: [1, 2] } } })).toEqual([1, 2])
})

test('an action is tied to the finding it mends, not to another of the same rule', () => {
  const range = (line: number) => ({ start: { line, character: 0 }, end: { line, character: 4 } })
  const diagnostics = [0, 2].map((line) => ({ range: range(line), code: 'missing-unit', message: '' }))
  const action: Action = {
    title: 'Add mm',
    kind: 'quickfix',
    file: 'file:///a.media.yaml',
    edits: [{ start: 4, end: 4, newText: ' mm' }],
    code: 'missing-unit',
    mends: { file: 'file:///a.media.yaml', span: { start: 0, end: 4 } },
  }
  expect(toCodeAction(action, papers, diagnostics, able(FULL)).diagnostics).toEqual([diagnostics[0]])
})

test.each([
  ['profile: example\nstock: ${1}\n', 'profile: example\nstock: \n'],
  ['${1:a}, ${2:b}$0', 'a, b'],
  ['{${1:a\\}b}}', '{a}b}'],
  ['price \\$5 and \\\\', 'price $5 and \\'],
])('without its stops, %j is %j', (snippet, plain) => expect(withoutStops(snippet)).toBe(plain))

test.each([
  ['**gap** `2.0 mm`', 'gap 2.0 mm'],
  ['# Feed\n\n> *far* from the _others_', 'Feed\n\nfar from the others'],
  ['a \\* b, film\\-pvc, 2 * 3, snake_case, 5 < 6', 'a * b, film-pvc, 2 * 3, snake_case, 5 < 6'],
  ['`a*b` and `` x`y ``', 'a*b and x`y'],
  ['| unit | value |\n| --- | ---: |\n| mm | 2 \\| 3 |', 'unit   value\nmm     2 | 3'],
  ['see [the table](https://example.org/t) and [feed](rollbook:explain/feed)', 'see the table (https://example.org/t) and feed'],
  ['```yaml\n# kept: *as is*\n```', '# kept: *as is*'],
  ['- one\n- two', '- one\n- two'],
])('as plain text, %j is %j', (markdown, plain) => expect(plainText(markdown)).toBe(plain))
