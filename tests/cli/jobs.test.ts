// `rollbook check --jobs`: however many threads judge, in whatever order they come to an end, and whatever becomes of them, the same is told, byte for
// byte: the findings, what was not judged, the exit code. Real threads are in `bundle.test.ts`.
import { join } from 'node:path'
import { expect, test, vi } from 'vitest'
import { FORMATS } from '../../server/src/cli/check.ts'
import type { CliHost } from '../../server/src/cli/host.ts'
import { nodeCliHost } from '../../server/src/cli/node.ts'
import { readOptions } from '../../server/src/cli/options.ts'
import { jobsFor } from '../../server/src/cli/threads.ts'
import { RULES } from '../../server/src/rules/generated/index.ts'
import { Chance } from '../support/chance.ts'
import { seed } from '../support/seed.ts'
import { type Answer, commit, HOST, newFolder, repository, rollbookWith, SHOP, write } from './repository.ts'
import { ENDS, type End, played } from './threads.ts'

const SAMPLES = join(import.meta.dirname, '..', '..', 'samples')
const chance = new Chance(seed)

interface Ran extends Answer {
  /** How many documents were judged by threads. */
  readonly judged: number
}

async function ran(cwd: string, line: string, fate?: () => End | undefined, own: Partial<CliHost> = {}): Promise<Ran> {
  const effects = { env: {}, ...own }
  const { thread, judged } = played({ ...HOST, ...effects, cwd }, chance, fate)
  const answer = await rollbookWith({ ...effects, thread }, cwd, 'check', ...line.split(' '), '--today', '2026-11-25')
  return { ...answer, judged: judged.length }
}

const alone = async (cwd: string, line: string): Promise<Answer> => {
  const { judged, ...answer } = await ran(cwd, `${line} --jobs 1`)
  expect(judged).toBe(0)
  return answer
}

const SHOP_OF_SAMPLES = join(SAMPLES, 'tern-quay')

test.each([...FORMATS.map((format) => [format, 'tern-quay'] as const), ['json', 'broken'] as const])(
  'as %s, of the samples in %s',
  async (format, shop) => {
    const line = `--format ${format} --due`
    const one = await alone(join(SAMPLES, shop), line)
    const { judged, ...two } = await ran(join(SAMPLES, shop), `${line} --jobs 2`)
    expect(two).toEqual(one)
    expect(judged).toBeGreaterThan(20)
  },
)

test.each(ENDS)('where a thread %s, and where all do', async (end) => {
  const one = await alone(SHOP_OF_SAMPLES, '--format json')
  const documents = JSON.parse(one.out).files
  for (const most of [1, 3]) {
    let ended = 0
    const { judged, ...three } = await ran(SHOP_OF_SAMPLES, '--format json --jobs 3', () => (ended++ < most ? end : undefined))
    expect(three).toEqual(one)
    // What a thread had not told of was judged here, or by those that were left.
    if (most === 1) expect(judged).toBeGreaterThan(documents / 2)
    else expect(judged).toBeLessThan(documents)
  }
})

test('what could not be judged is told as it is by one, each sentence once, and in its place', async () => {
  const folder = newFolder()
  write(
    folder,
    `${SHOP}#- profiles/a.media.yaml\nprofile: a\nstock: gone\n#- profiles/b.media.yaml\nprofile: b\nstock: gone\nprofile: b\n`,
  )
  const rule = RULES.find(({ code }) => code === 'unset-settings') ?? RULES[0]!
  const check = vi.spyOn(rule, 'check').mockImplementation(() => {
    throw new TypeError('boom')
  })
  const one = await alone(folder, '.')
  expect(one.code).toBe(2)
  expect(one.err).toMatch(/boom/)
  for (const fate of [undefined, () => chance.one(ENDS)]) {
    const { judged: _, ...four } = await ran(folder, '. --jobs 4', fate)
    expect(four).toEqual(one)
  }
  check.mockRestore()
})

test('a thread that ended is told of to who looks for a defect', async () => {
  const env = { ROLLBOOK_DEBUG: '1' }
  const { err } = await ran(SHOP_OF_SAMPLES, '. --jobs 2', () => 'throws', { env })
  expect(err).toBe('A thread ended, and what it had still to judge is judged without it: boom\n'.repeat(2))
})

test('of what is staged, of what is new, and after mending', async () => {
  const folder = repository(SHOP)
  commit(folder, '#- profiles/late.media.yaml\nprofile: late\nstock: gone\ngap: 2\n', 'another')
  write(folder, '#- profiles/late.media.yaml\nprofile: late\nstock: gone\ngap: 2 mm\n#- profiles/new.media.yaml\nprofile: new\n')
  for (const line of ['--staged', '--new-since HEAD~1', '--new-since HEAD --format json', '--changed-since HEAD~1', '--fix']) {
    const one = await alone(folder, line)
    const { judged, ...two } = await ran(folder, `${line} --jobs 2`)
    expect([line, two]).toEqual([line, one])
    expect([line, judged]).not.toEqual([line, 0])
  }
})

test('how far it has come is told as it goes', async () => {
  let now = 0
  const clock = vi.spyOn(performance, 'now').mockImplementation(() => {
    now += 500
    return now
  })
  const { err } = await ran(SHOP_OF_SAMPLES, '. --jobs 2', undefined, { isWatched: true })
  clock.mockRestore()
  expect([...err.matchAll(/(\d+) of 30 documents checked/g)].map(([, n]) => Number(n))).toEqual(
    Array.from({ length: 26 }, (_, i) => i + 4),
  )
})

test('how many there are: as asked for, else as many as are worth it', () => {
  const jobs = (documents: number, cores: number | undefined, ...args: readonly string[]): number =>
    jobsFor({ ...nodeCliHost(), cores: cores as number }, readOptions('check', args, { jobs: 'text' }), documents)
  expect([1, 24, 299, 300, 451, 10_000].map((documents) => jobs(documents, 2))).toEqual([0, 0, 1, 2, 2, 2])
  expect([300, 451, 10_000].map((documents) => jobs(documents, 16))).toEqual([2, 3, 4])
  // One core, or a host that has no threads.
  expect([jobs(10_000, 1), jobs(10_000, undefined)]).toEqual([1, 1])
  expect([jobs(10, 1, '--jobs', '3'), jobs(2, 8, '--jobs', '3'), jobs(0, 8, '--jobs', '3')]).toEqual([3, 2, 0])
  for (const wrong of ['0', '-1', '65', '1.5', 'many', '1e1'])
    expect(() => jobs(10, 2, `--jobs=${wrong}`)).toThrow(
      `--jobs takes a whole number from 1 to 64; '${wrong}' is none. See 'rollbook check --help'.`,
    )
})
