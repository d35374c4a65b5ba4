// The commands of the palette. Each is a few lines: ask the person, ask the server, show what came back.
import * as vscode from 'vscode'
import { LANGUAGE } from './language.ts'
import { openSampleShop } from './sample-shop.ts'
import type { Server } from './server.ts'
import { type StartWish, startProfile } from './start-profile.ts'
import { showExplanation, showFeedReckoning } from './views.ts'

/** The kind of the server's code action that adds a line to `feed: checks:`. */
const ADD_FEED_CHECK = vscode.CodeActionKind.Refactor.append('add.feed-check')

interface Topic {
  readonly topic: string
  readonly label?: string
  readonly detail?: string
}

export function registerCommands(context: vscode.ExtensionContext, server: Server): vscode.Disposable {
  const commands: Readonly<Record<string, (...args: never[]) => unknown>> = {
    'rollbook.openSampleShop': (target?: vscode.Uri) => openSampleShop(context.extensionUri, target),
    'rollbook.startProfile': (wish?: StartWish) => startProfile(server, wish),
    'rollbook.addFeedCheck': () => addFeedCheck(server),
    'rollbook.showFeedReckoning': () => feedReckoningOfTheActiveProfile(),
    'rollbook.explain': (topic?: string) => explain(server, topic),
    'rollbook.restartServer': () => server.restart(),
    'rollbook.showLog': () => server.showLog(),
  }
  return vscode.Disposable.from(...Object.entries(commands).map(([id, run]) => vscode.commands.registerCommand(id, run)))
}

/** The server offers this at `feed:`; as a command it works wherever the cursor stands, so the whole profile is asked about. */
async function addFeedCheck(server: Server): Promise<void> {
  const document = activeProfile()
  if (document === undefined) return tellToOpenAProfile('to add a feed check to it')
  const [action] = await server.codeActions(document, ADD_FEED_CHECK)
  if (action?.edit !== undefined) await vscode.workspace.applyEdit(action.edit)
  else
    await vscode.window.showInformationMessage(
      action?.disabled?.reason ?? 'A feed check cannot be added to this text as it stands.',
    )
}

async function feedReckoningOfTheActiveProfile(): Promise<void> {
  const document = activeProfile()
  if (document === undefined) tellToOpenAProfile('to see its feed reckoning')
  else await showFeedReckoning(document)
}

function activeProfile(): vscode.TextDocument | undefined {
  const document = vscode.window.activeTextEditor?.document
  return document?.languageId === LANGUAGE && document.uri.path.endsWith('.media.yaml') ? document : undefined
}

function tellToOpenAProfile(purpose: string): void {
  void vscode.window.showInformationMessage(`Open a profile (*.media.yaml) ${purpose}.`)
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
