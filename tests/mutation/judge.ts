// A standing vitest that runs a few test files over one mutant. The mutant lives in memory, where vitest reads the file; nothing is written.
import { join } from 'node:path'
import { createVitest, type Vitest } from 'vitest/node'
import { ROOT, type TestFile } from './tests-of.ts'

export type Verdict = 'killed' | 'timed out' | 'survived'

export interface Changed {
  readonly file: string
  readonly text: string
}

export class Judge {
  private vitest: Vitest | undefined
  private changed: { readonly path: string; readonly text: string } | undefined
  private readonly durations = new Map<string, number>()

  /** Whether one of the tests fails over the changed text. A test has ten seconds and ten times what it takes without a change. */
  async verdict(changed: Changed, tests: readonly TestFile[]): Promise<Verdict> {
    for (const test of tests) {
      await this.prove(test)
      this.changed = { path: join(ROOT, changed.file), text: changed.text }
      const failed = await within(10_000 + 10 * this.durations.get(key(test))!, this.run(test))
      if (failed === undefined) {
        await this.close()
        return 'timed out'
      }
      this.vitest?.invalidateFile(this.changed.path)
      this.changed = undefined
      if (failed) return 'killed'
    }
    return 'survived'
  }

  /** A test that fails without a mutant, or does not run, would kill them all: it must pass first. */
  private async prove(test: TestFile): Promise<void> {
    if (this.durations.has(key(test))) return
    const start = performance.now()
    if (await this.run(test)) throw new Error(`${test.file} fails without a mutant`)
    this.durations.set(key(test), performance.now() - start)
  }

  private async run({ file, pattern }: TestFile): Promise<boolean> {
    this.vitest ??= await this.start()
    const { vitest } = this
    if (this.changed) vitest.invalidateFile(this.changed.path)
    if (pattern) vitest.setGlobalTestNamePattern(pattern)
    else vitest.resetGlobalTestNamePattern()
    const wanted = join(ROOT, file)
    const specifications = (await vitest.globTestSpecifications([file])).filter(({ moduleId }) => moduleId === wanted)
    const { testModules, unhandledErrors } = await vitest.runTestSpecifications(specifications)
    const module = testModules.find(({ moduleId }) => moduleId === wanted)
    if (!module) throw new Error(`${file} did not run`)
    const passed = [...module.children.allTests('passed')].length
    return !module.ok() || unhandledErrors.length > 0 || passed === 0
  }

  private start(): Promise<Vitest> {
    return createVitest(
      'test',
      {
        config: join(ROOT, 'tests', 'vitest.config.ts'),
        watch: false,
        update: false,
        reporters: [{}],
        pool: 'threads',
        maxWorkers: 1,
        bail: 1,
        // Nothing is worth a wait: a worker that does not end is ended.
        teardownTimeout: 1000,
      },
      {
        plugins: [
          { name: 'mutant', enforce: 'pre', transform: (_, id) => (id === this.changed?.path ? this.changed.text : undefined) },
        ],
      },
    )
  }

  /** Also ends a worker that a mutant keeps in a loop. */
  async close(): Promise<void> {
    const { vitest } = this
    this.vitest = this.changed = undefined
    if (vitest) await within(10_000, vitest.close())
  }
}

const key = ({ file, pattern = '' }: TestFile): string => `${file} ${pattern}`

/** What a promise gives, or undefined when the time is up first. */
async function within<T>(milliseconds: number, promise: Promise<T>): Promise<T | undefined> {
  let timer: NodeJS.Timeout | undefined
  const late = new Promise<undefined>((done) => {
    timer = setTimeout(done, milliseconds, undefined)
  })
  return Promise.race([promise, late]).finally(() => clearTimeout(timer))
}
