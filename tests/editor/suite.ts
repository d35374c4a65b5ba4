// Runs inside the extension host of a real editor, on a workspace of two shops: what the extension does for an open profile.
// Bundled to one CommonJS module by run.ts. Every wait is for an event or a state, and bounded.
import assert from 'node:assert/strict'
import { execFileSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { connect } from 'node:net'
import { dirname, join } from 'node:path'
import * as vscode from 'vscode'
import { PROFILE, profile } from './shop.ts'

const WAIT_MS = 20_000
const CRASHES_TOLERATED = 4

const TESTS: Readonly<Record<string, () => Promise<void>>> = {
  'nothing runs before a document of ours is open': async () => {
    assert.equal(extension().isActive, false)
    assert.deepEqual(serverProcesses(), [])
  },

  'a profile has its language and settings': async () => {
    const { document } = await openProfile(0)
    assert.equal(document.languageId, 'rollbook')
    assert.equal(vscode.workspace.getConfiguration('editor', document).get('tabSize'), 2)
  },

  'the number that is wrong is marked, and the right one named': async () => {
    const { document } = await openProfile(0)
    const found = await feedProblem(document)
    assert.equal(document.getText(found.range), '0 %')
    assert.equal(found.source, 'rollbook')
  },

  'hover explains the setting with the numbers of this profile': async () => {
    const { document } = await openProfile(0)
    assert.match(await hoverText(document, '0 %   #'), /\+0\.12 %/)
  },

  'a check shows beside it the correction that it asks for': async () => {
    const { document } = await openProfile(0)
    const hints = await until('inlay hints', async () => {
      const whole = new vscode.Range(0, 0, document.lineCount, 0)
      const all = await vscode.commands.executeCommand<vscode.InlayHint[]>('vscode.executeInlayHintProvider', document.uri, whole)
      const line = document.positionAt(document.getText().indexOf('- { date')).line
      const here = all.filter((hint) => hint.position.line === line)
      return here.length > 0 ? here : undefined
    })
    assert.match(hints.map(labelOf).join(' '), /\+0\.12 %/)
  },

  'the fix writes the number and no other byte': async () => {
    const { document } = await openProfile(0)
    await applyFeedFix(document)
    assert.equal(document.getText(), profile('+0.12 %'))
    await until('the problem is gone', async () => (feedProblems(document).length === 0 ? true : undefined))
    assert.ok(await document.save())
    assert.equal(Buffer.from(await vscode.workspace.fs.readFile(document.uri)).toString('utf8'), profile('+0.12 %'))
  },

  'a mode is renamed where it is named and where it is given, and back again': async () => {
    const { document } = await openProfile(0)
    const before = document.getText()
    await rename(document, 'display\n', 'showroom')
    assert.equal(document.getText(), before.replaceAll('mode: display', 'mode: showroom'))
    const printer = await vscode.workspace.openTextDocument(vscode.Uri.joinPath(document.uri, '..', 'bay-1.printer.yaml'))
    assert.match(printer.getText(), /^ {2}showroom: \{ resolution/m)
    await rename(document, 'showroom', 'display')
    assert.equal(document.getText(), before)
    assert.match(printer.getText(), /^ {2}display: \{ resolution/m)
    assert.ok(await vscode.workspace.saveAll())
  },

  'a document is put in order by changing blanks alone': async () => {
    const { document } = await openProfile(0)
    const edits = await vscode.commands.executeCommand<vscode.TextEdit[]>('vscode.executeFormatDocumentProvider', document.uri, {
      tabSize: 8,
      insertSpaces: false,
    })
    assert.deepEqual(
      edits.map(({ range, newText }) => `${document.getText(range)}>${newText}`),
      ['  >', '   >'],
    )
  },

  'above a stock stands who uses it, and a click shows where': async () => {
    const { document } = await openProfile(0)
    const stock = await vscode.workspace.openTextDocument(vscode.Uri.joinPath(document.uri, '..', 'film-pet.stock.yaml'))
    const [lens] = await until('a lens', async () => {
      const found = await vscode.commands.executeCommand<vscode.CodeLens[]>('vscode.executeCodeLensProvider', stock.uri, 9)
      return found.length > 0 ? found : undefined
    })
    // Once the shop has been read, how many of them are doubtful is told as well.
    assert.ok(lens?.command)
    assert.match(lens.command.title, /^used by 1 profile(?:, 1 doubtful)?$/)
    await vscode.commands.executeCommand(lens.command.command, ...(lens.command.arguments ?? []))
  },

  'the other shop of the workspace goes by its own printer': async () => {
    const { document } = await openProfile(1)
    await applyFeedFix(document)
    assert.equal(document.getText(), profile('+0.10 %'))
  },

  'the command adds a check of today, ready for the measured length': async () => {
    const editor = await openProfile(0)
    const { document } = editor
    editor.selection = new vscode.Selection(1, 0, 1, 0)
    await vscode.commands.executeCommand('rollbook.recordFeedCheck')
    const added = await until('another check', async () => {
      const [, second] = document.getText().match(/^ *- \{ ?date: .*$/gm) ?? []
      return second
    })
    assert.match(added, /^ {4}- \{ date: \d{4}-\d\d-\d\d, commanded: 500 mm, measured: /)
    // The commanded length stands selected, in case it was another; the next stop is the measured one.
    await vscode.commands.executeCommand('jumpToNextSnippetPlaceholder')
    await vscode.commands.executeCommand('type', { text: '499.9' })
    assert.match(document.getText(), /measured: 499\.9 mm,/)
    await vscode.commands.executeCommand('leaveSnippet')
    await vscode.commands.executeCommand('workbench.action.files.revert')
    assert.equal(document.getText(), profile('+0.12 %'))
  },

  'the command starts a profile as a new file beside the others, once the server has read the shop': async () => {
    const { document } = await openProfile(0)
    await vscode.commands.executeCommand('rollbook.startProfile', { stock: 'film-pet', printer: 'bay-1' })
    const started = await until('the new profile', async () => {
      const front = vscode.window.activeTextEditor?.document
      return front?.uri.path.endsWith('/film-pet-bay-1-2.media.yaml') ? front : undefined
    })
    assert.equal(dirname(started.uri.path), dirname(document.uri.path))
    assert.match(started.getText(), /^profile: film-pet-bay-1-2$[\s\S]*^mode: display$[\s\S]*^gap: 1\.6 mm$/m)
    assert.match(started.getText(), /^ {2}correction: \+0\.12 %$/m)
    await until('only what is not printed yet is marked', async () => {
      const found = vscode.languages.getDiagnostics(started.uri)
      return found.some(({ message }) => /has no check behind it/.test(message)) ? true : undefined
    })
    await vscode.commands.executeCommand('workbench.action.closeActiveEditor')
    await vscode.workspace.fs.delete(started.uri)
  },

  'a server that is killed comes back and knows the open documents': async () => {
    const { document } = await openProfile(0)
    const killed = killServer()
    await until('another server', async () => serverProcesses().find((pid) => pid !== killed))
    assert.match(await hoverText(document, '+0.12 %   #'), /\+0\.12 %/)
  },

  'a server that is killed comes back, whatever was on its way to it': async () => {
    const { document } = await openProfile(0)
    const killed = killServer()
    // All within one turn of the event loop: the pipe is broken, and its end is not told yet.
    while (serverProcesses().includes(killed)) {}
    const asked = [1, 2, 3, 4, 5].map(() =>
      vscode.commands.executeCommand('rollbook.startProfile', { stock: 'none', printer: 'none' }),
    )
    void Promise.allSettled(asked)
    await until('another server', async () => serverProcesses().find((pid) => pid !== killed))
    assert.match(await hoverText(document, '+0.12 %   #'), /\+0\.12 %/)
  },

  'a server that ends again and again stays off, until it is asked to start': async () => {
    const { document } = await openProfile(0)
    await vscode.commands.executeCommand('rollbook.restartServer') // which forgets the ends before.
    await hoverText(document, '+0.12 %   #')
    for (let crash = 1; crash <= CRASHES_TOLERATED; crash++) {
      const killed = killServer()
      await until('another server', async () => serverProcesses().find((pid) => pid !== killed))
      await hoverText(document, '+0.12 %   #')
    }
    killServer()
    await until('no server', async () => (serverProcesses().length === 0 ? true : undefined))
    await assert.rejects(hoverText(document, '+0.12 %   #', 2000)) // nor one that comes a moment later.
    await vscode.commands.executeCommand('rollbook.restartServer')
    assert.match(await hoverText(document, '+0.12 %   #'), /\+0\.12 %/)
  },

  'neither the extension nor its server connects to another machine': async () => {
    const entries: NetworkEntry[] = readFileSync(networkLog(), 'utf8')
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line))
    // Silence counts only where somebody listened: in this process, and in the server that runs now.
    const listening = entries.filter((entry) => entry.watched).map((entry) => entry.pid)
    for (const pid of [process.pid, ...serverProcesses()]) assert.ok(listening.includes(pid))
    assert.deepEqual(
      entries.filter((entry) => !entry.watched),
      [],
    )
    // And that the listener hears: an address of the range for documentation (RFC 5737), where nobody answers.
    const socket = connect({ host: '192.0.2.1', port: 9 }).on('error', () => {})
    socket.destroy()
    assert.match(readFileSync(networkLog(), 'utf8'), /"connected":"192\.0\.2\.1"/)
  },

  'every command of the manifest is there': async () => {
    const commands = await vscode.commands.getCommands(true)
    const declared: { command: string }[] = extension().packageJSON.contributes.commands
    assert.deepEqual(
      declared.filter(({ command }) => !commands.includes(command)),
      [],
    )
  },
}

export async function run(): Promise<void> {
  let failed = 0
  listenToTheNetwork()
  for (const [name, test] of Object.entries(TESTS)) {
    try {
      await test()
      console.log(`ok ${name}`)
    } catch (error) {
      failed += 1
      console.error(`FAILED ${name}\n${error instanceof Error ? error.stack : error}`)
    }
  }
  await vscode.commands.executeCommand('workbench.action.revertAndCloseActiveEditor')
  await vscode.commands.executeCommand('workbench.action.closeAllEditors')
  console.log(`${Object.keys(TESTS).length - failed} passed, ${failed} failed`)
  if (failed > 0) throw new Error(`${failed} tests failed`)
}

interface NetworkEntry {
  readonly pid: number
  readonly watched?: true
}

/** In this process at once, and in every Node.js process that it starts. (The editor's server lets no such option through from outside.) */
function listenToTheNetwork(): void {
  const listener = process.env.ROLLBOOK_TEST_LISTENER
  assert.ok(listener)
  process.env.EDITOR_HOST_NETWORK_LOG = networkLog()
  process.env.NODE_OPTIONS = `--require=${listener}`
  require(listener)
}

function networkLog(): string {
  const workspace = vscode.workspace.workspaceFile
  assert.ok(workspace)
  return join(dirname(workspace.fsPath), 'network.jsonl')
}

function extension(): vscode.Extension<unknown> {
  const found = vscode.extensions.getExtension('rollbook.rollbook')
  assert.ok(found, 'the extension is installed')
  return found
}

async function openProfile(folder: number): Promise<vscode.TextEditor> {
  const root = vscode.workspace.workspaceFolders?.[folder]
  assert.ok(root, `workspace folder ${folder}`)
  return vscode.window.showTextDocument(await vscode.workspace.openTextDocument(vscode.Uri.joinPath(root.uri, PROFILE)))
}

function feedProblems(document: vscode.TextDocument): vscode.Diagnostic[] {
  const all = vscode.languages.getDiagnostics(document.uri)
  return all.filter(
    ({ range, message }) => document.lineAt(range.start.line).text.includes('correction:') && /\+0\.1\d %/.test(message),
  )
}

function feedProblem(document: vscode.TextDocument): Promise<vscode.Diagnostic> {
  return until('a problem at the feed correction', async () => feedProblems(document)[0])
}

/** Renames what the last of a text stands for, as F2 does. */
async function rename(document: vscode.TextDocument, at: string, name: string): Promise<void> {
  const position = document.positionAt(document.getText().lastIndexOf(at))
  const edit = await vscode.commands.executeCommand<vscode.WorkspaceEdit>(
    'vscode.executeDocumentRenameProvider',
    document.uri,
    position,
    name,
  )
  assert.ok(await vscode.workspace.applyEdit(edit))
}

async function applyFeedFix(document: vscode.TextDocument): Promise<void> {
  const { range } = await feedProblem(document)
  // The editor gives an empty answer where another extension's code actions are registered meanwhile: then it is asked again.
  const actions = await until('fixes', async () => {
    const kind = vscode.CodeActionKind.QuickFix.value
    const query = ['vscode.executeCodeActionProvider', document.uri, range, kind, 10] as const
    const offered = await vscode.commands.executeCommand<vscode.CodeAction[]>(...query)
    return offered.length > 0 ? offered : undefined
  })
  const fix = actions.find(({ isPreferred, title }) => isPreferred && /\+0\.1\d %/.test(title))
  assert.ok(fix?.edit, `a preferred fix with its edit, of: ${actions.map(({ title }) => title).join('; ')}`)
  assert.ok(await vscode.workspace.applyEdit(fix.edit))
}

function hoverText(document: vscode.TextDocument, at: string, patience = WAIT_MS): Promise<string> {
  const position = document.positionAt(document.getText().indexOf(at) + 1)
  return until(
    `a hover at "${at}"`,
    async () => {
      const hovers = await vscode.commands.executeCommand<vscode.Hover[]>('vscode.executeHoverProvider', document.uri, position)
      const text = hovers.flatMap(({ contents }) => contents.map((c) => (typeof c === 'string' ? c : c.value))).join('\n')
      return text === '' ? undefined : text
    },
    patience,
  )
}

function labelOf({ label }: vscode.InlayHint): string {
  return typeof label === 'string' ? label : label.map(({ value }) => value).join('')
}

/** The language servers that this extension host started. */
function serverProcesses(): number[] {
  try {
    const found = execFileSync('pgrep', ['-P', String(process.pid), '-f', 'dist/server\\.cjs'], { encoding: 'utf8' })
    return found.trim().split('\n').map(Number)
  } catch {
    return [] // pgrep's way of saying that there is none.
  }
}

function killServer(): number {
  const [pid] = serverProcesses()
  assert.ok(pid, 'a server runs')
  process.kill(pid, 'SIGKILL')
  return pid
}

async function until<T>(what: string, probe: () => Promise<T | undefined>, patience = WAIT_MS): Promise<T> {
  const end = Date.now() + patience
  while (Date.now() < end) {
    const value = await probe()
    if (value !== undefined) return value
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
  throw new Error(`waited in vain: ${what}`)
}
