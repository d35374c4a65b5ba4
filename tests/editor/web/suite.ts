// Runs inside the extension host of a browser, on a shop that lies in memory under a scheme of its own: what the extension does there without a disk, a process
// or git. Bundled to one script by web.test.ts. Every wait is for an event or a state, and bounded.
import * as vscode from 'vscode'
import { type MemoryFiles, READ_ONLY } from './memory-files.ts'

const WAIT_MS = 20_000
const BANNER = 'profiles/banner-510-bay-1.media.yaml'

const TESTS: Readonly<Record<string, () => Promise<void>>> = {
  'there is no Node, and nothing runs before a document of ours is open': async () => {
    equal(typeof process, 'undefined')
    equal(extension().isActive, false)
  },

  'the first findings of a profile rest on four documents that were read: itself, its stock, its printer and its shop':
    async () => {
      const before = memory().reads.length
      const heard = new Promise<readonly string[]>((resolve) => {
        const listening = vscode.languages.onDidChangeDiagnostics(({ uris }) => {
          if (!uris.some(({ path }) => path === '/shop/profiles/banner-510-bay-1.media.yaml')) return
          listening.dispose()
          resolve(ofTheShop(memory().reads.slice(before)))
        })
      })
      const document = await show('profiles/banner-510-bay-1.media.yaml')
      const reads = await within(heard, 'the first findings')
      match(messages(document).join('\n'), /prints come out 1\.2 mm per metre short\W+4 checks ask for \+0\.240? %/i)
      const needed = [
        'profiles/banner-510-bay-1.media.yaml',
        'stocks/banner-510.stock.yaml',
        'printers/bay-1.printer.yaml',
        'rollbook.yaml',
      ]
      equal(
        reads.slice(0, 4).sort().join(),
        needed
          .map((name) => `/shop/${name}`)
          .sort()
          .join(),
      )
      equal(reads.length <= 6, true, `${reads.length} reads: ${reads.join(', ')}`)
    },

  'of two shops side by side each profile goes by its own printer': async () => {
    const [quay, harbour] = [await show(BANNER), await show(BANNER, 1)]
    equal(quay.getText(), harbour.getText())
    for (const [document, number] of [
      [quay, /Key in \+0\.24 %/],
      [harbour, /Key in \+0\.25 %/],
    ] as const)
      await until(`${number} for ${document.uri}`, async () => messages(document).some((one) => number.test(one)) || undefined)
  },

  'hover, hints and the outline are those of the profile': async () => {
    const document = await show('profiles/banner-510-bay-1.media.yaml')
    match(await hoverAt(document, '+0.12'), /\+0\.240? %/)
    const whole = new vscode.Range(0, 0, document.lineCount, 0)
    const hints = await until('hints', async () => {
      const found = await vscode.commands.executeCommand<vscode.InlayHint[]>(
        'vscode.executeInlayHintProvider',
        document.uri,
        whole,
      )
      return found.length > 0 ? found : undefined
    })
    match(hints.map(({ label }) => (typeof label === 'string' ? label : label.map(({ value }) => value).join(''))).join(' '), /%/)
  },

  'a rule is explained, from the pages beside the bundle': async () => {
    await vscode.commands.executeCommand('rollbook.explain', 'feed-imprecise')
    const page = await until('the page', async () =>
      vscode.workspace.textDocuments.find(({ uri }) => uri.authority === 'explanation'),
    )
    match(page.getText(), /uncertain|check/)
  },

  'a profile that no search knows is found all the same, and told of in Problems': async () => {
    equal((await vscode.workspace.findFiles('**/new-banner.media.yaml')).length, 0)
    const uri = at('profiles/new-banner.media.yaml')
    const found = await until('its problems', async () => {
      const all = vscode.languages.getDiagnostics(uri)
      return all.length > 0 ? all : undefined
    })
    match(found.map(({ message }) => message).join('\n'), /gap/)
  },

  'the fix writes the number, and the file in memory holds it': async () => {
    const document = await show('profiles/banner-510-bay-1.media.yaml')
    const before = document.getText()
    const [finding] = vscode.languages.getDiagnostics(document.uri).filter(({ message }) => /ask for \+0\.240? %/.test(message))
    const fix = await until('the fix', async () => {
      const kind = vscode.CodeActionKind.QuickFix.value
      const query = ['vscode.executeCodeActionProvider', document.uri, finding!.range, kind, 10] as const
      const offered = await vscode.commands.executeCommand<vscode.CodeAction[]>(...query)
      return offered.find(({ isPreferred }) => isPreferred)
    })
    equal(await vscode.workspace.applyEdit(fix.edit!), true)
    equal(
      document.getText().replace(/^( {2}correction: )\+0\.240? %/m, '$1…'),
      before.replace(/^( {2}correction: )\+0\.120? %/m, '$1…'),
    )
    equal(await document.save(), true)
    equal(new TextDecoder().decode(await vscode.workspace.fs.readFile(document.uri)), document.getText())
  },

  'a new profile is written beside the others': async () => {
    await vscode.commands.executeCommand('rollbook.startProfile', {
      stock: 'canvas-380',
      printer: 'bay-1',
      mode: 'banner-4-pass',
    })
    const started = await until('the new profile', async () => {
      const front = vscode.window.activeTextEditor?.document
      return front?.uri.path.endsWith('/canvas-380-bay-1.media.yaml') ? front : undefined
    })
    equal(started.uri.toString(), at('profiles/canvas-380-bay-1.media.yaml').toString())
    match(started.getText(), /^stock: canvas-380$/m)
    await vscode.workspace.fs.delete(started.uri)
  },

  'a document without a file is judged by its language': async () => {
    const document = await vscode.workspace.openTextDocument({ language: 'rollbook', content: 'stock: film\nthickness: 180\n' })
    await until('its problems', async () => (messages(document).some((message) => /180/.test(message)) ? true : undefined))
  },

  'a place that cannot be written to is read and judged': async () => {
    const uri = at('profiles/banner-510-bay-1.media.yaml').with({ scheme: READ_ONLY })
    const document = await vscode.workspace.openTextDocument(uri)
    await vscode.window.showTextDocument(document)
    await until('its problems', async () =>
      messages(document).some((one) => /1\.2 mm per metre short/.test(one)) ? true : undefined,
    )
    const before = document.getText()
    await vscode.commands.executeCommand('rollbook.recordFeedCheck')
    equal(document.getText(), before)
    equal(document.isDirty, false)
  },

  'a command that needs git says so in a sentence, and the saved version is compared all the same': async () => {
    const document = await show('profiles/banner-510-bay-1.media.yaml')
    const edit = new vscode.WorkspaceEdit()
    const start = document.getText().indexOf('gap: 2.0 mm')
    edit.replace(document.uri, new vscode.Range(document.positionAt(start + 5), document.positionAt(start + 8)), '2.4')
    equal(await vscode.workspace.applyEdit(edit), true)
    await vscode.commands.executeCommand('rollbook.reviewChanges', 'saved')
    await until('the review', async () =>
      vscode.window.tabGroups.all.flatMap(({ tabs }) => tabs).find(({ label }) => label === 'Review of Changes'),
    )
    await vscode.commands.executeCommand('rollbook.reviewChanges', 'commit')
  },

  'every command of the manifest is there': async () => {
    const commands = await vscode.commands.getCommands(true)
    const declared: { command: string }[] = extension().packageJSON.contributes.commands
    equal(
      declared
        .filter(({ command }) => !commands.includes(command))
        .map(({ command }) => command)
        .join(),
      '',
    )
  },
}

export async function run(): Promise<void> {
  let failed = 0
  await vscode.workspace.fs.stat(at('rollbook.yaml'))
  for (const [name, test] of Object.entries(TESTS)) {
    try {
      await within(test(), name)
      console.log(`ok ${name}`)
    } catch (error) {
      failed += 1
      console.error(`FAILED ${name}\n${error instanceof Error ? error.stack : error}`)
    }
  }
  console.log(`${Object.keys(TESTS).length - failed} passed, ${failed} failed`)
  if (failed > 0) throw new Error(`${failed} tests failed`)
}

function extension(): vscode.Extension<unknown> {
  return vscode.extensions.getExtension('rollbook.rollbook')!
}

const memory = (): MemoryFiles => vscode.extensions.getExtension<MemoryFiles>('rollbook-test.memory-files')!.exports

/** The editor looks for settings of its own as well. */
const ofTheShop = (paths: readonly string[]): readonly string[] => paths.filter((path) => path.endsWith('.yaml'))

const at = (name: string, root = 0): vscode.Uri => vscode.Uri.joinPath(vscode.workspace.workspaceFolders![root]!.uri, name)

async function show(name: string, root = 0): Promise<vscode.TextDocument> {
  const document = await vscode.workspace.openTextDocument(at(name, root))
  await vscode.window.showTextDocument(document, { preview: false })
  return document
}

const messages = ({ uri }: vscode.TextDocument): readonly string[] =>
  vscode.languages.getDiagnostics(uri).map(({ message }) => message)

function hoverAt(document: vscode.TextDocument, text: string): Promise<string> {
  const position = document.positionAt(document.getText().indexOf(text) + 1)
  return until(`a hover at "${text}"`, async () => {
    const hovers = await vscode.commands.executeCommand<vscode.Hover[]>('vscode.executeHoverProvider', document.uri, position)
    return (
      hovers.flatMap(({ contents }) => contents.map((one) => (typeof one === 'string' ? one : one.value))).join('\n') || undefined
    )
  })
}

function equal<T>(found: T, wanted: T, more = ''): void {
  if (found !== wanted) throw new Error(`found ${found}, wanted ${wanted} ${more}`)
}

function match(found: string, wanted: RegExp): void {
  if (!wanted.test(found)) throw new Error(`${wanted} does not match: ${found}`)
}

async function until<T>(what: string, probe: () => Promise<T | undefined>): Promise<T> {
  const end = Date.now() + WAIT_MS
  while (Date.now() < end) {
    const value = await probe()
    if (value !== undefined) return value
    await new Promise((resolve) => setTimeout(resolve, 50))
  }
  throw new Error(`waited in vain: ${what}`)
}

function within<T>(promise: Promise<T>, what: string): Promise<T> {
  return Promise.race([
    promise,
    new Promise<never>((_, reject) => setTimeout(() => reject(new Error(`waited in vain: ${what}`)), 2 * WAIT_MS)),
  ])
}
