// `rollbook review` on real repositories: what is compared with what, the exit codes, the faces, and every way in which nothing can be told.
import { execFileSync } from 'node:child_process'
import { readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { Ajv2020 } from 'ajv/dist/2020.js'
import { describe, expect, test } from 'vitest'
import { MOST_CHARACTERS, reviewMarkdown } from '../../server/src/review/markdown.ts'
import { commit, ENV, git, newFolder, repository, rollbook, SHOP, write } from './repository.ts'
import { ran } from './shell.ts'

const review = (cwd: string, ...args: readonly string[]) => rollbook(cwd, 'review', '--today', '2026-03-31', ...args)

const GAP = '#- profiles/paper-1.media.yaml\nprofile: paper-1\nstock: paper\nprinter: bay-1\ngap: 3 mm\nslot: 2\n'
const THICK = '#- stocks/film.stock.yaml\nstock: film\nthickness: 0.3 mm\nsoftens-at: 70 °C\n'

interface Told {
  readonly code: number
  readonly before: string
  readonly after: string
  readonly totals: {
    readonly compared: number
    readonly changed: number
    readonly untouched: number
    readonly notCompared: number
  }
  readonly paths: readonly string[]
}

/** What changed, by document and key. */
async function told(cwd: string, ...args: readonly string[]): Promise<Told> {
  const { out, code, err } = await review(cwd, '--format', 'json', ...args)
  expect(out === '' ? err : '').toBe('')
  const { before, after, totals, documents } = JSON.parse(out)
  const paths = documents.flatMap(({ document, changes }: never) =>
    (changes as { path: string }[]).map(({ path }) => `${(document as { id: string }).id} ${path}`),
  )
  return { code, before, after, totals, paths }
}

describe('what is compared', () => {
  test('the work tree with where it left the main branch, by default', async () => {
    const folder = repository(SHOP)
    git(folder, 'checkout', '-q', '-b', 'work')
    commit(folder, GAP)
    git(folder, 'checkout', '-q', 'main')
    commit(folder, THICK)
    git(folder, 'checkout', '-q', 'work')
    write(folder, '#- profiles/new.media.yaml\nprofile: new\n')
    // What others did on main meanwhile is no part of it; a new file that git does not know is.
    expect(await told(folder)).toMatchObject({
      before: 'main (as it was when left)',
      after: 'the work tree',
      paths: ['new profile', 'paper-1 gap'],
      totals: { changed: 2, notCompared: 0 },
    })
    expect(await told(join(folder, 'profiles'))).toMatchObject({ paths: ['new profile', 'paper-1 gap'] })
  })

  test('two revisions, where they parted, one with the work tree, and what is staged', async () => {
    const folder = repository(SHOP)
    git(folder, 'checkout', '-q', '-b', 'work')
    commit(folder, GAP)
    git(folder, 'checkout', '-q', 'main')
    commit(folder, THICK)
    expect((await told(folder, 'main..work')).paths).toEqual(['paper-1 gap', 'film thickness'])
    expect((await told(folder, 'main', 'work')).paths).toEqual(['paper-1 gap', 'film thickness'])
    expect((await told(folder, 'main...work')).paths).toEqual(['paper-1 gap'])
    expect((await told(folder, 'HEAD~1..')).paths).toEqual(['film thickness'])
    expect((await told(folder, 'HEAD~1')).paths).toEqual(['film thickness'])
    expect(await told(folder, 'HEAD..HEAD')).toMatchObject({ code: 0, paths: [], totals: { compared: 0, untouched: 8 } })
    write(folder, GAP)
    git(folder, 'add', '-A')
    write(folder, GAP.replace('3 mm', '2.5 mm'))
    const staged = await told(folder, '--staged')
    expect(staged).toMatchObject({ before: 'HEAD', after: 'what is staged', paths: ['paper-1 gap'] })
  })

  test('two folders, and two versions of one document in the shop of the second', async () => {
    const [one, other] = [newFolder(), newFolder()]
    write(one, SHOP)
    write(other, SHOP + THICK)
    expect((await told(one, one, other)).paths).toEqual(['film thickness'])
    const old = join(newFolder(), 'old.stock.yaml')
    writeFileSync(old, readFileSync(join(one, 'stocks/film.stock.yaml'), 'utf8'))
    expect(await told(one, old, join(other, 'stocks/film.stock.yaml'))).toMatchObject({
      paths: ['film thickness'],
      totals: { compared: 1 },
    })
  })

  test('a colour file that changed moves what is reckoned of it', async () => {
    const strip = (l: number): string =>
      `CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nBEGIN_DATA\n1 ${l} 0 0\nEND_DATA\n`
    const naming =
      '#- profiles/film-1.media.yaml\nprofile: film-1\nstock: film\nprinter: bay-1\ngap: 2 mm\ncolour: {reference: aim.txt, measured: [{file: made.txt, date: 2026-03-30}]}\n'
    const folder = repository(`${SHOP}${naming}#- profiles/aim.txt\n${strip(50)}#- profiles/made.txt\n${strip(51)}`)
    write(folder, `#- profiles/made.txt\n${strip(53)}`)
    const { profiles } = JSON.parse((await review(folder, '--format', 'json')).out)
    const moved = profiles.flatMap(
      ({ profile, consequences }: { profile: string; consequences: { key: string; causes: { path: string }[] }[] }) =>
        consequences.map(({ key, causes }) => `${profile} ${key} ${causes.map(({ path }) => path)}`),
    )
    expect(moved).toContain('film-1 colour.mean colour')
  })

  test('a stock that is changed reaches its profiles and those based on them, and says so', async () => {
    const folder = repository(SHOP)
    write(folder, THICK)
    const { out } = await review(folder)
    expect(out).toContain('2 profiles rest on it: film-1, film-2.')
    expect((await told(folder)).totals).toEqual({ compared: 3, changed: 1, untouched: 5, notCompared: 0 })
  })
})

test('the exit code is of new findings, or of a proof that opens, or of neither', async () => {
  const checks = [27, 28, 30].map(
    (day) =>
      `    - {date: 2026-03-${day}, commanded: 1 m, measured: 1000 mm, applied: 0 %, with: rule, web: 23 °C, under: by-hand}\n`,
  )
  const profile = `#- p.media.yaml
profile: p
stock: s
printer: b
mode: m
suction: 1
feed:
  correction: 0 %
  checks:
${checks.join('')}conditions:
  by-hand: {from: read-back, stock: s, printer: b, mode: m, suction: 1}
`
  const folder = repository(`#- rollbook.yaml
shop: Tern Quay
tolerance: {length: 0.05 %}
instruments: {rule: {kind: rule, division: 0.1 mm, length: 1 m, limit-of-error: [0.05 mm, 0.05 mm/m]}}
#- s.stock.yaml
stock: s
family: film-pvc-cast
thickness: 80 µm
#- b.printer.yaml
printer: b
modes: {m: {resolution: 720 dpi, passes: 8}, n: {resolution: 360 dpi, passes: 4}}
heads: {nozzle-pitch: 1/180 in, nozzles: 180}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent, pattern-lengths: [1 m], repeatability: {value: 0.01 %, freedom: 20}}
suction: {levels: {1: 100 Pa, 2: 900 Pa}}
${profile}`)
  write(folder, profile.replace('mode: m\nsuction', 'mode: n\nsuction'))
  const opened = await review(folder)
  expect(opened.out).toContain('Lengths to prove again: p.')
  expect(opened.out).toMatch(/feed\.checks {2}proven, \d\d % {2}doubtful/)
  expect((await review(folder, '--fail-on', 'print')).code).toBe(1)
  expect((await review(folder, '--fail-on', 'never')).code).toBe(0)
  write(folder, profile.replace('suction: 1\nfeed', 'suction: 7\nfeed'))
  const broken = await review(folder)
  expect([broken.code, broken.out.includes('Findings: ')]).toEqual([1, true])
})

describe('the faces', () => {
  test('JSON is what its schema says, and the schema is one', async () => {
    const { out, code } = await ran('review --schema')
    expect(code).toBe(0)
    const ajv = new Ajv2020({ strict: true, strictRequired: false, allErrors: true })
    const validate = ajv.compile(JSON.parse(out))
    const folder = repository(SHOP)
    write(folder, THICK + GAP)
    rmSync(join(folder, 'profiles/film-2.media.yaml'))
    const json = JSON.parse((await review(folder, '--format', 'json')).out)
    validate(json)
    expect(validate.errors ?? []).toEqual([])
    expect(json.profiles.length).toBeGreaterThan(0)
    expect(validate({ ...json, totals: { compared: -1 } })).toBe(false)
    expect(validate({ ...json, findings: [{}] })).toBe(false)
  })

  test('nothing of a document becomes markup, a mention, a link or a command to a terminal', async () => {
    const folder = repository(SHOP)
    write(
      folder,
      `#- profiles/paper-1.media.yaml\nprofile: paper-1\ntitle: "<img src=x onerror=alert(1)> | [a](http://x.example) @all \\e[31m \`b\`"\nstock: paper\nprinter: bay-1\ngap: 2 mm\nslot: 2\n`,
    )
    const html = (await review(folder, '--format', 'html')).out
    expect(html).toContain('&lt;img src=x onerror=alert(1)&gt;')
    expect(html).not.toMatch(/<(?:img|script|a|link|iframe|object)\b| style=/)
    expect(html).toContain(`content="default-src 'none'; style-src 'unsafe-inline'"`)
    const markdown = (await review(folder, '--format', 'markdown')).out
    expect(markdown).toContain('&lt;img src=x onerror=alert(1)> \\| \\[a\\](http://x.example) &#64;all')
    // biome-ignore lint/suspicious/noControlCharactersInRegex: none may be there.
    for (const text of [html, markdown, (await review(folder)).out]) expect(text).not.toMatch(/\u001b/)
  })

  test('Markdown never holds more than hosts take, and counts what it leaves out', () => {
    const row = ['profile a', 'gap', '1 mm', '2 mm', '+1 mm']
    const page = {
      title: 'Review',
      summary: ['Totals.'],
      sections: ['first', 'second', 'third'].map((heading) => ({
        heading,
        blocks: [
          {
            kind: 'table' as const,
            header: ['In', 'Setting', 'Before', 'After', 'By'],
            rows: Array.from({ length: 1500 }, () => row),
          },
        ],
      })),
    }
    const text = reviewMarkdown(page)
    expect(text.length).toBeLessThanOrEqual(MOST_CHARACTERS)
    const shown = text.split('\n').filter((line) => line.startsWith('| profile a')).length
    const left = [...text.matchAll(/(\d+) (?:more )?lines/g)].reduce((sum, [, count]) => sum + Number(count), 0)
    expect(shown + left).toBe(4500)
    expect(text).toContain('**third: 1500 lines are not shown here.')
  })
})

describe('what cannot be told is a sentence, and never a pass', () => {
  test.each<[string, RegExp, (folder: string) => readonly string[]]>([
    ['a missing revision', /There is no revision 'nobody' in the git clone at /, () => ['nobody..HEAD']],
    ['an option for a revision', /There is no revision '--output=x' in the git clone/, () => ['HEAD..--output=x']],
    ['three', /compares two versions/, () => ['a', 'b', 'c']],
    ['a folder with a file', /give two of one sort/, () => ['stocks', 'rollbook.yaml']],
    [
      'no document',
      /is not a Rollbook document/,
      (folder) => {
        writeFileSync(join(folder, 'a.txt'), '')
        return ['a.txt', 'a.txt']
      },
    ],
    ['a folder that is not there', /There is no file or folder 'gone'/, () => ['stocks', 'gone']],
    ['staged against two', /compares with one revision/, () => ['--staged', 'HEAD..HEAD']],
  ])('%s', async (_, sentence, make) => {
    const folder = repository(SHOP)
    const { out, err, code } = await review(folder, ...make(folder))
    expect([out, code]).toEqual(['', 2])
    expect(err).toMatch(sentence)
    expect(err.trim().split('\n')).toHaveLength(1)
  })

  test('outside git, in a bare repository, without a main branch, and in a shallow clone', async () => {
    const outside = newFolder()
    write(outside, SHOP)
    expect(await review(outside)).toMatchObject({
      out: '',
      code: 2,
      err: expect.stringMatching(/is not in a working tree of git/),
    })
    const origin = repository(SHOP)
    commit(origin, GAP)
    const bare = newFolder()
    execFileSync('git', ['clone', '-q', '--bare', origin, bare], { env: ENV })
    expect(await review(bare)).toMatchObject({ out: '', code: 2, err: expect.stringMatching(/is not in a working tree of git/) })
    const shallow = newFolder()
    execFileSync('git', ['clone', '-q', '--depth', '1', `file://${origin}`, shallow], { env: ENV })
    expect(await review(shallow)).toMatchObject({ out: '', code: 2, err: expect.stringMatching(/is shallow.*--unshallow/) })
    expect(await review(shallow, 'HEAD~1..HEAD')).toMatchObject({ code: 2, err: expect.stringMatching(/The clone is shallow/) })
    git(origin, 'branch', '-m', 'trunk')
    expect(await review(origin)).toMatchObject({ code: 2, err: expect.stringMatching(/no branch named main or master/) })
  })

  test('what is binary, a link, cut off or in conflict is named, and the rest is compared', async () => {
    const folder = repository(SHOP)
    writeFileSync(join(folder, 'stocks/film.stock.yaml'), new Uint8Array([0xff, 0xfe, 0x00, 0x41]))
    write(folder, '#- profiles/paper-1.media.yaml\nprofile: paper-1\nstock: paper\nprinter: bay-1\ngap: [3 mm\n')
    write(folder, '#- printers/bay-2.printer.yaml\n<<<<<<< ours\nprinter: bay-2\n=======\nprinter: bay-3\n>>>>>>> theirs\n')
    commit(folder)
    symlinkSync('film-1.media.yaml', join(folder, 'profiles/film-9.media.yaml'))
    commit(folder)
    const { out, err, code } = await review(folder, 'HEAD~2..HEAD')
    expect(code).toBe(2)
    expect(err).toContain('stocks/film.stock.yaml cannot be read in HEAD: it is not UTF-8 text')
    expect(err).toContain('profiles/film-9.media.yaml cannot be read in HEAD: it is a link')
    expect(err).toContain('profiles/paper-1.media.yaml in HEAD is read only in part')
    expect(err).toContain('printers/bay-2.printer.yaml in HEAD is read only in part')
    expect(out).toMatch(/\d+ things could not be compared/)
    // What a stock says that cannot be read is not taken for gone.
    expect(out).not.toContain('thickness')
  })

  test('a submodule', async () => {
    const folder = repository(SHOP)
    git(folder, '-c', 'protocol.file.allow=always', 'submodule', 'add', '-q', repository(SHOP), 'other')
    expect(await review(folder)).toMatchObject({ code: 2, err: expect.stringMatching(/submodule/) })
  })
})

describe('a merge that git has not settled', () => {
  /** Both branches changed the gap; then one side alone is taken, as a merge driver that died leaves it, and nobody said that this is settled. */
  function conflicted(): string {
    const folder = repository(SHOP)
    git(folder, 'checkout', '-q', '-b', 'night')
    commit(folder, THICK)
    git(folder, 'checkout', '-q', 'main')
    commit(folder, THICK.replace('0.3 mm', '0.4 mm'))
    expect(() => git(folder, 'merge', 'night')).toThrow()
    return folder
  }
  const FILM = 'stocks/film.stock.yaml'

  test('lines of it in a document: read in part, and not compared', async () => {
    const { out, err, code } = await review(conflicted(), 'HEAD')
    expect([err.split('\n')[0], code]).toEqual([
      `${FILM} in the work tree is read only in part, and what the rest says is not compared: 'rollbook check' shows where.`,
      2,
    ])
    expect(out).toContain('read only in part')
  })

  test('one side alone: what rests on it is told, and is no review of the rest', async () => {
    const folder = conflicted()
    git(folder, 'checkout', '--ours', FILM)
    const said = `${FILM} in the work tree may not be what it will be: git has a merge of it that is not settled, and it may be one side alone. Look at it, then 'git add' it.\n`
    expect(await review(folder, 'HEAD')).toMatchObject({ err: said, code: 2 })
    expect(await review(folder, 'HEAD~1')).toMatchObject({ err: said, code: 2 })
    expect(await review(folder, 'main~1', '--staged')).toMatchObject({
      err: expect.stringContaining(`${FILM} cannot be read in what is staged: its merge is not settled`),
      code: 2,
    })
    // Two commits rest on no index.
    expect(await review(folder, 'main~1..main')).toMatchObject({ err: '', code: 0 })
    git(folder, 'add', FILM)
    expect(await review(folder, 'HEAD')).toMatchObject({ err: '', code: 0 })
  })

  test('two versions on disk: the same', async () => {
    const folder = conflicted()
    git(folder, 'checkout', '--theirs', FILM)
    const other = join(newFolder(), 'film.stock.yaml')
    writeFileSync(other, 'stock: film\nthickness: 0.3 mm\n')
    expect((await review(folder, other, FILM)).err).toContain('git has a merge of it that is not settled')
  })
})
