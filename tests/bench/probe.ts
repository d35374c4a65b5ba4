// A measured process: started with the hook that tells its CPU time and memory, spoken to over stdio where it is a language server.
import { type ChildProcess, spawn, spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'

const HOOK = join(import.meta.dirname, 'hook.cjs')

export interface Memory {
  /** MB after a collection, where the process was started with --expose-gc. */
  readonly heap: number
  readonly rss: number
}

export interface ProbeOptions {
  readonly node?: string
  readonly flags?: readonly string[]
  readonly args?: readonly string[]
  readonly env?: Readonly<Record<string, string>>
}

const live = new Set<ChildProcess>()
process.on('exit', () => {
  for (const child of live) child.kill('SIGKILL')
})

/** A Node process that answers what it has cost. Its stdin and stdout are free for a protocol. */
export class Probe {
  readonly child: ChildProcess
  /** `performance.now()` when it was started. */
  readonly started = performance.now()
  private nextId = 1
  private readonly waiting = new Map<number, (answer: Record<string, unknown>) => void>()
  private errors = ''

  constructor(script: string, { node = process.execPath, flags = [], args = [], env }: ProbeOptions = {}) {
    this.child = spawn(node, ['--require', HOOK, ...flags, script, ...args], {
      stdio: ['pipe', 'pipe', 'pipe', 'ipc'],
      env: { ...process.env, ...env },
    })
    live.add(this.child)
    this.child.on('message', (message: { id: number }) => {
      this.waiting.get(message.id)?.(message as never)
      this.waiting.delete(message.id)
    })
    this.child.stderr!.on('data', (chunk) => {
      this.errors = `${this.errors}${chunk}`.slice(-4000)
    })
    this.child.on('exit', () => live.delete(this.child))
  }

  /** Milliseconds of CPU, user and system, all threads, since the process began. */
  async cpu(): Promise<number> {
    return (await this.ask('cpu')).cpu as number
  }

  async memory(): Promise<Memory> {
    const { rss, heapUsed } = await this.ask('memory')
    return { heap: (heapUsed as number) / 1e6, rss: (rss as number) / 1e6 }
  }

  async startProfile(): Promise<void> {
    await this.ask('profile')
  }

  async stopProfile(): Promise<unknown> {
    return (await this.ask('profiled')).profile
  }

  /** How often the text of a document was parsed since the server began, where its bundle counts that. */
  async parses(): Promise<number> {
    return (await this.ask('parses')).parses as number
  }

  /** Resident memory as the system sees it, MB, without disturbing the process. */
  rss(): number {
    const status = readFileSync(`/proc/${this.child.pid}/status`, 'utf8')
    return Number(/VmRSS:\s+(\d+)/.exec(status)?.[1]) / 1000
  }

  get stderr(): string {
    return this.errors
  }

  kill(): Promise<void> {
    return new Promise((done) => {
      if (this.child.exitCode !== null || this.child.signalCode !== null) return done()
      this.child.once('exit', () => done())
      this.child.kill('SIGKILL')
    })
  }

  private ask(what: string): Promise<Record<string, unknown>> {
    return new Promise((done, fail) => {
      const id = this.nextId++
      this.waiting.set(id, done)
      this.child.send({ id, ask: what }, (error) => error && fail(error))
    })
  }
}

export interface Run {
  readonly wall: number
  readonly cpu: number
  readonly output: string
  readonly status: number | null
}

export interface RunOptions {
  readonly node?: string
  readonly cwd?: string
  readonly env?: Readonly<Record<string, string>>
  /** On one core alone, where the system can hold it there. */
  readonly pinned?: boolean
}

/** Runs a script to its end: wall and CPU milliseconds of the whole process, and what it printed. */
export function runToEnd(
  args: readonly string[],
  { node = process.execPath, cwd, env, pinned = false }: RunOptions = {},
): Promise<Run> {
  return new Promise((done, fail) => {
    const start = performance.now()
    const [program, ...rest] = [...(pinned ? ['taskset', '-c', '0'] : []), node, '--require', HOOK, ...args] as [
      string,
      ...string[],
    ]
    const child = spawn(program, rest, {
      stdio: ['ignore', 'pipe', 'inherit', 'pipe'],
      env: { ...process.env, ...env },
      ...(cwd && { cwd }),
    })
    live.add(child)
    let output = ''
    let cpu = ''
    child.stdout!.on('data', (chunk) => {
      output += chunk
    })
    ;(child.stdio[3] as NodeJS.ReadableStream).on('data', (chunk) => {
      cpu += chunk
    })
    child.on('error', fail)
    child.on('close', (status) => {
      live.delete(child)
      done({ wall: performance.now() - start, cpu: Number(cpu), output, status })
    })
  })
}

/** Whether a process can be held on one core here. */
export const canPin = (): boolean => spawnSync('taskset', ['-c', '0', 'true']).status === 0

/** The value that a share of the sorted values does not exceed: 0.5 is the median. */
export function percentile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? Number.NaN
}

export const median = (values: readonly number[]): number => percentile(values, 0.5)
