// The state of an older day for evidence that tells none, over the protocol and in real git repositories: what the documents of that day said, and nothing of today.
import { pathToFileURL } from 'node:url'
import { afterEach, beforeAll, expect, test } from 'vitest'
import type { ClientCapabilities, CodeAction, TextDocumentEdit, TextEdit } from 'vscode-languageserver/node'
import { TextDocument } from 'vscode-languageserver-textdocument'
import { NodeHost } from '../../server/src/host/node.ts'
import { GitRevisions } from '../../server/src/host/node-git.ts'
import { commit, git, newFolder, write } from '../cli/repository.ts'
import { Client, FULL } from './client.ts'

class Disk extends NodeHost {
  override today(): string {
    return '2026-03-31'
  }
}

/** Counts how often git is asked. */
class Counted extends GitRevisions {
  asked = 0
  override whole(...asked: Parameters<GitRevisions['whole']>): ReturnType<GitRevisions['whole']> {
    this.asked++
    return super.whole(...asked)
  }
}

const PRINTER = `printer: bay-1
modes: {fine: {resolution: 720 x 720 dpi, passes: 8}}
suction: {levels: {1: 100 Pa, 3: 300 Pa, 5: 500 Pa}}
carriage: {gaps: [1.5 mm, 2 mm]}
`
const NOW = `profile: film-1
stock: film
printer: bay-1
mode: fine
gap: 2 mm
suction: 5   # since the belt was changed
feed:
  checks:
    - { date: 2026-03-12, commanded: 1000 mm, measured: 999.1 mm, applied: 0 % }   # before the belt
    - { date: 2026-03-20, commanded: 1000 mm, measured: 999.3 mm, applied: 0 %, under: another-setting-ran }
    - { date: 2026-02-01, commanded: 1000 mm, measured: 999.2 mm, applied: 0 % }
    - { date: 2026-03-12, commanded: 1000 mm, measured: 988 mm, applied: 0 %, skip: the web slipped }
alignment: { date: 2026-03-05 }
`
const shop = (name: string, suction: number): string => `#- rollbook.yaml
shop: Tern Quay Print Works
time-zone: Europe/Lisbon
#- film.stock.yaml
stock: film
#- bay-1.printer.yaml
${PRINTER}#- ${name}.media.yaml
profile: ${name}
stock: film
printer: bay-1
mode: fine
gap: 2 mm
suction: ${suction}
`

let folder: string
beforeAll(() => {
  folder = newFolder()
  git(folder, 'init', '-q', '-b', 'main')
  commit(folder, shop('film-old', 1).split('#- film-old')[0], 'a shop', '2026-03-01T12:00:00Z')
  commit(folder, shop('film-old', 1), 'a profile', '2026-03-10T12:00:00Z')
  // The last of a day counts, also where it came after the check.
  commit(
    folder,
    `#- film-old.media.yaml\n${shop('film-old', 3).split('.media.yaml\n')[1]}`,
    'more suction',
    '2026-03-12T18:00:00Z',
  )
  git(folder, 'mv', 'film-old.media.yaml', 'film-1.media.yaml')
  commit(folder, '', 'renamed', '2026-03-15T12:00:00Z')
  commit(folder, `#- film-1.media.yaml\n${NOW}`, 'another belt', '2026-03-30T12:00:00Z')
})

let client: Client
let revisions: Counted
let uri: string
afterEach(() => client.stop())

const RESOLVES: ClientCapabilities = {
  ...FULL,
  textDocument: {
    ...FULL.textDocument,
    codeAction: { ...FULL.textDocument!.codeAction, dataSupport: true, resolveSupport: { properties: ['edit'] } },
  },
}

async function start(at = folder, capabilities = RESOLVES, text = NOW): Promise<void> {
  revisions = new Counted()
  const root = pathToFileURL(at).href
  uri = `${root}/film-1.media.yaml`
  client = (await Client.start('', { folders: [root], disk: { host: new Disk(), revisions }, capabilities })).client
  await client.connection.sendNotification('textDocument/didOpen', {
    textDocument: { uri, languageId: 'rollbook', version: 1, text },
  })
}

/** What is offered in a line; the words of this action. */
async function offered(needle: string, more: object = { trusted: true }, text = NOW): Promise<readonly CodeAction[]> {
  const line = text.split('\n').findIndex((one) => one.includes(needle))
  const range = { start: { line, character: 12 }, end: { line, character: 12 } }
  const params = { textDocument: { uri }, range, context: { diagnostics: [] }, ...more }
  const actions = await client.request<CodeAction[]>('textDocument/codeAction', params)
  return actions.filter(({ title }) => title.startsWith('Add the state of'))
}

const applied = (edits: TextDocumentEdit['edits']): string =>
  TextDocument.applyEdits(TextDocument.create(uri, 'rollbook', 1, NOW), edits as TextEdit[])

const chosen = (action: CodeAction): Promise<CodeAction> => client.request('codeAction/resolve', action)

const TITLE = 'Add the state of 2026-03-12, as the documents of that day say'

test('the settings of the day of the entry, and only its under is written', async () => {
  await start()
  const [action, ...others] = await offered('999.1')
  expect(others).toEqual([])
  expect(action).toMatchObject({ title: TITLE, kind: 'refactor.rewrite' })
  expect(action!.edit).toBeUndefined()
  expect(action!.isPreferred).toBeUndefined()
  const { edit } = await chosen(action!)
  const [only, ...more] = edit!.documentChanges as TextDocumentEdit[]
  expect([more, only!.textDocument]).toEqual([[], { uri, version: 1 }])
  const after = applied(only!.edits)
  // Suction 3, as at the end of that day, in the file of the name it had; the profile of today says 5.
  const state = 'from: profile, stock: film, printer: bay-1, mode: fine, gap: 2 mm, suction: 3'
  const name = /under: (s\d\w{3})/.exec(after)![1]
  expect(after).toBe(
    NOW.replace('applied: 0 % }   # b', `applied: 0 %, under: ${name} }   # b`).replace(
      'feed:\n',
      `conditions:\n  ${name}: { ${state} }\nfeed:\n`,
    ),
  )
})

test('in place of what says that another setting ran, and once more for an alignment', async () => {
  await start()
  const { edit } = await chosen((await offered('999.3'))[0]!)
  const after = applied((edit!.documentChanges as TextDocumentEdit[])[0]!.edits)
  expect(after.replace(/conditions:\n.*\n/, '')).toMatch(/applied: 0 %, under: s\d\w{3} }\n/)
  expect(after).not.toContain('another-setting-ran')
  expect((await offered('alignment'))[0]!.title).toBe('Add the state of 2026-03-05, as the documents of that day say')
})

test('not where git has nothing of that day, or the entry counts for nothing', async () => {
  await start()
  expect(await offered('999.2')).toEqual([])
  expect(await offered('988')).toEqual([])
  expect(await offered('suction: 5')).toEqual([])
})

test('not in a folder that nobody trusts: git is not asked', async () => {
  await start()
  for (const trusted of [false, null, undefined]) expect(await offered('999.1', { trusted })).toEqual([])
  expect(revisions.asked).toBe(0)
})

test('not for a client that asks for no edit later, and not without git', async () => {
  await start(folder, FULL)
  expect(await offered('999.1')).toEqual([])
  await client.stop()
  const bare = newFolder()
  write(bare, `${shop('film-1', 5)}`)
  await start(bare)
  expect(await offered('999.1')).toEqual([])
  expect(revisions.asked).toBe(1)
})

test('what cannot be made when it is chosen is said, and nothing is edited', async () => {
  await start()
  const [alignment] = await offered('alignment')
  expect((await chosen(alignment!)).edit).toBeUndefined()
  expect(client.heard).toContain("'film-1.media.yaml' was not there on 2026-03-05, in commit ")
  const [action] = await offered('999.1')
  const start0 = { line: 0, character: 0 }
  await client.connection.sendNotification('textDocument/didChange', {
    textDocument: { uri, version: 2 },
    contentChanges: [{ range: { start: start0, end: start0 }, text: '# typed\n' }],
  })
  expect((await chosen(action!)).edit).toBeUndefined()
  expect(client.heard).toContain('The text was changed meanwhile: choose it again.')
})
