// Read-only pages computed by the server (Markdown in, preview out). A page follows its profile while that is edited.
import * as vscode from 'vscode'
import type { Server } from './server.ts'

const SCHEME = 'rollbook'
/** Where the server may send a person to read about a rule or a setting; the name in it ends as a page that can be previewed. */
export const EXPLANATION_PAGE = `${SCHEME}://explanation/{topic}.md`
/** A page is asked for again after a pause in typing this long. */
const QUIET_MS = 250

/** Opens the page of one profile: how its feed correction comes about. */
export async function showFeedReckoning(document: vscode.TextDocument): Promise<void> {
  await showPage('feed-reckoning', pageName(document.uri), document.uri.toString())
}

/** Opens the page that explains a setting, a rule or a fault. */
export async function showExplanation(topic: string): Promise<void> {
  // A name may be that of several kinds of document; the tab needs none of that.
  const colon = topic.indexOf(':')
  await showPage('explanation', topic.slice(colon + 1).replaceAll('.*', ''), topic.slice(0, Math.max(colon, 0)))
}

export function registerViews(server: Server): vscode.Disposable {
  const changed = new vscode.EventEmitter<vscode.Uri>()
  const provider: vscode.TextDocumentContentProvider = {
    onDidChange: changed.event,
    provideTextDocumentContent: (uri) => contentOf(server, uri),
  }
  const waiting = new Map<string, NodeJS.Timeout>()
  const refreshSoon = (page: vscode.Uri): void => {
    clearTimeout(waiting.get(page.toString()))
    waiting.set(
      page.toString(),
      setTimeout(() => {
        waiting.delete(page.toString())
        changed.fire(page)
      }, QUIET_MS),
    )
  }
  return vscode.Disposable.from(
    changed,
    vscode.workspace.registerTextDocumentContentProvider(SCHEME, provider),
    vscode.workspace.onDidChangeTextDocument(({ document }) => {
      for (const page of openPages()) if (page.query === document.uri.toString()) refreshSoon(page)
    }),
    vscode.window.onDidChangeActiveTextEditor(showAsPage),
    { dispose: () => waiting.forEach(clearTimeout) },
  )
}

/** A link that is followed before the editor knows its previews opens the text of a page; it is to be read as a page all the same. */
function showAsPage(editor: vscode.TextEditor | undefined): void {
  if (editor?.document.uri.scheme !== SCHEME || !hasPreviews()) return
  const show = { viewColumn: editor.viewColumn, preview: true }
  void vscode.commands.executeCommand('vscode.openWith', editor.document.uri, PREVIEW, show)
}

const PREVIEW = 'vscode.markdown.preview.editor'

/** A window without the built-in Markdown preview still shows the text. */
const hasPreviews = (): boolean => vscode.extensions.getExtension('vscode.markdown-language-features') !== undefined

/**
 * The page kind is the address's authority, and the path names the tab. A reckoning is about the document in the query. An explanation
 * is of what the path names, so that a page can link to its neighbours; the query is the kind of document that is meant, if any.
 */
async function contentOf(server: Server, page: vscode.Uri): Promise<string> {
  const topic = page.path.slice(1).replace(/\.md$/, '')
  const question =
    page.authority === 'explanation'
      ? { method: 'rollbook/explain', params: { topic, kind: page.query || undefined } }
      : undefined
  const { method, params } = question ?? { method: 'rollbook/feedReckoning', params: { uri: page.query } }
  try {
    const { markdown } = await server.ask<{ markdown: string }>(method, params)
    return markdown
  } catch (error) {
    return vscode.l10n.t('This page could not be made: {0}.', error instanceof Error ? error.message : String(error))
  }
}

/** Beside the document it was asked from; where no document is in front, as when another page is, in its place. */
async function showPage(kind: string, name: string, about: string): Promise<void> {
  const uri = vscode.Uri.from({ scheme: SCHEME, authority: kind, path: `/${name}.md`, query: about })
  const viewColumn = vscode.window.activeTextEditor === undefined ? vscode.ViewColumn.Active : vscode.ViewColumn.Beside
  // An explanation is read and left; a reckoning stays, whatever is explained meanwhile.
  const show = { viewColumn, preview: kind === 'explanation' }
  if (hasPreviews()) await vscode.commands.executeCommand('vscode.openWith', uri, PREVIEW, show)
  else await vscode.window.showTextDocument(uri, show)
}

const openPages = (): vscode.Uri[] =>
  vscode.workspace.textDocuments.map((document) => document.uri).filter((uri) => uri.scheme === SCHEME)

/** `bay-1/film-pet.media.yaml` gives `Feed reckoning of film-pet`. */
function pageName(uri: vscode.Uri): string {
  const base = uri.path.slice(uri.path.lastIndexOf('/') + 1)
  return vscode.l10n.t('Feed reckoning of {0}', base.replace(/\.media\.yaml$/, ''))
}
