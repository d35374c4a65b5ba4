// A page to a PDF by a browser of this machine: nothing is installed for it, and no script runs in the page.
import { existsSync } from 'node:fs'
import { constants, copyFile, mkdtemp, rm, stat, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { delimiter, join } from 'node:path'
import { pathToFileURL } from 'node:url'
import { CannotRun } from './host.ts'

/** Names under which a Chromium is called; where it lies on a Mac and on Windows. */
const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome', 'msedge', 'microsoft-edge']
const PLACES = [
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
]

/** The browser that prints: what CHROME_PATH names, else one on the PATH or at its usual place. */
export function findChromium(env: Readonly<Record<string, string | undefined>> = process.env): string | undefined {
  const onPath = (env.PATH ?? '')
    .split(delimiter)
    .filter((folder) => folder !== '')
    .flatMap((folder) => NAMES.map((name) => join(folder, process.platform === 'win32' ? `${name}.exe` : name)))
  return [...(env.CHROME_PATH ? [env.CHROME_PATH] : []), ...onPath, ...PLACES].find((path) => existsSync(path))
}

/** Prints a page into a new file. Rejects with `CannotRun` where there is no browser, or a file stands there, or it cannot be printed. */
export async function printPdf(
  html: string,
  path: string,
  env: Readonly<Record<string, string | undefined>> = process.env,
): Promise<void> {
  const chromium = findChromium(env)
  if (chromium === undefined)
    throw new CannotRun(
      'No Chromium, Chrome or Edge is found here to make a PDF with (CHROME_PATH can say where one is). Use --html FILE and print that: it is laid out for the same paper.',
    )
  if (await stat(path).catch(() => undefined)) throw new CannotRun(`There is a file ${path} already; it is not written over.`)
  const folder = await mkdtemp(join(tmpdir(), 'rollbook-sheet-'))
  try {
    const [page, made] = [join(folder, 'sheet.html'), join(folder, 'sheet.pdf')]
    await writeFile(page, html)
    await run(chromium, [
      '--headless',
      '--disable-gpu',
      '--no-first-run',
      '--disable-extensions',
      '--no-pdf-header-footer',
      `--user-data-dir=${join(folder, 'profile')}`,
      // The administrator of a machine, as in a container, cannot have a sandbox; the page holds no script and fetches nothing.
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
      `--print-to-pdf=${made}`,
      pathToFileURL(page).href,
    ])
    await copyFile(made, path, constants.COPYFILE_EXCL)
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException
    if (code === 'EEXIST') throw new CannotRun(`There is a file ${path} already; it is not written over.`)
    throw new CannotRun(`${chromium} did not make the PDF: ${message.split('\n')[0]}. Use --html FILE and print that.`)
  } finally {
    await rm(folder, { recursive: true, force: true, maxRetries: 5 }).catch(() => undefined)
  }
}

/** What starts programs is loaded only now. */
async function run(program: string, args: readonly string[]): Promise<void> {
  const { execFile } = await import('node:child_process')
  await new Promise<void>((done, failed) => {
    execFile(program, args, { timeout: 60_000, killSignal: 'SIGKILL' }, (error) => (error ? failed(error) : done()))
  })
}
