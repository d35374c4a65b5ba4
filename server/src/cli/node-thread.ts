// Another thread of this program on Node, and what begins there: the same bundle, or the same source.
import { join } from 'node:path'
import { BUNDLED } from '../version.ts'
import type { CliHost } from './host.ts'
import { judgingOf, type Known } from './thread.ts'

/** What a new thread runs. From source it has to be told first how to read it. */
function beginning(): string {
  if (BUNDLED) return `require(${JSON.stringify(join(__dirname, 'commands.cjs'))}).judgeInThread()`
  const imported = (url: string): string => `import(${JSON.stringify(url)})`
  const [tsx, source] = [import.meta.resolve('tsx/esm/api'), new URL('../main-commands.ts', import.meta.url).href]
  return `${imported(tsx)}.then((tsx) => tsx.register() && ${imported(source)}).then((source) => source.judgeInThread())`
}

export const thread: NonNullable<CliHost['thread']> = async (known, tell, ended) => {
  // Loaded only now: few commands start a thread.
  const { Worker } = await import('node:worker_threads')
  const worker = new Worker(beginning(), { eval: true, workerData: known })
  worker.on('message', tell)
  worker.on('messageerror', (error) => ended(String(error)))
  worker.on('error', (error) => ended(String(error)))
  worker.on('exit', (code) => ended(`it left with ${code}`))
  return { judge: (file) => worker.postMessage(file), end: () => void worker.terminate() }
}

/** In a new thread: judges what it is given, in that order, and tells of each. What goes wrong beside the judging ends the thread. */
export async function judgeInThread(cli: CliHost): Promise<void> {
  const { parentPort, workerData } = await import('node:worker_threads')
  const judging = judgingOf(cli, workerData as Known)
  let done: Promise<unknown> = judging
  parentPort!.on('message', (file: string) => {
    done = done.then(async () => parentPort!.postMessage(await (await judging)(file)))
  })
}
