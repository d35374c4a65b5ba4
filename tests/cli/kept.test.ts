// `rollbook check --cache`: what is kept from run to run is never told where a run of its own would tell anything else, whatever was edited, renamed,
// taken away or brought back meanwhile, on whatever day, and whatever has become of the files that are kept.
import { execFileSync } from 'node:child_process'
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs'
import { dirname, join } from 'node:path'
import { describe, expect, test, vi } from 'vitest'
import type { CliHost } from '../../server/src/cli/host.ts'
import { fileUri } from '../../server/src/host/node.ts'
import { Workspace } from '../../server/src/workspace/workspace.ts'
import { sampleFiles } from '../bench/shops.ts'
import { Chance } from '../support/chance.ts'
import { runs, some } from '../support/counts.ts'
import { seed } from '../support/seed.ts'
import { type Answer, HOST, newFolder, rollbook, rollbookWith, write } from './repository.ts'
import { ENDS, played } from './threads.ts'

const DAY = '2026-11-25'

/** The sample shop, in `npm test` with a part of its profiles. */
const PROFILES = [...sampleFiles().keys()].filter((path) => path.endsWith('.media.yaml'))
const NAME = 'profiles/banner-510-bay-1.media.yaml'
const TAKEN = new Set([NAME, ...some(PROFILES, 4)])
const FILES = [...sampleFiles()].filter(([path]) => !path.endsWith('.media.yaml') || TAKEN.has(path))

function shop(): string {
  const folder = newFolder()
  for (const [path, text] of FILES) put(folder, path, text)
  return folder
}

function put(folder: string, path: string, text: string): void {
  mkdirSync(dirname(join(folder, path)), { recursive: true })
  writeFileSync(join(folder, path), text)
}

const fresh = (folder: string, day = DAY, ...paths: readonly string[]): Promise<Answer> =>
  rollbook(folder, 'check', ...paths, '--format', 'json', '--today', day)

const kept = (folder: string, day = DAY, at = '.kept', ...paths: readonly string[]): Promise<Answer> =>
  rollbook(folder, 'check', ...paths, '--format', 'json', '--today', day, '--cache', at)

/** The same, with what is not kept judged by threads. */
const keptByThreads = (folder: string, day: string, thread: CliHost['thread']): Promise<Answer> =>
  rollbookWith(
    { ...(thread && { thread }) },
    ...[folder, 'check', '--format', 'json', '--today', day, '--cache', '.kept', '--jobs', '2'],
  )

/** How many documents were judged anew. */
async function judgedIn(run: () => Promise<Answer>): Promise<number> {
  const prepare = vi.spyOn(Workspace.prototype, 'prepare')
  await run()
  const { length } = prepare.mock.calls
  prepare.mockRestore()
  return length
}

const keptFile = (folder: string, at = '.kept'): string => join(folder, at, readdirSync(join(folder, at))[0]!)

test('a second run judges nothing anew, and a change what rests on it alone', async () => {
  const folder = shop()
  const all = JSON.parse((await fresh(folder)).out).files
  expect(await judgedIn(() => kept(folder))).toBe(all)
  expect(await judgedIn(() => kept(folder))).toBe(0)
  put(folder, NAME, readFileSync(join(folder, NAME), 'utf8').replace('gap: 2', 'gap: 3'))
  const again = await judgedIn(() => kept(folder))
  expect(again).toBeGreaterThan(0)
  expect(again).toBeLessThan(all)
  expect(await judgedIn(() => kept(folder))).toBe(0)
  // The next day everything is looked at again: checks grow old.
  expect(await judgedIn(() => kept(folder, '2026-11-26'))).toBe(all)
})

const CHANGES = runs(300, 50)

test(`${CHANGES} changes by chance: the same, byte for byte, as without`, async () => {
  const folder = shop()
  const chance = new Chance(seed)
  const original = FILES.filter(([path]) => path.endsWith('.yaml'))
  const lines = original.flatMap(([, text]) => text.split('\n'))
  const day = (): string => chance.one([DAY, DAY, DAY, '2026-11-26', '2027-03-01', '2026-01-01'])
  const restore = (): void => {
    const [path, text] = chance.one(original)
    put(folder, path, text)
  }
  let [anew, asked] = [0, 0]
  for (let i = 0; i < CHANGES; i++) {
    for (let n = chance.below(3); n >= 0; n--) change(folder)
    const today = day()
    // What is kept of the rest rests on texts that are others now.
    const part = chance.one(['profiles', 'stocks', 'printers'])
    if (chance.once(3) && existsSync(join(folder, part)))
      expect([i, await kept(folder, today, '.kept', part)]).toEqual([i, await fresh(folder, today, part)])
    const all = await fresh(folder, today)
    if (chance.once(3)) {
      const { thread } = played(HOST, chance, () => (chance.once(3) ? chance.one(ENDS) : undefined))
      expect([i, await keptByThreads(folder, today, thread)]).toEqual([i, all])
      continue
    }
    let own: Answer | undefined
    anew += await judgedIn(async () => {
      own = await kept(folder, today)
      return own
    })
    expect([i, own]).toEqual([i, all])
    asked += JSON.parse(all.out).files
  }
  // Some of it has stood.
  expect(anew).toBeLessThan(0.9 * asked)

  function change(at: string): void {
    const here = readdirSync(at, { recursive: true, encoding: 'utf8' }).filter((path) => path.endsWith('.yaml'))
    const path = chance.one(here)
    const text = readFileSync(join(at, path), 'utf8')
    const parts = text.split('\n')
    const line = chance.below(parts.length)
    const digits = [...text.matchAll(/\d/g)].map(({ index }) => index)
    const digit = chance.one(digits.length > 0 ? digits : [0])
    chance.one([
      () => put(at, path, text.slice(0, digit) + chance.below(10) + text.slice(digit + 1)),
      () => put(at, path, text.slice(0, digit) + chance.below(10) + text.slice(digit + 1)),
      () => put(at, path, parts.toSpliced(line, 1).join('\n')),
      () => put(at, path, parts.toSpliced(line, 0, chance.one(lines)).join('\n')),
      () => put(at, path, parts.toSpliced(line, 0, '# looked at').join('\n')),
      () =>
        renameSync(
          join(at, path),
          join(
            at,
            path.replace(/[^/]+$/, (name) => `x${name}`),
          ),
        ),
      () => rmSync(join(at, path)),
      // What was before, under the same name: a document comes back.
      restore,
      restore,
      restore,
    ])()
  }
}, 3_600_000)

/** Each is told of in a document whose own text, and those it is made of, stay as they are. */
describe('what rests on other documents than its own', () => {
  const SMALL = `#- rollbook.yaml
shop: Tern Quay Print Works
instruments:
  rule-2m: { kind: rule, division: 0.5 mm, limit-of-error: class-1 }
  rule-1m: { kind: rule, division: 0.5 mm, limit-of-error: class-1, suspect: [{ from: 2026-01-01, to: 2026-12-01, why: dropped }] }
#- printers/bay-1.printer.yaml
printer: bay-1
slots: 10
#- printers/bay-2.printer.yaml
printer: bay-2
slots: 10
#- stocks/film.stock.yaml
stock: film
lots: [{ lot: L-1, received: 2026-03-02 }]
#- profiles/base.media.yaml
profile: base
printer: bay-1
#- profiles/film.media.yaml
profile: film
base: base
stock: film
slot: 3
colour: { icc: ../colour/film.icc }
#- profiles/other.media.yaml
profile: other
base: base
stock: film
slot: 4
feed: { correction: 0 %, checks: [{ date: 2026-03-20, commanded: 1000 mm, measured: 999 mm, applied: 0 %, with: rule-2m }] }
`

  test.each<[string, (folder: string) => void]>([
    ['the slot of another profile', (folder) => edit(folder, 'profiles/other.media.yaml', 'slot: 4', 'slot: 3')],
    ['the printer of the base of another', (folder) => edit(folder, 'profiles/base.media.yaml', 'bay-1', 'bay-2')],
    ['another with its id', (folder) => put(folder, 'profiles/second.media.yaml', 'profile: film\nstock: film\n')],
    ['the id of its stock', (folder) => edit(folder, 'stocks/film.stock.yaml', 'stock: film', 'stock: foil')],
    ['a stock that goes', (folder) => rmSync(join(folder, 'stocks/film.stock.yaml'))],
    ['a stock of another name with its id', (folder) => put(folder, 'stocks/a.stock.yaml', 'stock: film\nretired: 2026-03-01\n')],
    ['what an instrument measured', (folder) => edit(folder, 'profiles/other.media.yaml', 'rule-2m', 'rule-1m')],
    ['a shop that parts', (folder) => put(folder, 'profiles/rollbook.yaml', 'shop: Apart\n')],
    ['a colour file that comes', (folder) => put(folder, 'colour/film.icc', 'no profile of colours')],
    ['a printer that comes', (folder) => put(folder, 'printers/bay-3.printer.yaml', 'printer: bay-3\n')],
    ['a stock that is retired', (folder) => edit(folder, 'stocks/film.stock.yaml', 'lots:', 'retired: 2026-03-01\nlots:')],
  ])('%s', async (_, change) => {
    const folder = newFolder()
    write(folder, SMALL)
    await kept(folder)
    const before = await fresh(folder)
    expect(await kept(folder)).toEqual(before)
    change(folder)
    const after = await fresh(folder)
    expect(after.out).not.toBe(before.out)
    expect(await kept(folder)).toEqual(after)
    rmSync(join(folder, '.kept'), { recursive: true })
    await kept(folder)
    for (const path of readdirSync(folder)) if (path !== '.kept') rmSync(join(folder, path), { recursive: true })
    write(folder, SMALL)
    expect(await kept(folder)).toEqual(before)
  })

  test('also where it was not asked for when that changed', async () => {
    const folder = newFolder()
    write(folder, SMALL)
    await kept(folder)
    edit(folder, 'profiles/other.media.yaml', 'slot: 4', 'slot: 3')
    expect(await kept(folder, DAY, '.kept', 'stocks')).toEqual(await fresh(folder, DAY, 'stocks'))
    expect(await kept(folder)).toEqual(await fresh(folder))
  })

  test('a merge that git has not settled', async () => {
    const folder = newFolder()
    write(folder, SMALL)
    const asked = (unmerged: readonly string[], ...args: readonly string[]): Promise<Answer> => {
      const revisions = { ...HOST.revisions, unmerged: async () => unmerged.map((path) => fileUri(join(folder, path))) }
      return rollbookWith({ revisions }, folder, 'check', '--format', 'json', '--today', DAY, ...args)
    }
    for (const unmerged of [[], ['stocks/film.stock.yaml'], []])
      expect(await asked(unmerged, '--cache', '.kept')).toEqual(await asked(unmerged))
  })

  const edit = (folder: string, path: string, from: string, to: string): void =>
    put(folder, path, readFileSync(join(folder, path), 'utf8').replace(from, to))
})

describe('what is kept', () => {
  test('is taken from nobody who has another program, a part of it, or letters that are others', async () => {
    const folder = shop()
    const { out } = await kept(folder)
    const path = keptFile(folder)
    const text = readFileSync(path, 'utf8')
    for (const other of [
      text.slice(0, text.length / 2),
      `${text}\n`,
      text.replace('"severity":"warning"', '"severity":"hint"'),
      text.replace('0.0.0-dev', '0.0.1-dev'),
      '',
      '\0\0\0',
    ]) {
      writeFileSync(path, other)
      expect((await kept(folder)).out).toBe(out)
      expect(readFileSync(path, 'utf8')).toBe(text)
    }
    rmSync(join(folder, '.kept'), { recursive: true })
    expect((await kept(folder)).out).toBe(out)
  })

  test('goes by what a file holds: neither its length nor its times', async () => {
    const folder = shop()
    await kept(folder)
    const { atime, mtime } = statSync(join(folder, NAME))
    put(folder, NAME, readFileSync(join(folder, NAME), 'utf8').replace('gap: 2', 'gap: 3'))
    utimesSync(join(folder, NAME), atime, mtime)
    expect(await judgedIn(() => kept(folder))).toBeGreaterThan(0)
    expect(await kept(folder)).toEqual(await fresh(folder))
  })

  test('is the same for a text with a mark of its encoding, and for one that is long', async () => {
    const folder = shop()
    put(folder, NAME, `\ufeff${readFileSync(join(folder, NAME), 'utf8')}`)
    put(folder, 'stocks/long.stock.yaml', `stock: long\nnotes: "${'x'.repeat(1.2 * 2 ** 20)}"\n`)
    await kept(folder)
    expect(await judgedIn(() => kept(folder))).toBe(0)
    expect(await kept(folder)).toEqual(await fresh(folder))
  })

  test.skipIf(process.platform === 'win32')(
    'is not taken for a document that is a pipe by now, and nobody waits for it',
    async () => {
      const folder = shop()
      put(folder, 'stocks/empty.stock.yaml', '')
      await kept(folder)
      for (const path of [NAME, 'stocks/empty.stock.yaml']) {
        rmSync(join(folder, path))
        execFileSync('mkfifo', [join(folder, path)])
      }
      const told = await kept(folder)
      expect(told).toEqual(await fresh(folder))
      expect(told.err).toContain(`${NAME} cannot be read: it is a pipe between programs and no regular file\n`)
      expect(told.code).toBe(2)
    },
  )

  test('of two shops that are looked at from one place stays apart', async () => {
    const place = newFolder()
    for (const [path, text] of FILES) for (const name of ['east', 'west']) put(place, `${name}/${path}`, text)
    for (const name of ['east', 'west']) await kept(place, DAY, '.kept', name)
    put(place, `west/${NAME}`, readFileSync(join(place, 'west', NAME), 'utf8').replace('gap: 2', 'gap: 3'))
    expect(await judgedIn(() => kept(place, DAY, '.kept', 'east'))).toBe(0)
    for (const names of [['west'], ['east', 'west'], ['east'], ['west', 'east']])
      expect(await kept(place, DAY, '.kept', ...names)).toEqual(await fresh(place, DAY, ...names))
  })

  test('where something cannot be read, nothing is kept, and nothing taken', async () => {
    const folder = shop()
    await kept(folder)
    const before = readFileSync(keptFile(folder), 'utf8')
    put(folder, 'stocks/binary.stock.yaml', '')
    writeFileSync(join(folder, 'stocks/binary.stock.yaml'), Uint8Array.of(0xff, 0xfe, 0))
    expect(await kept(folder)).toEqual(await fresh(folder))
    expect(readFileSync(keptFile(folder), 'utf8')).toBe(before)
  })

  test('of a text that a thread read otherwise than the first one, there is nothing', async () => {
    const folder = shop()
    const { read } = HOST.host
    const host = Object.create(HOST.host, {
      read: {
        value: async (file: string) => {
          const text = await read.call(HOST.host, file)
          return file.endsWith(NAME) ? text.replace('gap: 2', 'gap: 3') : text
        },
      },
    })
    const { thread, judged } = played({ ...HOST, host }, new Chance(seed))
    await keptByThreads(folder, DAY, thread)
    expect(judged.length).toBeGreaterThan(0)
    expect(existsSync(join(folder, '.kept'))).toBe(false)
    expect(await kept(folder)).toEqual(await fresh(folder))
  })

  test('two runs side by side: both tell all, and leave a whole file', async () => {
    const folder = shop()
    const { out } = await fresh(folder)
    expect((await Promise.all([kept(folder), kept(folder), kept(folder)])).map((ran) => ran.out)).toEqual([out, out, out])
    expect(readdirSync(join(folder, '.kept'))).toHaveLength(1)
    expect(await judgedIn(() => kept(folder))).toBe(0)
  })

  test('where nothing can be written, the check is as ever, and says so', async () => {
    const folder = shop()
    put(folder, 'taken', 'a file where the folder should be')
    const { out, code } = await fresh(folder)
    const told = await kept(folder, DAY, 'taken/kept')
    expect({ out: told.out, code: told.code }).toEqual({ out, code })
    expect(told.err).toMatch(/^Nothing is kept in taken\/kept, and nothing else rests on it: ENOTDIR/)
  })
})
