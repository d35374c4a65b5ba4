// The commands of the palette. Each is a few lines: ask the person, ask the server, show what came back.
import * as vscode from 'vscode'
import { LANGUAGE } from './language.ts'
import { openSampleShop } from './sample-shop.ts'
import type { Server } from './server.ts'
import { showExplanation, showFeedReckoning } from './views.ts'

/** The kind of the server's code action that adds a line to `feed: checks:`. */
const ADD_FEED_CHECK = 'refactor.add.feed-check'

interface Topic {
  readonly topic: string
  readonly label?: string
  readonly detail?: string
}

export function registerCommands(context: vscode.ExtensionContext, server: Server): vscode.Disposable {
  const commands: Readonly<Record<string, (...args: never[]) => unknown>> = {
    'rollbook.openSampleShop': (target?: vscode.Uri) => openSampleShop(context.extensionUri, target),
    'rollbook.addFeedCheck': () =>
      vscode.commands.executeCommand('editor.action.codeAction', { kind: ADD_FEED_CHECK, apply: 'first' }),
    'rollbook.showFeedReckoning': () => feedReckoningOfTheActiveProfile(),
    'rollbook.explain': (topic?: string) => explain(server, topic),
    'rollbook.restartServer': () => server.restart(),
    'rollbook.showLog': () => server.showLog(),
  }
  return vscode.Disposable.from(...Object.entries(commands).map(([id, run]) => vscode.commands.registerCommand(id, run)))
}

async function feedReckoningOfTheActiveProfile(): Promise<void> {
  const document = vscode.window.activeTextEditor?.document
  if (document?.languageId === LANGUAGE && document.uri.path.endsWith('.media.yaml')) await showFeedReckoning(document)
  else await vscode.window.showInformationMessage('Open a profile (*.media.yaml) to see its feed reckoning.')
}

async function explain(server: Server, topic: string | undefined): Promise<void> {
  const chosen = topic ?? (await pickTopic(server))
  if (chosen !== undefined) await showExplanation(chosen)
}

async function pickTopic(server: Server): Promise<string | undefined> {
  const items = server
    .ask<{ topics: Topic[] }>('rollbook/explain', {})
    .then(({ topics }) =>
      topics.map(({ topic, label, detail }) => ({ label: label ?? topic, ...(detail === undefined ? {} : { detail }), topic })),
    )
  const picked = await vscode.window.showQuickPick(items, {
    title: 'Explain a Setting or a Rule',
    placeHolder: 'A setting, a rule or a fault',
    matchOnDetail: true,
  })
  return picked?.topic
}
