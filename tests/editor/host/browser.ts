// One Chromium for all files of a run: to start it is a fifth of a workbench's start. Each host has a context of its own in it, which shares nothing.
import { existsSync } from 'node:fs'
import { type Browser, type BrowserType, chromium } from 'playwright-core'

/** The browser that shows the workbench, or undefined where there is none. */
export function findChromium(): string | undefined {
  const candidates = ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome']
  return [process.env.CHROMIUM_PATH, ...candidates].find((path) => path !== undefined && existsSync(path))
}

/** Where a run's Chromium answers. */
const ADDRESS = 'EDITOR_BROWSER'

const OPTIONS: Parameters<BrowserType['launch']>[0] = {
  executablePath: findChromium() ?? 'chromium',
  args: [
    '--no-sandbox',
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
  ],
}

/** Starts it for vitest, before the files, which find it by their environment; returns how to end it. */
export async function setup(): Promise<() => Promise<void>> {
  const server = await chromium.launchServer({ ...OPTIONS, host: '127.0.0.1' })
  process.env[ADDRESS] = server.wsEndpoint()
  return () => server.close()
}

/** The run's browser, or one of its own where none was started; to close it leaves the run's own running. */
export function openBrowser(): Promise<Browser> {
  const address = process.env[ADDRESS]
  return address === undefined ? chromium.launch(OPTIONS) : chromium.connect(address)
}
