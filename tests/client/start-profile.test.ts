// A profile taken to several printers by the editor's command: all of the new files in one edit, or none of them.
import { beforeEach, expect, test, vi } from 'vitest'
import type { Server } from '../../client/src/server.ts'

const seen = vi.hoisted(() => ({
  picked: undefined as readonly string[] | undefined,
  edits: [] as string[][],
  shown: [] as string[],
  told: [] as string[],
}))

vi.mock('vscode', async () => ({
  ...(await import('./l10n.ts')),
  Uri: { parse: (text: string) => ({ path: text }) },
  WorkspaceEdit: class {
    readonly files: string[] = []
    createFile({ path }: { path: string }): void {
      this.files.push(path)
    }
  },
  workspace: {
    applyEdit: async ({ files }: { files: string[] }) => seen.edits.push(files) > 0,
    openTextDocument: async ({ path }: { path: string }) => path,
  },
  window: {
    showTextDocument: async (path: string) => void seen.shown.push(path),
    showQuickPick: async (items: readonly { label: string }[], { canPickMany }: { canPickMany?: boolean }) =>
      canPickMany ? seen.picked && items.filter(({ label }) => seen.picked!.includes(label)) : undefined,
    showInformationMessage: async (text: string) => void seen.told.push(text),
  },
}))
vi.mock('../../client/src/choose-profile.ts', () => ({ chooseProfile: async () => ({ uri: 'film-bay-1' }) }))

const { profileLike } = await import('../../client/src/start-profile.ts')

/** A server whose bay 9 is refused. */
const server = {
  ask: async (_: string, { like, printer }: { like?: string; printer?: string }) =>
    printer === undefined
      ? { stocks: [], printers: ['bay-2', 'bay-3', 'bay-9'].map((id) => ({ id, modes: [] })) }
      : printer === 'bay-9'
        ? { refused: 'bay-9 has no mode.', text: '', problems: [] }
        : { uri: `${like?.replace('bay-1', printer)}.media.yaml`, text: 'profile: film', problems: [`${printer} is wide.`] },
} as unknown as Server

beforeEach(() => void Object.assign(seen, { picked: undefined, edits: [], shown: [], told: [] }))

test('two printers: two files in one edit, the first in front, and what is to be said of both', async () => {
  seen.picked = ['bay-2', 'bay-3']
  await profileLike(server)
  expect(seen.edits).toEqual([['film-bay-2.media.yaml', 'film-bay-3.media.yaml']])
  expect([seen.shown.at(-1), seen.told]).toEqual(['film-bay-2.media.yaml', ['bay-2 is wide. bay-3 is wide.']])
})

test('one that is refused: nothing is made', async () => {
  seen.picked = ['bay-2', 'bay-9']
  await profileLike(server)
  expect([seen.edits, seen.told]).toEqual([[], ['bay-9 has no mode.']])
})

test('left without a choice: nothing is made; a printer that is given is asked for by nobody', async () => {
  await profileLike(server)
  expect([seen.edits, seen.told]).toEqual([[], []])
  await profileLike(server, 'bay-3')
  expect(seen.edits).toEqual([['film-bay-3.media.yaml']])
})
