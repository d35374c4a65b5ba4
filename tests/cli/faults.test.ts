// What goes wrong on a disk and in documents, made one by one in a folder of its own: no command may call everything judged, or give a number
// as if all of it were there, and text and JSON say the same.
import { execFileSync } from 'node:child_process'
import {
  mkdirSync,
  mkdtempSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  symlinkSync,
  truncateSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, describe, expect, test, vi } from 'vitest'
import type { CliHost } from '../../server/src/cli/host.ts'
import { nodeCliHost } from '../../server/src/cli/node.ts'
import { runCli } from '../../server/src/cli/run.ts'
import { CannotRead, type Host } from '../../server/src/host/host.ts'
import { RULES } from '../../server/src/rules/generated/index.ts'
import { parseFixture, ROOT } from '../support/fixture.ts'
import { PRINTER, shopWith } from './shell.ts'

/** Every rule is ignored, so that nothing but what was not judged can make a command fail. */
const SHOP = `${shopWith() + PRINTER}#- printers/bay-2.printer.yaml
printer: bay-2
modes: {standard: {resolution: 720 x 360 dpi, passes: 8}}
#- stocks/film.stock.yaml
stock: film
family: film-pvc-cast
expansion: 75 ppm/K
thickness: 80 µm
#- profiles/film.media.yaml
profile: film
base: house
stock: film
printer: bay-1
feed:
  correction: +0.17 %
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998.4 mm, applied: 0 %, with: rule-1m, web: 28 °C}
    - {date: 2026-03-28, commanded: 2000 mm, measured: 1998.5 mm, applied: +0.10 %, with: rule-1m}
#- profiles/house.media.yaml
profile: house
printer: bay-1
`

const node = nodeCliHost()
let folder = ''

/** The shop as it was, in a folder of its own. */
function fresh(): void {
  clear()
  folder = realpathSync(mkdtempSync(join(tmpdir(), 'rollbook-')))
  for (const [file, text] of parseFixture(SHOP).files) write(file.slice(ROOT.length), text)
}

const clear = (): void => {
  if (folder !== '') rmSync(folder, { recursive: true, force: true })
}

afterEach(() => {
  vi.restoreAllMocks()
  clear()
})

const at = (name: string): string => join(folder, name)

function write(name: string, content: string | Uint8Array): void {
  mkdirSync(join(at(name), '..'), { recursive: true })
  writeFileSync(at(name), content)
}

const edit = (name: string, change: (text: string) => string): void => write(name, change(readFileSync(at(name), 'utf8')))

function link(name: string, target: string): void {
  rmSync(at(name), { recursive: true, force: true })
  symlinkSync(target, at(name))
}

interface Ran {
  readonly out: string
  readonly err: readonly string[]
  readonly code: number
}

async function rollbook(args: readonly string[], host: Host = node.host): Promise<Ran> {
  let [out, err] = ['', '']
  const cli: CliHost = {
    ...node,
    host,
    cwd: folder,
    env: {},
    isTty: false,
    out: (text) => {
      out += text
    },
    err: (text) => {
      err += text
    },
  }
  const code = await runCli([...args, '--today', '2026-03-31'], cli)
  return { out, err: err.split('\n').filter((line) => line !== ''), code }
}

/** The host of this machine with some of it made otherwise. */
const hostWith = (changed: Partial<Host>): Host => ({
  list: (place, depth, unlisted) => node.host.list(place, depth, unlisted),
  read: (file) => node.host.read(file),
  readBytes: (file, most) => node.host.readBytes(file, most),
  today: () => node.host.today(),
  log: () => undefined,
  ...changed,
})

/** Root may read everything, so that a file closed to the reader is made here and not on the disk. */
const closed = (name: string): Host =>
  hostWith({
    read: async (file) => {
      if (file.endsWith(`/${name}`)) throw new CannotRead(name.replace(/^.*\//, ''), 'permission is denied')
      return node.host.read(file)
    },
  })

/** What happens between the listing of a folder and the reading of what was listed. */
const afterListing = (happens: () => void): Host =>
  hostWith({
    list: async (place, depth, unlisted) => {
      const found = await node.host.list(place, depth, unlisted)
      happens()
      return found
    },
  })

const conflict = (text: string, ours: string, theirs: string): string =>
  text.replace(ours, `<<<<<<< HEAD\n${ours}\n=======\n${theirs}\n>>>>>>> night-shift`)

const FILM = 'stocks/film.stock.yaml'
const PROFILE = 'profiles/film.media.yaml'
const NO_FILM = "There is no stock 'film' in this shop that can be read."

const WITHOUT_FILM = `${PROFILE} is judged without what it names. ${NO_FILM}`

interface Fault {
  readonly what: string
  readonly make: () => unknown
  /** Sentences on what `check` did not judge. */
  readonly check: readonly string[]
  /** Of what `feed` and `reckon` reckon without; a text where they do not reckon at all; empty where no number rests on it. */
  readonly numbers: readonly string[] | string
}

/** A fault of the stock's file: `check` tells of the file, and numbers are without the stock. */
const ofStock = (what: string, reason: string, make: Fault['make']): Fault => ({
  what,
  make,
  check: [WITHOUT_FILM, `${FILM} cannot be read: ${reason}`],
  numbers: [NO_FILM, `${FILM} cannot be read: ${reason}`],
})

const withoutStock = (reason: string): Pick<Fault, 'check' | 'numbers'> => {
  const why = `stocks cannot be listed, and what is in it is not known: ${reason}`
  return { check: [WITHOUT_FILM, why], numbers: [NO_FILM, why] }
}

const NO_LINK = 'it is a link, and what it leads to is not there'

const FAULTS: readonly Fault[] = [
  ofStock('a stock that may not be read', 'permission is denied', () => closed(FILM)),
  ofStock('a stock that is a link to nowhere', NO_LINK, () => link(FILM, 'nowhere')),
  ofStock('a stock that is a link to itself', 'it is a link that leads back to itself', () => link(FILM, 'film.stock.yaml')),
  ofStock('a stock that is no text', 'it is not UTF-8 text. Save it as UTF-8 in an editor.', () =>
    write(
      FILM,
      Uint8Array.from({ length: 999 }, (_, i) => (i * 37) % 256),
    ),
  ),
  ofStock('a stock in UTF-16', 'it is not UTF-8 text. Save it as UTF-8 in an editor.', () =>
    write(FILM, Buffer.from('\ufeffstock: film\nexpansion: 75 ppm/K\n', 'utf16le')),
  ),
  ofStock('a stock in Latin-1', 'it is not UTF-8 text. Save it as UTF-8 in an editor.', () =>
    write(FILM, Buffer.from('stock: film\ntitle: Gl\xe4nzend\n', 'latin1')),
  ),
  ofStock('a stock that is a named pipe', 'it is a pipe between programs and no regular file', () => {
    unlinkSync(at(FILM))
    execFileSync('mkfifo', [at(FILM)])
  }),
  ofStock('a stock that is a link to a device', 'it is a device and no regular file', () => link(FILM, '/dev/zero')),
  ofStock('a stock of 2 GB', 'it is 2048 MB large, and documents up to 2 MB are read. Is it the right file?', () =>
    truncateSync(at(FILM), 2 ** 31),
  ),
  ofStock('a stock of 3 MB', 'it is 3.0 MB large, and documents up to 2 MB are read.', () =>
    edit(FILM, (text) => `${text}notes: ${'x'.repeat(3 * 2 ** 20)}\n`),
  ),
  ofStock('a stock that goes while the shop is read', 'there is no such file', () =>
    afterListing(() => rmSync(at(FILM), { force: true })),
  ),
  {
    what: 'a folder that goes while the shop is read',
    make: () => afterListing(() => rmSync(at('stocks'), { recursive: true, force: true })),
    check: [WITHOUT_FILM, `${FILM} cannot be read: there is no such file`],
    numbers: [NO_FILM, `${FILM} cannot be read: there is no such file`],
  },
  {
    what: 'a folder that may not be looked into',
    make: () =>
      hostWith({
        list: async (place, depth, unlisted) => {
          unlisted?.(`${place}stocks`, 'permission is denied')
          return (await node.host.list(place, depth, unlisted)).filter((file) => !file.includes('/stocks/'))
        },
      }),
    ...withoutStock('permission is denied'),
  },
  { what: 'a folder that is a link to nowhere', make: () => link('stocks', '../nowhere'), ...withoutStock(NO_LINK) },
  {
    what: 'a folder that is a link to itself',
    make: () => link('stocks', 'stocks'),
    ...withoutStock('it is a link that leads back to itself'),
  },
  {
    what: 'a link to nowhere beside the documents',
    make: () => link('profiles/a.media.yaml', 'nowhere'),
    check: [`profiles/a.media.yaml cannot be read: ${NO_LINK}`],
    numbers: [],
  },
  {
    what: "the shop's own document that may not be read",
    make: () => closed('rollbook.yaml'),
    // A rule tells of the instrument, now that no rule is ignored.
    check: ['rollbook.yaml cannot be read: permission is denied'],
    numbers: [
      'rollbook.yaml cannot be read: permission is denied',
      "There is no rollbook.yaml that can be read and lists the instrument 'rule-1m'.",
    ],
  },
  {
    what: 'the profile itself that may not be read',
    make: () => closed(PROFILE),
    check: [`${PROFILE} cannot be read: permission is denied`],
    numbers: `${PROFILE} cannot be read: permission is denied`,
  },
  {
    what: 'the profile itself without a setting in it',
    make: () => write(PROFILE, 'Dear night shift, please look at the feed.\n'),
    check: [`${PROFILE} cannot be read: nothing in it is a setting. Is it the right file?`],
    numbers: `${PROFILE} holds no settings that can be read: 'rollbook check ${PROFILE}' says why.`,
  },
  ofStock('a stock that is all brackets', 'nothing in it is a setting. Is it the right file?', () => write(FILM, '[[[{{{\n')),
  {
    what: 'a stock with a line that is broken',
    make: () => edit(FILM, (text) => text.replace('expansion: 75', 'expansion: [75')),
    check: [`${FILM} is read in part: its text is broken in or before line 4.`],
    numbers: [`${FILM} is read in part: its text is broken in or before line 4.`],
  },
  {
    what: 'a check with a line that is broken',
    make: () => edit(PROFILE, (text) => text.replace('with: rule-1m}', 'with: rule-1m')),
    check: [`${PROFILE} is read in part: its text is broken in or before line 10.`],
    numbers: [`${PROFILE} is read in part: its text is broken in or before line 10.`],
  },
  {
    what: 'a merge conflict in the profile',
    make: () => edit(PROFILE, (text) => conflict(text, '  correction: +0.17 %', '  correction: +0.21 %')),
    check: [`${PROFILE} is read in part: in line 6 a merge conflict is not settled, and its lower version is not read.`],
    numbers: [`${PROFILE} is read in part: in line 6 a merge conflict is not settled, and its lower version is not read.`],
  },
  {
    what: 'a merge conflict in the stock',
    make: () => edit(FILM, (text) => conflict(text, 'expansion: 75 ppm/K', 'expansion: 50 ppm/K')),
    check: [`${FILM} is read in part: in line 3 a merge conflict is not settled, and its lower version is not read.`],
    numbers: [`${FILM} is read in part: in line 3 a merge conflict is not settled, and its lower version is not read.`],
  },
  {
    what: 'a stock that is not there',
    make: () => unlinkSync(at(FILM)),
    check: [WITHOUT_FILM],
    numbers: [NO_FILM],
  },
  {
    what: 'a printer that is not there',
    make: () => unlinkSync(at('printers/bay-1.printer.yaml')),
    check: [
      `${PROFILE} is judged without what it names. There is no printer 'bay-1' in this shop that can be read.`,
      "profiles/house.media.yaml is judged without what it names. There is no printer 'bay-1' in this shop that can be read.",
    ],
    numbers: ["There is no printer 'bay-1' in this shop that can be read."],
  },
  {
    what: 'a base that is not there',
    make: () => unlinkSync(at('profiles/house.media.yaml')),
    check: [
      `${PROFILE} is judged without what it names. There is no profile 'house' in this shop that can be read, and this one has it as its base.`,
    ],
    numbers: ["There is no profile 'house' in this shop that can be read, and this one has it as its base."],
  },
  {
    what: 'an instrument that is not there',
    make: () => edit(PROFILE, (text) => text.replace('with: rule-1m}', 'with: rule-2m}')),
    check: [`${PROFILE} is judged without what it names. rollbook.yaml lists no instrument 'rule-2m'.`],
    numbers: ["rollbook.yaml lists no instrument 'rule-2m'."],
  },
]

test('the shop without a fault: all is judged', async () => {
  fresh()
  expect(await rollbook(['check'])).toEqual({ out: '6 documents checked: nothing found.\n', err: [], code: 0 })
  const { out, err, code } = await rollbook(['check', '--format', 'json'])
  expect([JSON.parse(out).notChecked, err, code]).toEqual([[], [], 0])
  for (const command of ['feed', 'reckon']) {
    const { out, err, code } = await rollbook([command, 'film', '--json'])
    expect([command, JSON.parse(out).notChecked, err, code]).toEqual([command, [], [], 0])
  }
})

describe.each(FAULTS)('$what', ({ make, check, numbers }) => {
  const sorted = (list: readonly string[]): readonly string[] => [...list].sort()
  const faulty = async (...args: readonly string[]): Promise<Ran> => {
    fresh()
    return rollbook(args, (make() as Host | undefined) ?? undefined)
  }

  test('check', async () => {
    const text = await faulty('check')
    expect({ err: sorted(text.err), code: text.code }).toEqual({ err: sorted(check), code: 2 })
    expect(text.out).toMatch(
      /(?:^|\n)\d documents checked, and not everything could be judged(?:\. Nothing found in what was\.|: .*)\n$/,
    )
    const json = await faulty('check', '--format', 'json')
    expect({ ...JSON.parse(json.out), err: json.err, code: json.code }).toMatchObject({
      notChecked: text.err,
      err: text.err,
      code: 2,
    })
  })

  test.each(['feed', 'reckon'])('%s', async (command) => {
    const text = await faulty(command, PROFILE)
    const json = await faulty(command, PROFILE, '--json')
    if (typeof numbers === 'string') {
      expect(text).toEqual({ out: '', err: [numbers], code: 2 })
      expect(json).toEqual(text)
      return
    }
    expect(sorted(JSON.parse(json.out).notChecked)).toEqual(sorted(numbers))
    expect([text.code, json.code]).toEqual(numbers.length > 0 ? [2, 2] : [0, 0])
    expect(json.err).toEqual(text.err)
    // The page says it too, before any number, and wherever its lines are broken.
    const page = text.out.replace(/\s+/g, ' ')
    const first = page.search(command === 'feed' ? /[+-]\d[\d.]* %|Settle the merge first/ : /\] |---/)
    for (const sentence of numbers) {
      expect(text.err).toContain(sentence)
      expect(page).toContain(sentence)
      expect(page.indexOf(sentence)).toBeLessThan(first)
    }
  })
})

test('a mode that the printer does not have: reckoned without it, and the feed does not rest on it', async () => {
  fresh()
  edit(PROFILE, (text) => text.replace('printer: bay-1', 'printer: bay-2\nmode: fine'))
  const said = "bay-2 has no mode 'fine'."
  expect(await rollbook(['check'])).toMatchObject({ err: [`${PROFILE} is judged without what it names. ${said}`], code: 2 })
  expect(await rollbook(['reckon', 'film'])).toMatchObject({ err: [said], code: 2 })
  expect(await rollbook(['feed', 'film'])).toMatchObject({ err: [], code: 0 })
})

describe('what a command is given', () => {
  test.each([
    [['check', ''], /^An empty name was given/],
    [['feed', ''], /^An empty name was given/],
    [['reckon', ''], /^An empty name was given/],
    [['check', 'empty'], /^There is nothing to check in 'empty'/],
    [['check', 'profiles/nowhere.media.yaml'], /^There is no file or folder/],
    [['feed', 'nowhere'], /^There is no profile 'nowhere' here/],
  ])('%j', async (args, said) => {
    fresh()
    mkdirSync(at('empty'))
    const { out, err, code } = await rollbook(args)
    expect([out, err.length, code]).toEqual(['', 1, 2])
    expect(err[0]).toMatch(said)
  })

  test('a document that cannot be read is not called checked', async () => {
    fresh()
    link(PROFILE, 'nowhere')
    const { out, err, code } = await rollbook(['check', PROFILE])
    expect([out, err, code]).toEqual(['Nothing could be checked.\n', [`${PROFILE} cannot be read: ${NO_LINK}`], 2])
    expect((await rollbook(['check', PROFILE, '--quiet'])).out).toBe('')
  })

  test('a pipe in the place of a document does not hold a command up', async () => {
    fresh()
    unlinkSync(at(PROFILE))
    execFileSync('mkfifo', [at(PROFILE)])
    for (const command of ['check', 'feed', 'reckon']) {
      const { err, code } = await rollbook([command, PROFILE])
      expect([err, code]).toEqual([[`${PROFILE} cannot be read: it is a pipe between programs and no regular file`], 2])
    }
  })

  test('a profile in a folder that is shut: the folder is told of', async () => {
    fresh()
    link('profiles', 'profiles')
    const { err, code } = await rollbook(['feed', 'film'])
    expect([err, code]).toEqual([
      [
        'profiles cannot be listed, and what is in it is not known: it is a link that leads back to itself',
        "There is no profile 'film' here, and no such file.",
      ],
      2,
    ])
    const check = await rollbook(['check', 'profiles'])
    expect([check.err, check.code]).toEqual([
      [`${at('profiles')} cannot be looked at: it is a link that leads back to itself.`],
      2,
    ])
  })

  test('the folder it was called in is gone', async () => {
    fresh()
    vi.spyOn(process, 'cwd').mockImplementation(() => {
      throw Object.assign(new Error('ENOENT: no such file or directory, uv_cwd'), { code: 'ENOENT' })
    })
    const gone = async (...args: readonly string[]): Promise<readonly [string, string, number]> => {
      let [out, err] = ['', '']
      const heard = { out: (text: string) => (out += text), err: (text: string) => (err += text) }
      const code = await runCli(args, Object.defineProperties({ ...heard } as never, descriptorsOf(node)))
      return [out, err, code]
    }
    const sorry = 'The folder this was called in is not there any more. Change to one that is, and try again.\n'
    for (const args of [['check'], ['feed', 'film'], ['reckon', 'film'], ['check', '--today', '2026-03-31']])
      expect(await gone(...args)).toEqual(['', sorry, 2])
    expect(await gone('--version')).toEqual([expect.stringMatching(/^rollbook /), '', 0])
    expect(await gone('check', '--help')).toEqual([expect.stringMatching(/^rollbook check /), '', 0])
    expect(await gone('explain', 'gap')).toEqual([expect.stringMatching(/^# gap/), '', 0])
  })
})

/** The members of a host but those a test hears by, without asking for any of them. */
function descriptorsOf(cli: CliHost): PropertyDescriptorMap {
  const { out, err, ...others } = Object.getOwnPropertyDescriptors(cli)
  return others
}

describe('a rule that fails', () => {
  const failing = (code: string): string => {
    const rule = RULES.find((one) => one.code === code)!
    vi.spyOn(rule, 'check').mockImplementation(() => {
      throw new TypeError('boom')
    })
    return code
  }

  test('the rule and the document are named, and the others go on', async () => {
    fresh()
    write('rollbook.yaml', 'shop: Tern Quay Print Works\n')
    write(PROFILE, 'profile: film\nprofile: film\n')
    const code = failing('id-unlike-file')
    const { out, err, code: exit } = await rollbook(['check', PROFILE])
    expect(out).toMatch(/error duplicate-key/)
    expect([err, exit]).toEqual([
      [
        `${PROFILE} is not judged by the rule ${code}, which failed inside Rollbook: boom. ROLLBOOK_DEBUG=1 shows where. Please report it.`,
      ],
      2,
    ])
    const json = await rollbook(['check', PROFILE, '--format', 'json'])
    expect([JSON.parse(json.out).notChecked, json.code]).toEqual([err, 2])
  })

  test('a document on which the program itself fails is named, and the others are checked', async () => {
    fresh()
    write('rollbook.yaml', 'shop: Tern Quay Print Works\n')
    write('profiles/a.media.yaml', 'profile: a\nprofile: a\n')
    const rule = RULES.find((one) => one.code === 'duplicate-key')!
    vi.spyOn(rule, 'check').mockImplementation(({ document, report }) => {
      const fixes = (): never => {
        throw new TypeError('boom')
      }
      if (document.file.endsWith('/a.media.yaml')) report({ start: 0, end: 1 }, 'Given twice.', { fixes })
    })
    const { out, err, code } = await rollbook(['check', '.'])
    expect(out).toMatch(/[1-9] documents checked, and not everything could be judged/)
    expect([err, code]).toEqual([
      [
        'profiles/a.media.yaml is not judged: this went wrong inside Rollbook: boom. ROLLBOOK_DEBUG=1 shows where. Please report it.',
      ],
      2,
    ])
  })
})

describe('links', () => {
  test('one that leads nowhere hides none of the documents beside it, and no number changes', async () => {
    fresh()
    const before = JSON.parse((await rollbook(['feed', 'film', '--json'])).out)
    for (const name of ['stocks', 'profiles', 'printers']) link(`${name}/a.${name.slice(0, -1)}.yaml`, 'nowhere')
    link('stocks/aaa', 'nowhere')
    const after = await rollbook(['feed', 'film', '--json'])
    expect(JSON.parse(after.out)).toEqual(before)
    expect(after.code).toBe(0)
    const { out, code } = await rollbook(['check'])
    expect([out, code]).toEqual(['6 documents checked, and not everything could be judged. Nothing found in what was.\n', 2])
  })

  test('an editor’s lock beside a document is no document', async () => {
    fresh()
    link('profiles/.#film.media.yaml', 'someone@somewhere.1234:1764000000')
    expect(await rollbook(['check'])).toEqual({ out: '6 documents checked: nothing found.\n', err: [], code: 0 })
  })

  test('linked folders are followed, to a folder that two links lead to once', async () => {
    fresh()
    mkdirSync(at('elsewhere'))
    renameSync(at('stocks'), at('elsewhere/real'))
    mkdirSync(at('shop'))
    for (const name of ['rollbook.yaml', 'printers', 'profiles']) renameSync(at(name), at(`shop/${name}`))
    symlinkSync('../elsewhere/real', at('shop/stocks'))
    symlinkSync('../elsewhere/real', at('shop/stocks-again'))
    expect(await rollbook(['check', 'shop'])).toEqual({ out: '6 documents checked: nothing found.\n', err: [], code: 0 })
    expect((await rollbook(['feed', 'shop/profiles/film.media.yaml'])).code).toBe(0)
  })

  test('circles end, and what stands in the shop itself goes by its own name', async () => {
    fresh()
    symlinkSync('..', at('profiles/up'))
    symlinkSync('/', at('profiles/root'))
    symlinkSync('../stocks', at('profiles/stocks'))
    symlinkSync('.', at('here'))
    symlinkSync('profiles', at('a-way-to-profiles'))
    const { out } = await rollbook(['check', '--format', 'json'])
    expect(JSON.parse(out)).toMatchObject({ files: 6, notChecked: [] })
    expect(await rollbook(['feed', 'film'])).toMatchObject({ err: [], code: 0 })
  })
})

test('a stock is not called missing where a folder that may hold it is shut', async () => {
  fresh()
  edit('rollbook.yaml', (text) => text.replace('  missing-stock: ignore\n', ''))
  link('stocks', 'nowhere')
  const { findings } = JSON.parse((await rollbook(['check', '--format', 'json'])).out)
  expect(findings.map((f: { message: string }) => f.message)).toEqual([
    "There is no stock 'film' in what can be read of this shop: the folder 'stocks' cannot be looked into.",
  ])
})

describe('start', () => {
  const begin = (host?: Host, ...more: readonly string[]): Promise<Ran> =>
    rollbook(['start', '--stock', 'film', '--printer', 'bay-2', ...more], host)

  test.each([
    [
      'a stock that may not be read',
      () => closed(FILM),
      [
        `${FILM} cannot be read: permission is denied`,
        'The shop of the current folder has no stock: there is no *.stock.yaml that can be read.',
      ],
    ],
    [
      'a folder that is shut',
      () => link('stocks', 'nowhere'),
      [
        `stocks cannot be listed, and what is in it is not known: ${NO_LINK}`,
        'The shop of the current folder has no stock: there is no *.stock.yaml that can be read.',
      ],
    ],
    [
      'a merge conflict in the stock',
      () => edit(FILM, (text) => conflict(text, 'expansion: 75 ppm/K', 'expansion: 50 ppm/K')),
      [
        `${FILM} is read in part: in line 3 a merge conflict is not settled, and its lower version is not read. Nothing is started from it before that is settled.`,
      ],
    ],
    [
      "the shop's own document that may not be read",
      () => closed('rollbook.yaml'),
      ['rollbook.yaml cannot be read: permission is denied Nothing is started from it before that is settled.'],
    ],
  ])('%s: nothing is written', async (_, make, said) => {
    fresh()
    expect(await begin((make() as Host | undefined) ?? undefined)).toEqual({ out: '', err: said, code: 2 })
  })

  test('a profile elsewhere that cannot be read: written, and told', async () => {
    fresh()
    link('profiles/a.media.yaml', 'nowhere')
    const { out, err, code } = await begin()
    expect(out).toMatch(/^profile: film-bay-2$/m)
    expect([err.at(-2), code]).toEqual([`profiles/a.media.yaml cannot be read: ${NO_LINK}`, 1])
  })

  test('the empty file that a shell makes of the output does not take the name', async () => {
    fresh()
    write('profiles/film-bay-2.media.yaml', '')
    expect((await begin()).out).toMatch(/^profile: film-bay-2$/m)
    write('profiles/film-bay-2.media.yaml', 'title: x\n')
    expect((await begin()).out).toMatch(/^profile: film-bay-2-2$/m)
  })

  test('into a file outside the shop: with the stocks and printers of the shop one stands in', async () => {
    fresh()
    mkdirSync(at('works/away'), { recursive: true })
    for (const name of ['rollbook.yaml', 'printers', 'profiles', 'stocks']) renameSync(at(name), at(`works/${name}`))
    mkdirSync(at('away'))
    const shop = folder
    folder = at('works')
    try {
      const { err } = await begin(undefined, '--out', '../away/new.media.yaml')
      expect(err[0]).toMatch(/^\.\.\/away\/new\.media\.yaml is written/)
    } finally {
      folder = shop
    }
    expect(readFileSync(at('away/new.media.yaml'), 'utf8')).toMatch(/^profile: new$/m)
    // From outside, into the shop: with what that shop has.
    expect((await begin(undefined, '--out', 'works/profiles/new.media.yaml')).err[0]).toMatch(/ is written/)
  })
})

test('a file that is named as the profile, and names its profile otherwise', async () => {
  fresh()
  write('profiles/poster.media.yaml', 'profile: poster-2\n')
  write('profiles/blank.media.yaml', '')
  expect((await rollbook(['feed', 'poster'])).err).toEqual([
    "There is no profile 'poster' here: profiles/poster.media.yaml names its profile 'poster-2'. Put that right in the file, or give the file instead of a name.",
  ])
  expect((await rollbook(['feed', 'blank'])).err).toEqual([
    "There is no profile 'blank' here: profiles/blank.media.yaml does not say how its profile is named. Put that right in the file, or give the file instead of a name.",
  ])
})
