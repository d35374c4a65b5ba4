// The commands of the palette. Each is a few lines: ask the person, ask the server, show what came back.
import * as vscode from 'vscode'
import { chooseProfile } from './choose-profile.ts'
import { LANGUAGE } from './language.ts'
import { type NewKind, type NewWish, newDocument } from './new-document.ts'
import { RECORD, RECORDS, record } from './record.ts'
import { openSampleShop } from './sample-shop.ts'
import type { Server } from './server.ts'
import { profileLike, type StartWish, startProfile } from './start-profile.ts'
import { showExplanation, showFeedReckoning } from './views.ts'

/** The commands that make a new document. A profile is started, from what the shop has. */
const NEW: Readonly<Record<string, NewKind>> = {
  newShop: 'shop',
  newStock: 'stock',
  newPrinter: 'printer',
  newInstrument: 'instrument',
}

interface Topic {
  readonly topic: string
  readonly label: string
  readonly detail: string
}

export function registerCommands(context: vscode.ExtensionContext, server: Server): vscode.Disposable {
  const commands: Readonly<Record<string, (...args: never[]) => unknown>> = {
    'rollbook.openSampleShop': (target?: vscode.Uri) => openSampleShop(context.extensionUri, target),
    ...Object.fromEntries(
      Object.entries(NEW).map(([id, kind]) => [`rollbook.${id}`, (wish?: NewWish) => newDocument(server, kind, wish)]),
    ),
    'rollbook.startProfile': (wish?: StartWish) => startProfile(server, wish),
    'rollbook.newProfileLike': (printer?: string) => profileLike(server, printer),
    [RECORD]: (kind: string, uri?: string) => recordOf(server, kind, uri),
    ...Object.fromEntries(Object.entries(RECORDS).map(([kind, { command }]) => [command, () => recordOf(server, kind)])),
    'rollbook.showFeedReckoning': () => showReckoning(),
    'rollbook.explain': (topic?: string) => explain(server, topic),
    'rollbook.restartServer': () => server.restart(),
    'rollbook.showLog': () => server.showLog(),
  }
  return vscode.Disposable.from(...Object.entries(commands).map(([id, run]) => vscode.commands.registerCommand(id, run)))
}

async function recordOf(server: Server, kind: string, uri?: string): Promise<void> {
  if ((await record(server, kind, uri)) && kind === 'feed.checks') markDone('recordedFeedCheck')
}

async function showReckoning(): Promise<void> {
  const document = await chooseProfile(vscode.l10n.t('Show the Feed Reckoning'))
  if (document === undefined) return
  await showFeedReckoning(document)
  markDone('showedFeedReckoning')
}

/** A step of the walkthrough is done when its work is, not when its button was pressed. */
const markDone = (what: string): void => void vscode.commands.executeCommand('setContext', `rollbook.${what}`, true)

async function explain(server: Server, topic: string | undefined): Promise<void> {
  const chosen = topic ?? (await pickTopic(server))
  if (chosen === undefined) return
  await showExplanation(chosen)
  markDone('explained')
}

interface TopicItem extends vscode.QuickPickItem {
  readonly topic?: string
}

/** Everything that can be explained, what the cursor stands on first. */
async function pickTopic(server: Server): Promise<string | undefined> {
  const { document, selection } = vscode.window.activeTextEditor ?? {}
  const place =
    document?.languageId === LANGUAGE && selection !== undefined
      ? { uri: document.uri.toString(), position: { line: selection.active.line, character: selection.active.character } }
      : {}
  const items = server.ask<{ topics: Topic[]; here: string[] }>('rollbook/explain', place).then(({ topics, here }) => {
    const all = topics.map(({ topic, label, detail }): TopicItem => ({ label, detail, topic }))
    const near = here.flatMap((wanted) => all.find(({ topic }) => topic === wanted) ?? [])
    return near.length === 0
      ? all
      : [separator(vscode.l10n.t('At the cursor')), ...near, separator(vscode.l10n.t('Everything')), ...all]
  })
  const picked = await vscode.window.showQuickPick(items, {
    title: vscode.l10n.t('Explain a Setting or a Rule'),
    placeHolder: vscode.l10n.t('A setting, a rule or a fault, or a word of the trade: vacuum, ghosting, wrinkles'),
    matchOnDetail: true,
  })
  return picked?.topic
}

const separator = (label: string): TopicItem => ({ label, kind: vscode.QuickPickItemKind.Separator })
