// Unpacks the sample shop into a folder that the person picks, and opens it. Nothing that exists is overwritten.
import * as vscode from 'vscode'

const FOLDER = 'tern-quay'

/** `target` is the folder to put the sample shop into; without it the person is asked. */
export async function openSampleShop(extension: vscode.Uri, target?: vscode.Uri): Promise<void> {
  const parent = target ?? (await askForFolder())
  if (parent === undefined) return
  const shop = vscode.Uri.joinPath(parent, FOLDER)
  if (await exists(shop)) {
    const open = vscode.l10n.t('Open It as It Is')
    const message = vscode.l10n.t('There is a folder {0} already. The sample shop is not written over it.', FOLDER)
    if ((await vscode.window.showWarningMessage(message, open)) !== open) return
  } else {
    await unpack(vscode.Uri.joinPath(extension, 'dist', 'samples.json'), shop)
  }
  await vscode.commands.executeCommand('vscode.openFolder', shop)
}

async function askForFolder(): Promise<vscode.Uri | undefined> {
  const [folder] =
    (await vscode.window.showOpenDialog({
      title: vscode.l10n.t('Where should the sample shop be put?'),
      openLabel: vscode.l10n.t('Put It Here'),
      canSelectFiles: false,
      canSelectFolders: true,
    })) ?? []
  return folder
}

async function unpack(archive: vscode.Uri, shop: vscode.Uri): Promise<void> {
  const texts: Record<string, string> = JSON.parse(new TextDecoder().decode(await vscode.workspace.fs.readFile(archive)))
  const encoder = new TextEncoder()
  // Missing folders are made by writeFile.
  for (const [path, text] of Object.entries(texts)) {
    await vscode.workspace.fs.writeFile(vscode.Uri.joinPath(shop, path), encoder.encode(text))
  }
}

const exists = (uri: vscode.Uri): Thenable<boolean> =>
  vscode.workspace.fs.stat(uri).then(
    () => true,
    () => false,
  )
