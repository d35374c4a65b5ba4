// Recording by the command: whoever leaves it at a question leaves the file as it was, and whoever goes on writes once.
import { describe, expect, test, vi } from 'vitest'
import type { Server } from '../../client/src/server.ts'

const asked = vi.hoisted(() => ({
  inputs: [] as (string | undefined)[],
  picks: [] as (number | undefined)[],
  told: [] as string[],
}))

vi.mock('vscode', async () => ({
  l10n: (await import('./l10n.ts')).l10n,
  Uri: { parse: (text: string) => text },
  InputBoxValidationSeverity: { Error: 3 },
  workspace: { fs: { isWritableFileSystem: (scheme: string) => scheme !== 'looked-at' } },
  window: {
    showTextDocument: async (uri: string) => ({ document: { uri: { scheme: uri.replace(/:.*$/, '') } } }),
    showInputBox: async () => asked.inputs.shift(),
    showQuickPick: async (items: readonly unknown[]) => {
      const at = asked.picks.shift()
      return at === undefined ? undefined : items[at]
    },
    showInformationMessage: async (text: string) => void asked.told.push(text),
  },
}))

const { record } = await import('../../client/src/record.ts')

const action = (snippet: string) => ({
  title: 'Record',
  edit: { documentChanges: [{ edits: [{ snippet: { kind: 'snippet', value: snippet } }] }] },
})
const ALIGNMENT = `one-way: { c: \${1}, m: \${2} \\}\ntwo-way: { c: \${3}, m: \${4} \\}`

/** What was written by a command that was answered so; nothing where it was left. */
async function written(
  kind: string,
  actions: readonly object[],
  inputs: (string | undefined)[],
  picks: (number | undefined)[] = [],
  uri = 'file:///a.media.yaml',
) {
  Object.assign(asked, { inputs, picks, told: [] })
  const applied: unknown[] = []
  const server = {
    codeActions: async () => actions,
    apply: async (edit: { documentChanges: { edits: { snippet: { value: string } }[] }[] }) => {
      applied.push(...edit.documentChanges.flatMap(({ edits }) => edits.map(({ snippet }) => snippet.value)))
      return true
    },
  }
  expect(await record(server as unknown as Server, kind, uri)).toBe(applied.length > 0)
  return applied
}

describe('picks that are typed', () => {
  test('stand in the entry', async () => {
    expect(await written('alignment', [action(ALIGNMENT)], ['0-1', '10'])).toEqual([
      'one-way: { c: 0, m: -1 \\}\ntwo-way: { c: 1, m: 0 \\}',
    ])
  })

  test.each([
    ['at the first row', [undefined]],
    ['at the last row', ['00', undefined]],
  ])('left %s, nothing is written', async (_, inputs) => {
    expect(await written('alignment', [action(ALIGNMENT)], inputs)).toEqual([])
    expect(asked).toMatchObject({ inputs: [], told: [] })
  })
})

describe('of several ways', () => {
  const ways = [action(`zone: platen, web: \${1} °C`), action(`zone: after, web: \${1} °C`)]

  test('the one that is chosen is written', async () => {
    expect(await written('heat.readings', ways, [], [1])).toEqual([`zone: after, web: \${1} °C`])
  })

  test('none, where the list is left', async () => {
    expect(await written('heat.readings', ways, [], [undefined])).toEqual([])
    expect(asked.told).toEqual([])
  })
})

test('a feed check asks nothing: all there is to choose stands in its line', async () => {
  const check = `measured: \${2} mm, under: \${8|s7f2c,another-setting-ran|}`
  expect(await written('feed.checks', [action(check), action('another')], [])).toEqual([check])
})

test('what cannot be recorded is said, and nothing is written', async () => {
  expect(await written('feed.fine', [{ title: 'Record', disabled: { reason: 'Its text is broken.' } }], [])).toEqual([])
  expect(asked.told).toEqual(['Its text is broken.'])
})

test('where documents can only be read that is said, and nobody is asked for a measurement', async () => {
  expect(await written('alignment', [action(ALIGNMENT)], ['0-1', '10'], [], 'looked-at:/a.media.yaml')).toEqual([])
  expect(asked.told).toEqual(['Nothing can be recorded here: these documents can only be read.'])
  expect(asked.inputs).toHaveLength(2)
})
