// Makes a new document: asks what the server asks for, has each answer judged as it is typed, and writes what the server makes of them.
import * as vscode from 'vscode'
import type { Server } from './server.ts'
import { placeInTheShop, tell } from './start-profile.ts'

interface Question {
  readonly key: string
  readonly ask: string
  readonly why: string
  readonly where: string
  readonly must: boolean
  readonly open?: string
  readonly takes: string
  readonly many: boolean
  readonly choices?: readonly { readonly value: string; readonly meaning?: string }[]
  /** Nothing but one of the choices can be typed. */
  readonly closed?: true
}

interface Next {
  readonly refused?: string
  readonly questions: readonly Question[]
  readonly faults: readonly { readonly key: string; readonly reason: string }[]
  readonly remarks: readonly string[]
}

interface Made {
  readonly refused?: string
  readonly faults?: Next['faults']
  readonly uri: string
  readonly text?: string
  readonly edits?: readonly { readonly range: vscode.Range; readonly newText: string }[]
}

export type NewKind = 'shop' | 'stock' | 'printer' | 'instrument'

type Answers = Record<string, string | readonly string[]>

const METHOD = 'rollbook/new'

/** What is answered already is not asked; with `write`, nothing is. */
export interface NewWish {
  readonly answers?: Readonly<Answers>
  readonly write?: boolean
}

export async function newDocument(server: Server, kind: NewKind, wish: NewWish = {}): Promise<void> {
  const uri = placeInTheShop()
  if (uri === undefined) return tell(vscode.l10n.t('Open the folder of your shop, or an empty one that shall be it.'))
  const answers: Answers = { ...wish.answers }
  const next = (typed: Answers = answers): Promise<Next> => server.ask<Next>(METHOD, { uri, kind, answers: typed })
  for (;;) {
    const { questions, refused } = await next()
    if (refused !== undefined) return tell(refused)
    const must = questions.find((question) => question.must)
    const question = must ?? (wish.write || questions.length === 0 ? 'write' : await pickOpen(kind, questions))
    if (question === undefined) return
    if (question === 'write') break
    const answer = await (question.closed
      ? choose(kind, question)
      : type(kind, question, (text) => next({ ...answers, [question.key]: text })))
    if (answer !== undefined) answers[question.key] = answer
    else if (must) return
  }
  const made = await server.ask<Made>(METHOD, { uri, kind, answers, make: 'document' })
  if (made.refused !== undefined)
    return tell([made.refused, ...(made.faults ?? []).map(({ key, reason }) => `${key}: ${reason}`)].join(' '))
  await write(vscode.Uri.parse(made.uri), made)
}

interface OpenItem extends vscode.QuickPickItem {
  readonly question: Question | 'write'
}

/** Enough is answered to begin: write it, or answer more of what may be left open. */
async function pickOpen(kind: NewKind, questions: readonly Question[]): Promise<Question | 'write' | undefined> {
  const enough: OpenItem = {
    label: `$(check) ${vscode.l10n.t('Write it now')}`,
    detail: vscode.l10n.t('What is left open can be added later.'),
    question: 'write',
  }
  const items = questions.map((question): OpenItem => ({ label: question.ask, detail: question.open ?? question.why, question }))
  const picked = await vscode.window.showQuickPick([enough, ...items], {
    title: titleOf(kind),
    matchOnDetail: true,
    ignoreFocusOut: true,
  })
  return picked?.question
}

async function choose(
  kind: NewKind,
  { ask, where, many, choices = [] }: Question,
): Promise<string | readonly string[] | undefined> {
  const items = choices.map(({ value, meaning }) => ({ label: value, ...(meaning && { description: meaning }) }))
  const options = { title: `${titleOf(kind)}: ${ask}`, placeHolder: where, matchOnDescription: true, ignoreFocusOut: true }
  if (!many) return (await vscode.window.showQuickPick(items, options))?.label
  return (await vscode.window.showQuickPick(items, { ...options, canPickMany: true }))?.map(({ label }) => label)
}

function type(
  kind: NewKind,
  { key, ask, why, where, takes }: Question,
  judge: (text: string) => Promise<Next>,
): Thenable<string | undefined> {
  return vscode.window.showInputBox({
    title: `${titleOf(kind)}: ${ask}`,
    prompt: `${why} ${where}`,
    placeHolder: takes,
    ignoreFocusOut: true,
    async validateInput(text) {
      const { faults, remarks } = await judge(text)
      const fault = faults.find((one) => one.key === key)
      if (fault) return { message: fault.reason, severity: vscode.InputBoxValidationSeverity.Error }
      const [remark] = remarks.slice(-1)
      return remark === undefined ? undefined : { message: remark, severity: vscode.InputBoxValidationSeverity.Warning }
    },
  })
}

const titleOf = (kind: NewKind): string =>
  ({
    shop: vscode.l10n.t('New Shop'),
    stock: vscode.l10n.t('New Stock'),
    printer: vscode.l10n.t('New Printer'),
    instrument: vscode.l10n.t('New Instrument'),
  })[kind]

/** A new file among the others, or an addition to one; either can be undone. */
async function write(file: vscode.Uri, { text, edits }: Made): Promise<void> {
  const edit = new vscode.WorkspaceEdit()
  if (edits === undefined) edit.createFile(file, { ignoreIfExists: false, contents: new TextEncoder().encode(text) })
  else
    for (const { range, newText } of edits)
      edit.insert(file, new vscode.Position(range.start.line, range.start.character), newText)
  if (!(await vscode.workspace.applyEdit(edit))) return tell(vscode.l10n.t('{0} could not be written.', file.path))
  await vscode.window.showTextDocument(await vscode.workspace.openTextDocument(file))
}
