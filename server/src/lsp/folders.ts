// The folders that the client has open, and what changes in them on the disk.
import type { DidChangeWatchedFilesParams, DidChangeWorkspaceFoldersParams, RenameFilesParams } from 'vscode-languageserver'
import { lastPart, normalUri } from '../base/uri.ts'
import { type Feature, notification } from './feature.ts'
import { FileChangeType } from './protocol.ts'
import type { Session } from './session.ts'

export const folders: Feature = {
  capability: {
    workspace: {
      workspaceFolders: { supported: true, changeNotifications: true },
      fileOperations: { didRename: { filters: [{ pattern: { glob: '**/*.yaml', matches: 'file' } }] } },
    },
  },
  notifications: {
    'workspace/didChangeWorkspaceFolders': notification<DidChangeWorkspaceFoldersParams>(
      { event: 'folders' },
      ({ event }, session) => {
        for (const { uri } of event.removed) session.workspace.removeFolder(normalUri(uri))
        return session.addFolders(event.added.map(({ uri }) => normalUri(uri)))
      },
    ),
    'workspace/didChangeWatchedFiles': notification<DidChangeWatchedFilesParams>(
      { changes: 'files' },
      async ({ changes }, session) => {
        for (const { uri, type } of changes) {
          session.host.log('info', `${type === FileChangeType.Deleted ? 'deleted' : 'changed'} on disk: ${uri}`)
          await session.workspace.changedOnDisk(normalUri(uri))
        }
        session.publisher.soon()
        // What was saved is not to be reviewed any more.
        if (session.able.reviewCommand !== undefined) session.refreshing.words()
        session.sinceCommit.again()
      },
    ),
    // Comes at once; what watches the disk may take a while, and who renames twice in a row would be told of names that are gone.
    'workspace/didRenameFiles': notification<RenameFilesParams>({ files: 'renames' }, async ({ files }, session) => {
      for (const { oldUri, newUri } of files)
        for (const uri of [oldUri, newUri]) await session.workspace.changedOnDisk(normalUri(uri))
      session.publisher.soon()
    }),
  },
}

/** Which files the client is asked to watch for us. */
export class Watching {
  /** Names of files, no documents, that the client was asked to watch. */
  private readonly names = new Set<string>()
  private registered = 0

  constructor(private readonly session: Session) {}

  documents(): void {
    this.watch(['**/*.media.yaml', '**/*.stock.yaml', '**/*.printer.yaml', '**/rollbook.yaml'])
  }

  /** What git writes into with each commit. */
  commits(): void {
    this.watch(['**/.git/logs/HEAD'])
  }

  /** Files that profiles name have any name: each is watched once it was looked for, so that one that is missing is seen when it comes. */
  attached(): void {
    const fresh = [...this.session.workspace.attachedFiles()].map(lastPart).filter((name) => !this.names.has(name))
    for (const name of fresh) this.names.add(name)
    this.watch([...new Set(fresh)].map((name) => `**/${asPattern(name)}`))
  }

  private watch(patterns: readonly string[]): void {
    const { able, client, host } = this.session
    if (!able.watchedFiles || patterns.length === 0) return
    const watchers = patterns.map((globPattern) => ({ globPattern }))
    const registration = {
      id: `watch-${++this.registered}`,
      method: 'workspace/didChangeWatchedFiles',
      registerOptions: { watchers },
    }
    client
      .sendRequest('client/registerCapability', { registrations: [registration] })
      .catch((error) => host.log('info', `file watching: ${error.message}`))
  }
}

/** The name of a file, as it stands in its URI, as a pattern: what a pattern would take for more than a letter stands for any one. */
function asPattern(name: string): string {
  try {
    return decodeURIComponent(name).replace(/[*?[\]{}!\\,]/g, '?')
  } catch {
    return name
  }
}
