// Faults by chance, over every command that tells something of documents or changes one: whatever is broken, missing, shut or cut off, the exit code is 2,
// standard error says what, in sentences, a program that reads is told the same, and no file is another than before. Threads that end change nothing of it.
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, symlinkSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterEach, expect, test, vi } from 'vitest'
import type { CliHost } from '../../server/src/cli/host.ts'
import { nodeCliHost } from '../../server/src/cli/node.ts'
import { runCli } from '../../server/src/cli/run.ts'
import { CannotRead, type Host } from '../../server/src/host/host.ts'
import { RULES } from '../../server/src/rules/generated/index.ts'
import { Chance } from '../support/chance.ts'
import { runs } from '../support/counts.ts'
import { seed } from '../support/seed.ts'
import { commit, git, newFolder, write } from './repository.ts'
import { PRINTER, shopWith } from './shell.ts'
import { ENDS, played } from './threads.ts'

/** Every rule is ignored, so that nothing but what was not judged can make a command fail. Each document is one that the profile `film` rests on. */
const SHOP = `${shopWith() + PRINTER}#- stocks/film.stock.yaml
stock: film
family: film-pvc-cast
expansion: 75 ppm/K
thickness: 80 µm
#- profiles/house.media.yaml
profile: house
printer: bay-1
#- profiles/film.media.yaml
profile: film
base: house
stock: film
slot: 3
feed:
  correction: +0.17 %
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998.4 mm, applied: 0 %, with: rule-1m, web: 28 °C}
    - {date: 2026-03-28, commanded: 2000 mm, measured: 1998.5 mm, applied: +0.10 %, with: rule-1m}
`
const SHOP_FILE = 'rollbook.yaml'
const PROFILE = 'profiles/film.media.yaml'
const FILM = 'stocks/film.stock.yaml'
const DOCUMENTS = [SHOP_FILE, PROFILE, FILM, 'printers/bay-1.printer.yaml', 'profiles/house.media.yaml']

const node = nodeCliHost()
const chance = new Chance(seed)

afterEach(() => vi.restoreAllMocks())

/** A fault in a folder, and the host that has it where the disk alone cannot. */
type Make = (folder: string, file: string) => Host | undefined

const hostWith = (changed: Partial<Host>): Host => ({
  list: (place, depth, unlisted, others) => node.host.list(place, depth, unlisted, others),
  read: (file) => node.host.read(file),
  readBytes: (file, most) => node.host.readBytes(file, most),
  today: () => node.host.today(),
  log: () => undefined,
  ...changed,
})

const link = (at: string, target: string): undefined => {
  rmSync(at, { recursive: true, force: true })
  symlinkSync(target, at)
}

const rewrite = (at: string, change: (text: string) => string | Uint8Array): undefined =>
  void writeFileSync(at, change(readFileSync(at, 'utf8')))

/** Faults of one document. */
const OF_DOCUMENT: Readonly<Record<string, Make>> = {
  'may not be read': (_, file) =>
    hostWith({
      read: async (at) => {
        if (at.endsWith(`/${file}`)) throw new CannotRead(file.replace(/^.*\//, ''), 'permission is denied')
        return node.host.read(at)
      },
    }),
  'fails while it is read': (_, file) =>
    hostWith({
      read: async (at) => {
        if (at.endsWith(`/${file}`)) throw Object.assign(new Error('EIO: i/o error, read'), { code: 'EIO' })
        return node.host.read(at)
      },
    }),
  'is binary': (folder, file) =>
    rewrite(join(folder, file), () => Uint8Array.from({ length: 20 + chance.below(2000) }, () => 128 + chance.below(128))),
  'is in UTF-16': (folder, file) => rewrite(join(folder, file), (text) => Buffer.from(`\ufeff${text}`, 'utf16le')),
  'has a bad byte': (folder, file) =>
    rewrite(join(folder, file), (text) => {
      const at = chance.below(text.length)
      return Buffer.concat([Buffer.from(text.slice(0, at)), Buffer.of(0xff), Buffer.from(text.slice(at))])
    }),
  'is cut off within a value': (folder, file) =>
    rewrite(join(folder, file), (text) => `${text}notes: ${'"cut off here'.slice(0, 2 + chance.below(11))}`),
  'holds no setting': (folder, file) => rewrite(join(folder, file), () => 'Dear night shift, please look at the feed.\n'),
  'is a link to nowhere': (folder, file) => link(join(folder, file), 'nowhere'),
  'is a link to itself': (folder, file) => link(join(folder, file), file.replace(/^.*\//, '')),
  'is too large': (folder, file) => rewrite(join(folder, file), (text) => `${text}notes: ${'x'.repeat(3 * 2 ** 20)}\n`),
  'has lines of a merge': (folder, file) =>
    rewrite(join(folder, file), (text) => {
      const lines = text.trimEnd().split('\n')
      const at = chance.below(lines.length)
      const own = lines[at]!
      return `${lines.toSpliced(at, 1, '<<<<<<< HEAD', own, '=======', own, '>>>>>>> night').join('\n')}\n`
    }),
}

/** What tells of the profile, and of all that it rests on, or changes it. A blank within a word is written as a dot. */
const COMMANDS: readonly string[] = [
  'check',
  ...['json', 'sarif', 'junit', 'github', 'gitlab'].map((format) => `check --format ${format}`),
  'check --due --fail-on never',
  'check --quiet',
  'check --cache .kept',
  'check --jobs 2',
  'check --format json --jobs 3',
  'check --cache .kept --jobs 2',
  `check ${PROFILE}`,
  'due',
  'due --json',
  `feed ${PROFILE}`,
  `feed ${PROFILE} --json`,
  `reckon ${PROFILE}`,
  `reckon ${PROFILE} --json`,
  'review ../clean .',
  'review ../clean . --format json --fail-on never',
  'review . ../clean --format markdown',
  'shop',
  'shop --format json',
  'to-key bay-1',
  'sheet film --html -',
  'picture film --html -',
  'export --what quantities',
  'export film --what settings --format json',
  'differences film',
  `set ${PROFILE} feed.correction=+0.19·%`,
  `set ${PROFILE} slot=4 feed.correction=+0.19·% --read-back`,
  `set ${PROFILE} slot=4 --try`,
  `record ${PROFILE} feed.checks date=2026-03-30 commanded=1·m measured=998.5·mm applied=+0.17·% with=rule-1m`,
  `record ${PROFILE} observed date=2026-03-30 fault=grain --try`,
  'record bay-1 events date=2026-03-30 what=head-changed',
]

const words = (line: string): readonly string[] => line.split(' ').map((word) => word.replaceAll('·', ' '))

interface Ran {
  readonly out: string
  readonly err: string
  readonly code: number
}

async function rollbook(cwd: string, args: readonly string[], host: Host = node.host): Promise<Ran> {
  let [out, err] = ['', '']
  const cli: CliHost = {
    ...node,
    host,
    cwd,
    env: {},
    isTty: false,
    out: (text) => {
      out += text
    },
    err: (text) => {
      err += text
    },
  }
  const { thread } = played(cli, chance, () => (chance.once(2) ? chance.one(ENDS) : undefined))
  const code = await runCli([...args, '--today', '2026-03-31'], { ...cli, thread })
  return { out, err, code }
}

/** All files below a folder with what is in them; what cannot be read is known by its kind. */
const snapshot = (folder: string): readonly string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => !entry.isDirectory() && !entry.parentPath.includes('.git'))
    .map((entry) => {
      const path = join(entry.parentPath, entry.name)
      return `${path} ${entry.isFile() && statSync(path).size < 1e6 ? readFileSync(path, 'base64') : 'no text'}`
    })
    .sort()

/** Why a run may have passed for a whole one; undefined where it has not. */
function falsePass({ out, err, code }: Ran, args: readonly string[]): string | undefined {
  if (code !== 2) return `exit ${code}`
  if (!/\S.{12,}/.test(err)) return 'nothing is said'
  if (/^\s+at /m.test(err) || /\b(?:undefined|NaN|\[object)/.test(err)) return `no sentence: ${err}`
  if (args.includes('json') && args[0] === 'check' && JSON.parse(out).notChecked.length === 0) return 'notChecked is empty'
  if (/ documents? checked: nothing found\./.test(out)) return 'called clean'
  return undefined
}

/** Why what threads told may not be what one would have told. */
async function unlikeOne(ran: Ran, cwd: string, args: readonly string[], host?: Host): Promise<string | undefined> {
  const one = await rollbook(cwd, [...args, '--jobs', '1'], host)
  return JSON.stringify(one) === JSON.stringify(ran)
    ? undefined
    : `by threads ${ran.out}${ran.err}, and by one ${one.out}${one.err}`
}

const template = newFolder()
for (const name of ['shop', 'clean']) {
  mkdirSync(join(template, name))
  write(join(template, name), SHOP)
}

test('without a fault none of them ends with 2', async () => {
  for (const line of COMMANDS) {
    const folder = newFolder()
    cpSync(template, folder, { recursive: true })
    const { code, err } = await rollbook(join(folder, 'shop'), words(line))
    expect([line, code < 2, code < 2 || err]).toEqual([line, true, true])
  }
})

// Each of these was called whole once.
test.each([
  ['differences film', FILM, 'is too large'],
  ['to-key bay-1', FILM, 'is too large'],
  ['review ../clean .', PROFILE, 'holds no setting'],
  ['record bay-1 events date=2026-03-30 what=head-changed', 'profiles/house.media.yaml', 'holds no setting'],
  ['record bay-1 events date=2026-03-30 what=head-changed', 'profiles/house.media.yaml', 'is too large'],
])('%s: %s %s', async (line, file, what) => {
  const folder = newFolder()
  cpSync(template, folder, { recursive: true })
  const shop = join(folder, 'shop')
  OF_DOCUMENT[what]!(shop, file)
  expect(falsePass(await rollbook(shop, words(line)), words(line))).toBeUndefined()
})

const COUNT = runs(800, 50)

test(`${COUNT} faults of documents: never a pass`, async () => {
  const passed: string[] = []
  for (let i = 0; i < COUNT; i++) {
    const folder = newFolder()
    cpSync(template, folder, { recursive: true })
    const shop = join(folder, 'shop')
    const [file, what, line] = [chance.one(DOCUMENTS), chance.one(Object.keys(OF_DOCUMENT)), chance.one(COMMANDS)]
    const host = OF_DOCUMENT[what]!(shop, file)
    const before = snapshot(folder)
    const args = words(line)
    const ran = await rollbook(shop, args, host)
    const why = falsePass(ran, args) ?? (line.includes('--jobs') ? await unlikeOne(ran, shop, args, host) : undefined)
    const after = snapshot(folder)
    if (why !== undefined) passed.push(`${line}: ${file} ${what}: ${why}`)
    else if (after.join('\n') !== before.join('\n')) passed.push(`${line}: ${file} ${what}: files are others`)
    rmSync(folder, { recursive: true, force: true })
  }
  expect([...new Set(passed)].sort()).toEqual([])
}, 3_600_000)

/** Two commits of the shop, and a clone of the last alone. */
function repositories(): string {
  const top = newFolder()
  const shop = join(top, 'shop')
  mkdirSync(shop)
  git(shop, 'init', '-q', '-b', 'main')
  commit(shop, SHOP, 'the shop', '2026-03-01T12:00:00Z')
  rewrite(join(shop, PROFILE), (text) => text.replace('+0.17 %', '+0.18 %'))
  commit(shop, '', 'the feed', '2026-03-30T12:00:00Z')
  git(top, 'clone', '-q', '--depth', '1', `file://${shop}`, 'shallow')
  return top
}

/** What cannot be told without an older version. */
const OF_THE_PAST: readonly string[] = [
  'check --changed-since REV',
  'check --new-since REV --format json',
  'check --new-since REV --jobs 2',
  'review REV',
  'review REV..HEAD --format json --fail-on never',
  'review HEAD...REV',
  'feed film --at REV',
  'git lost REV',
]

/** What looks at the history itself: that of a whole shop is told by its evidence alone. */
const OF_HISTORY: readonly string[] = [
  'history film',
  'since film slot',
  'answer film --date 2026-03-15',
  'git lost',
  'review',
  'check --changed-since main',
  'check --changed-since main --jobs 2',
]

const outside = (): string => {
  const folder = newFolder()
  write(folder, SHOP)
  return folder
}

/** Faults that are of no one document: where a command is given, and what happens there. */
const OF_A_RUN: Readonly<Record<string, (top: string) => readonly [cwd: string, line: string, host?: Host]>> = {
  'no such revision': (top) => [
    join(top, 'shop'),
    chance.one(OF_THE_PAST).replace('REV', chance.one(['v9', 'deadbeef', 'HEAD~7', 'origin/other', 'main@{9}x'])),
  ],
  'a shallow clone': (top) => [join(top, 'shallow'), chance.one([...OF_HISTORY, 'review HEAD~1', 'feed film --at 2026-03-15'])],
  'outside git': () => [outside(), chance.one([...OF_HISTORY, ...OF_THE_PAST.map((line) => line.replace('REV', 'HEAD'))])],
  'a git that is killed within its answer': (top) => {
    const real = process.env.PATH!.split(':').find((folder) => existsSync(join(folder, 'git')))
    const folder = join(top, 'killed')
    mkdirSync(folder)
    writeFileSync(
      join(folder, 'git'),
      `#!/bin/sh\nPATH="${process.env.PATH}" "${real}/git" "$@" | head -c ${chance.below(30)}\nkill -9 $$\n`,
      { mode: 0o755 },
    )
    vi.stubEnv('PATH', `${folder}:${process.env.PATH}`)
    return [join(top, 'shop'), chance.one([...OF_HISTORY, ...OF_THE_PAST.map((line) => line.replace('REV', 'HEAD~1'))])]
  },
  'no documents': () => {
    const folder = newFolder()
    mkdirSync(join(folder, 'empty'))
    return [
      folder,
      chance.one(['check', 'check .', 'check empty', 'due', 'due empty', 'check --format sarif', 'feed film', 'to-key bay-1']),
    ]
  },
  'a rule that throws': (top) => {
    writeFileSync(join(top, 'shop', SHOP_FILE), 'shop: Tern Quay Print Works\n')
    const line = chance.one(COMMANDS.filter((one) => /^(?:check|due)(?! profiles)/.test(one)))
    const rule = chance.one(RULES.filter(({ code, kinds }) => kinds.includes('media') && code !== 'unused-acceptance'))
    vi.spyOn(rule, 'check').mockImplementation(() => {
      throw new TypeError('boom')
    })
    return [join(top, 'shop'), line]
  },
  'a folder that may not be looked into': (top) => {
    const shop = join(top, 'shop')
    const shut = chance.one(['stocks', 'printers', 'profiles'])
    const line = chance.one(
      COMMANDS.filter((one) => !one.startsWith('review') && (!one.includes(PROFILE) || /^(?:set|record)/.test(one))),
    )
    const host = hostWith({
      list: async (place, depth, unlisted, others) => {
        unlisted?.(`${place}${shut}`, 'permission is denied')
        return (await node.host.list(place, depth, unlisted, others)).filter((file) => !file.includes(`/${shut}/`))
      },
    })
    return [shop, line, host]
  },
  'a merge that git has not settled': (top) => {
    const shop = join(top, 'shop')
    git(shop, 'checkout', '-q', '-b', 'night', 'HEAD~1')
    rewrite(join(shop, PROFILE), (text) => text.replace('+0.17 %', '+0.21 %'))
    commit(shop, '', 'the night')
    expect(() => git(shop, 'merge', '-q', 'main')).toThrow()
    // A side alone may be left, as a driver that died leaves it.
    if (chance.once(2)) git(shop, 'checkout', chance.one(['--ours', '--theirs']), PROFILE)
    return [shop, chance.one([...COMMANDS.filter((one) => !one.includes('clean')), 'review HEAD', 'review', 'check --staged'])]
  },
}

const RUNS = runs(200, 25)

test(`${RUNS} faults of a run: never a pass`, async () => {
  const repository = repositories()
  const passed: string[] = []
  for (let i = 0; i < RUNS; i++) {
    const top = newFolder()
    cpSync(repository, top, { recursive: true })
    const what = chance.one(Object.keys(OF_A_RUN))
    const [cwd, line, host] = OF_A_RUN[what]!(top)
    const before = snapshot(cwd)
    const args = words(line)
    const ran = await rollbook(cwd, args, host)
    const why =
      falsePass(ran, args.includes('--new-since') ? [] : args) ??
      (line.includes('--jobs') ? await unlikeOne(ran, cwd, args, host) : undefined)
    vi.restoreAllMocks()
    vi.unstubAllEnvs()
    if (why !== undefined) passed.push(`${what}: ${line}: ${why}`)
    else if (snapshot(cwd).join('\n') !== before.join('\n')) passed.push(`${what}: ${line}: files are others`)
    rmSync(top, { recursive: true, force: true })
  }
  expect([...new Set(passed)].sort()).toEqual([])
}, 3_600_000)
