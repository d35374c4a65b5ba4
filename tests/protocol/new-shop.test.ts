// A new shop, instrument, stock, printer and profile, each from an empty file by the keyboard alone: what is due opens by itself, nothing leads nowhere, and
// what stands there at the end has no mistake. The keys are counted, and the counts stand here to be made smaller.
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { CodeAction, InitializeResult, SnippetTextEdit, TextDocumentEdit, TextEdit } from 'vscode-languageserver'
import { LineIndex } from '../../server/src/base/line-index.ts'
import { applyEdits } from '../../server/src/base/text-edit.ts'
import { MemoryHost } from '../../server/src/host/memory.ts'
import { ROOT } from '../support/fixture.ts'
import { Typist } from '../support/typist.ts'
import { Client } from './client.ts'

/** The first of a list: down to it, and taken. */
const FIRST = ['<ArrowDown>', '<Enter>']
const NEW = ['<Control+Space>', '<Tab>']

let client: Client
let answer: InitializeResult
beforeAll(async () => {
  ;({ client, answer } = await Client.start('', { host: new MemoryHost(new Map(), '2026-11-25') }))
})
afterAll(() => client.stop())

interface Written {
  readonly text: string
  readonly keys: number
  readonly errors: readonly string[]
}

async function write(name: string, keys: readonly string[]): Promise<Written> {
  const typist = await Typist.at(client, answer, name, '', 'makes a line')
  await typist.pressAll(keys)
  const found = await client.diagnostics(name, ({ version }) => version === typist.version)
  return {
    text: typist.text,
    keys: typist.keys,
    errors: found.filter(({ severity }) => severity === 1).map(({ message }) => String(message)),
  }
}

test('a shop with an instrument', async () => {
  const instrument = ['ins', '<Tab>', ...FIRST, 'rule-1m', '<Tab>', ...FIRST, '<Tab>', '0.5 mm', '<Tab>', '0.1 mm']
  expect(await write('rollbook.yaml', [...NEW, 'Tern Quay', '<Tab>', ...instrument])).toMatchInlineSnapshot(`
    {
      "errors": [],
      "keys": 42,
      "text": "shop: Tern Quay
    instruments:
      rule-1m:
        kind: rule
        division: 0.5 mm
        limit-of-error: 0.1 mm",
    }
  `)
})

test('a stock', async () => {
  expect(await write('film.stock.yaml', [...NEW, '<ArrowDown>', ...FIRST, '<Tab>', '50 µm'])).toMatchInlineSnapshot(`
    {
      "errors": [],
      "keys": 11,
      "text": "stock: film
    family: film-pvc-calendered
    thickness: 50 µm
    ",
    }
  `)
})

test('a printer', async () => {
  const heads = [...FIRST, '70 µm', '<Enter>', 'noz', ...FIRST, '360', '<Tab>']
  const mode = [...FIRST, 'fast', '<Tab>', '720 x 720 dpi', '<Tab>', '4', '<Tab>', '<Tab>']
  const carriage = ['ga', ...FIRST, '1.5 mm', '<Enter>', '2 mm', '<Tab>']
  expect(
    await write('bay-9.printer.yaml', [...NEW, ...heads, ...mode, ...carriage, ...FIRST, '-2', '<Tab>', '2']),
  ).toMatchInlineSnapshot(`
    {
      "errors": [],
      "keys": 65,
      "text": "printer: bay-9
    heads:
      nozzle-pitch: 70 µm
      nozzles: 360
    modes:
      fast:
        resolution: 720 x 720 dpi
        passes: 4
    carriage:
      gaps:
        - 1.5 mm
        - 2 mm
    feed:
      range: [-2 %, 2 %]
    ",
    }
  `)
})

test('a profile, of which the name of its file tells the stock and the printer', async () => {
  const written = await write('film-bay-9.media.yaml', [...NEW, ...FIRST])
  expect(written).toMatchInlineSnapshot(`
    {
      "errors": [],
      "keys": 4,
      "text": "profile: film-bay-9
    stock: film
    printer: bay-9
    mode: fast
    ",
    }
  `)
  // What is left open is filled in by the fix of the finding that says so.
  const position = new LineIndex(written.text).position(written.text.indexOf('film-bay-9'))
  const actions = await client.request<CodeAction[]>('textDocument/codeAction', {
    textDocument: { uri: `${ROOT}film-bay-9.media.yaml` },
    range: { start: position, end: position },
    context: { diagnostics: [] },
  })
  const fill = actions.find(({ title }) => /open settings? as a started profile has/.test(title))
  const { edits } = fill!.edit!.documentChanges![0] as TextDocumentEdit
  const lines = new LineIndex(written.text)
  const after = applyEdits(
    written.text,
    edits.map((edit: TextEdit | SnippetTextEdit) => ({
      start: lines.offset(edit.range.start),
      end: lines.offset(edit.range.end),
      newText: 'snippet' in edit ? edit.snippet.value : edit.newText,
    })),
  )
  expect(after).toMatch(/^# .*\ngap: \d/m)
})
