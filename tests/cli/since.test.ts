// `--changed-since` and `--new-since` on real repositories: what a change reaches, which findings it brought, and every way in which that cannot be
// known.
import { execFileSync } from 'node:child_process'
import { readFileSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { runs } from '../support/counts.ts'
import { parseFixture, ROOT } from '../support/fixture.ts'
import { check, commit, ENV, git, newFolder, repository, SHOP, type Told, told, write } from './repository.ts'

/** The documents that a check of what changed looks at, by name. */
async function reached(folder: string, ...args: readonly string[]): Promise<readonly string[]> {
  const { out } = await check(folder, '--format', 'junit', '--changed-since', 'main', ...args)
  return [...out.matchAll(/<testsuite name="(?:[^"]*\/)?([^"/]*?)(?:\.media)?\.yaml"/g)].map(([, name]) => name!).sort()
}

describe('--changed-since', () => {
  test.each([
    ['nothing', '', []],
    [
      'a profile',
      '#- profiles/paper-1.media.yaml\nprofile: paper-1\nstock: paper\nprinter: bay-1\ngap: 3 mm\nslot: 2\n',
      ['paper-1'],
    ],
    [
      'a stock, with its profiles and those based on them',
      '#- stocks/film.stock.yaml\nstock: film\nthickness: 0.3 mm\n',
      ['film-1', 'film-2', 'film.stock'],
    ],
    ['a printer', '#- printers/bay-2.printer.yaml\nprinter: bay-2\n', ['bay-2.printer', 'film-2']],
    [
      'a base',
      '#- profiles/film-1.media.yaml\nprofile: film-1\nstock: film\nprinter: bay-1\ngap: 3 mm\nslot: 3\n',
      ['film-1', 'film-2'],
    ],
    [
      'the shop',
      '#- rollbook.yaml\nshop: Tern Quay\n',
      ['bay-1.printer', 'bay-2.printer', 'film-1', 'film-2', 'film.stock', 'paper-1', 'paper.stock', 'rollbook'],
    ],
    ['a stock that has lost its id', '#- stocks/paper.stock.yaml\nstock: card\nthickness: 0.2 mm\n', ['paper-1', 'paper.stock']],
    [
      'a new profile, with the printer that it uses and the one whose slot it takes',
      '#- profiles/new.media.yaml\nprofile: new\nprinter: bay-1\nslot: 2\n',
      ['bay-1.printer', 'new', 'paper-1'],
    ],
  ])('%s', async (_, change, expected) => {
    const folder = repository(SHOP)
    if (change !== '') write(folder, change)
    expect(await reached(folder)).toEqual(expected)
    // The same when it is committed, on a branch of its own.
    git(folder, 'checkout', '-q', '-b', 'work')
    commit(folder)
    expect(await reached(folder)).toEqual(expected)
  })

  test('a document that is gone pulls those that rest on it', async () => {
    const folder = repository(SHOP)
    rmSync(join(folder, 'stocks/film.stock.yaml'))
    expect(await reached(folder)).toEqual(['film-1', 'film-2'])
    const { findings, remarks } = await told(folder, '--changed-since', 'main')
    expect(findings.map((f) => f.code)).toContain('missing-stock')
    expect(remarks).toEqual([
      '0 documents checked because of a change since main, with 1 more gone; 2 more because what they rest on has changed.',
    ])
  })

  test('a profile pulls its shop where that tells who rests on an instrument in doubt', async () => {
    const doubting =
      '#- rollbook.yaml\nshop: Tern Quay\ninstruments: { rule: { kind: rule, suspect: [{ from: 2026-03-01, why: dropped }] } }\n'
    const folder = repository(SHOP + doubting)
    write(
      folder,
      '#- profiles/paper-1.media.yaml\nprofile: paper-1\nstock: paper\nprinter: bay-1\ngap: 2 mm\nslot: 2\nfeed: { checks: [{ date: 2026-03-02, commanded: 1 m, measured: 1 m, applied: 0 %, with: rule }] }\n',
    )
    expect(await reached(folder)).toEqual(['paper-1', 'rollbook'])
    const { findings } = await told(folder, '--changed-since', 'main')
    expect(findings.map((f) => f.code)).toEqual(expect.arrayContaining(['instrument-in-doubt', 'instrument-found-wrong']))
  })

  test('a colour file that changed, came or went pulls the profiles that name it, and those based on them', async () => {
    const strip = (l: number): string =>
      `#- profiles/aim.txt\nCGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nBEGIN_DATA\n1 ${l} 0 0\nEND_DATA\n`
    const naming =
      '#- profiles/film-1.media.yaml\nprofile: film-1\nstock: film\nprinter: bay-1\ngap: 2 mm\ncolour: {reference: aim.txt}\n'
    const folder = repository(SHOP + naming + strip(50))
    write(folder, '#- profiles/other.txt\nnothing of ours\n')
    expect(await reached(folder)).toEqual([])
    write(folder, strip(51))
    expect(await reached(folder)).toEqual(['film-1', 'film-2'])
    git(folder, 'checkout', '-q', '-b', 'work')
    commit(folder)
    expect(await reached(folder)).toEqual(['film-1', 'film-2'])
    rmSync(join(folder, 'profiles/aim.txt'))
    expect(await reached(folder)).toEqual(['film-1', 'film-2'])
  })

  test('what others did on main since is nobody’s change here', async () => {
    const folder = repository(SHOP)
    git(folder, 'checkout', '-q', '-b', 'work')
    commit(folder, '#- profiles/paper-1.media.yaml\nprofile: paper-1\nstock: paper\nprinter: bay-1\ngap: 3 mm\nslot: 2\n')
    git(folder, 'checkout', '-q', 'main')
    commit(folder, '#- stocks/film.stock.yaml\nstock: film\nthickness: 0.3 mm\n')
    git(folder, 'checkout', '-q', 'work')
    expect(await reached(folder)).toEqual(['paper-1'])
  })

  test('a renamed file, an ignored one, a name with blanks and letters beyond ASCII', async () => {
    const folder = repository(`${SHOP}#- .gitignore\nlocal-*\n`)
    renameSync(join(folder, 'profiles/paper-1.media.yaml'), join(folder, 'profiles/papier größe.media.yaml'))
    write(folder, '#- profiles/local-a.media.yaml\nprofile: local-a\n')
    expect(await reached(folder)).toEqual(['local-a', 'papier größe'])
  })

  test('only what is asked for, from a folder below, through a link', async () => {
    const folder = repository(SHOP)
    write(folder, '#- stocks/film.stock.yaml\nstock: film\nthickness: 0.3 mm\n')
    expect(await reached(folder, 'stocks')).toEqual(['film.stock'])
    expect(await reached(join(folder, 'profiles'))).toEqual(['film-1', 'film-2'])
    const link = join(newFolder(), 'shop')
    symlinkSync(folder, link)
    expect(await reached(link)).toEqual(['film-1', 'film-2', 'film.stock'])
  })

  test('nothing changed: nothing to check, and it says so', async () => {
    expect(await check(repository(SHOP), '--changed-since', 'main')).toMatchInlineSnapshot(`
      {
        "code": 0,
        "err": "",
        "out": "No document has changed since main.
      Nothing was to be checked.
      ",
      }
    `)
  })

  test('any change of one document changes findings only in what it reaches', async () => {
    const files = [...parseFixture(SHOP).files.keys()].map((file) => file.slice(ROOT.length))
    const folder = repository(SHOP)
    const all = async (): Promise<Map<string, string>> => {
      const { findings } = await told(folder)
      const by = new Map<string, string>()
      for (const { file, ...finding } of findings) by.set(file, (by.get(file) ?? '') + JSON.stringify(finding))
      return by
    }
    const before = await all()
    const edit = fc.record({
      file: fc.constantFrom(...files),
      from: fc.constantFrom('film', 'paper', 'bay-1', 'bay-2', '2 mm', '0.1 mm', 'slot: 1', 'slot: 2', '30', 'gap', 'film-1'),
      to: fc.constantFrom('film', 'paper', 'bay-2', 'film-2', '3 mm', '9 mm', 'slot: 2', '1', 'none', 'x', 'paper-1'),
    })
    await fc.assert(
      fc.asyncProperty(edit, async ({ file, from, to }) => {
        const path = join(folder, file)
        const was = readFileSync(path, 'utf8')
        const is = was.replaceAll(from, to)
        fc.pre(is !== was)
        writeFileSync(path, is)
        try {
          const after = await all()
          const { out } = await check(folder, '--format', 'junit', '--changed-since', 'main')
          const seen = new Set([...out.matchAll(/<testsuite name="([^"]*)"/g)].map(([, name]) => name))
          for (const name of files) if (before.get(name) !== after.get(name)) expect([...seen]).toContain(name)
        } finally {
          writeFileSync(path, was)
        }
      }),
      { numRuns: runs(40) },
    )
  })
})

describe('--new-since', () => {
  const BAD = '#- profiles/paper-1.media.yaml\nprofile: paper-1\nstock: paper\nprinter: bay-1\ngap: 2.5 mm\nslot: 2\n'
  const codes = ({ findings }: Told): readonly string[] => findings.filter((f) => f.new).map((f) => f.code)

  test('what was there before is counted and not told, wherever it stands now', async () => {
    const folder = repository(SHOP + BAD)
    renameSync(join(folder, 'profiles/paper-1.media.yaml'), join(folder, 'paper-1.media.yaml'))
    const path = join(folder, 'paper-1.media.yaml')
    writeFileSync(path, `# moved\n${readFileSync(path, 'utf8').replace('gap: 2.5 mm\nslot: 2', 'slot: 2\ngap: 0.25 cm')}`)
    const { out, code } = await check(folder, '--new-since', 'main', '--fail-on', 'error')
    expect(code).toBe(0)
    expect(out).not.toContain('unknown-gap')
    expect(out).toMatch(/nothing new since main\. \d+ were there before, and are not told\.\n$/)
  })

  test('what a change brought counts, also in a profile that nobody touched', async () => {
    const folder = repository(SHOP)
    write(folder, '#- printers/bay-1.printer.yaml\nprinter: bay-1\ncarriage: {gaps: [1.5 mm, 3 mm]}\nslots: 30\n')
    const found = await told(folder, '--new-since', 'main')
    expect(found.findings.filter((f) => f.new).map((f) => `${f.file} ${f.code}`)).toEqual([
      'profiles/film-1.media.yaml unknown-gap',
      'profiles/paper-1.media.yaml unknown-gap',
    ])
    expect(found.code).toBe(1)
  })

  test('another number in the same place is another finding', async () => {
    const folder = repository(SHOP + BAD)
    write(folder, BAD.replace('2.5 mm', '2.6 mm'))
    expect(codes(await told(folder, '--new-since', 'main'))).toEqual(['unknown-gap'])
  })

  test('two of a kind where there was one: one is new', async () => {
    const folder = repository(`${SHOP}#- profiles/x.media.yaml\nprofile: x\nx-a: 1\nwrong: 1\n`)
    write(folder, '#- profiles/x.media.yaml\nprofile: x\nx-a: 1\nwrong: 1\nwrong: 1\n')
    expect(codes(await told(folder, '--new-since', 'main'))).toContain('duplicate-key')
    write(folder, '#- profiles/y.media.yaml\nprofile: x\nx-a: 1\nwrong: 1\n')
    const { findings } = await told(folder, '--new-since', 'main')
    expect(findings.filter((f) => f.code === 'unknown-key' && f.new)).not.toEqual([])
  })

  test('both are judged as on the same day: what came by itself is not new', async () => {
    const old = `#- profiles/old.media.yaml
profile: old
printer: bay-1
feed:
  correction: 0 %
  checks:
    - {date: 2025-06-30, commanded: 2000 mm, measured: 2000 mm, applied: 0 %}
`
    const folder = repository(SHOP + old)
    commit(folder)
    expect(codes(await told(folder, '--new-since', 'main~1', '--due'))).toEqual([])
  })

  test('a document that could not be read before is said to count as new', async () => {
    const folder = repository(`${SHOP}#- profiles/x.media.yaml\nprofile: x\nprinter: bay-1\ngap: "2 mm\n`)
    write(folder, '#- profiles/x.media.yaml\nprofile: x\nprinter: bay-1\ngap: 2.5 mm\n')
    const found = await told(folder, '--new-since', 'main')
    expect(codes(found)).toContain('unknown-gap')
    expect(found.remarks.join()).toContain('profiles/x.media.yaml could not be read whole at main')
  })

  test('with --changed-since, and in every format', async () => {
    const folder = repository(SHOP + BAD)
    write(folder, BAD.replace('slot: 2', 'slot: 99'))
    for (const format of ['text', 'json', 'sarif', 'junit', 'github', 'gitlab']) {
      const { out, code } = await check(folder, '--changed-since', 'main', '--new-since', 'main', '--format', format)
      expect([format, code, out.includes('slot-outside')]).toEqual([format, 1, true])
    }
    const { runs } = JSON.parse((await check(folder, '--new-since', 'main', '--format', 'sarif')).out)
    const states = new Set(runs[0].results.map((r: { baselineState: string }) => r.baselineState))
    expect([...states].sort()).toEqual(['new', 'unchanged'])
  })
})

describe('--staged', () => {
  const BAD = '#- profiles/paper-1.media.yaml\nprofile: paper-1\nstock: paper\nprinter: bay-1\ngap: 2.5 mm\nslot: 2\n'
  const GOOD = BAD.replace('2.5 mm', '3 mm')
  const found = async (folder: string, ...args: readonly string[]): Promise<readonly string[]> =>
    (await told(folder, '--staged', ...args)).findings.map((f) => f.code).filter((code) => code === 'unknown-gap')

  test('what is staged is judged, not what is on disk', async () => {
    const folder = repository(SHOP)
    write(folder, BAD)
    expect(await found(folder)).toEqual([])
    git(folder, 'add', '-A')
    write(folder, GOOD)
    expect(await found(folder)).toEqual(['unknown-gap'])
    rmSync(join(folder, 'profiles/paper-1.media.yaml'))
    expect(await found(folder, '--changed-since', 'HEAD')).toEqual(['unknown-gap'])
    expect(await found(join(folder, 'profiles'))).toEqual(['unknown-gap'])
  })

  test('what is not staged has not changed', async () => {
    const folder = repository(SHOP)
    write(folder, BAD)
    expect(await reached(folder, '--staged')).toEqual([])
  })

  test('before the first commit everything is new', async () => {
    const folder = newFolder()
    git(folder, 'init', '-q', '-b', 'main')
    write(folder, SHOP + BAD)
    git(folder, 'add', '-A')
    expect(await found(folder, '--changed-since', 'HEAD')).toEqual(['unknown-gap'])
  })

  test('a merge that is not settled is not judged, and says so', async () => {
    const folder = repository(SHOP)
    git(folder, 'checkout', '-q', '-b', 'work')
    commit(folder, BAD)
    git(folder, 'checkout', '-q', 'main')
    commit(folder, GOOD)
    expect(() => git(folder, 'merge', '-q', 'work')).toThrow()
    const { err, code } = await check(folder, '--staged')
    expect(code).toBe(2)
    expect(err).toContain('profiles/paper-1.media.yaml cannot be read: its merge is not settled, so that nothing of it is staged')
  })

  test('in a hook, where git names its repository and the index of the commit', async () => {
    const folder = newFolder()
    git(folder, 'init', '-q', '-b', 'main')
    commit(folder, SHOP.replaceAll('#- ', '#- shop/'))
    write(folder, BAD.replace('#- ', '#- shop/'))
    const other = join(folder, 'other-index')
    execFileSync('git', ['add', '-A'], { cwd: folder, env: { ...ENV, GIT_INDEX_FILE: other } })
    const before = { ...process.env }
    Object.assign(process.env, { GIT_DIR: '.git', GIT_INDEX_FILE: other, GIT_PREFIX: '' })
    try {
      expect(await found(join(folder, 'shop'), '--changed-since', 'HEAD')).toEqual(['unknown-gap'])
    } finally {
      for (const name of ['GIT_DIR', 'GIT_INDEX_FILE', 'GIT_PREFIX']) delete process.env[name]
      Object.assign(process.env, before)
    }
  })

  test('in a shallow clone too', async () => {
    const from = repository(SHOP + BAD)
    const folder = newFolder()
    git(folder, 'clone', '-q', '--depth', '1', `file://${from}`, '.')
    expect(await found(folder)).toEqual(['unknown-gap'])
  })
})

describe('what cannot be known is said, with 2', () => {
  const cases: readonly (readonly [string, () => string, string, RegExp])[] = [
    [
      'outside git',
      () => {
        const folder = newFolder()
        write(folder, SHOP)
        return folder
      },
      'main',
      /is not in a working tree of git, so that there is no revision of it to look at\.$/,
    ],
    [
      'no such revision',
      () => repository(SHOP),
      'origin/main',
      /There is no revision 'origin\/main' in the git clone at .* fetch it first\.$/,
    ],
    ['a day that is none', () => repository(SHOP), 'main@{9}x', /There is no revision 'main@\{9\}x'/],
    ['an option for a revision', () => repository(SHOP), '--output=x', /There is no revision '--output=x'/],
    [
      'a shallow clone',
      () => {
        const from = repository(SHOP)
        commit(from)
        const folder = newFolder()
        git(folder, 'clone', '-q', '--depth', '1', `file://${from}`, '.')
        return folder
      },
      'main',
      /is shallow: .*'git fetch --unshallow', or in CI a fetch depth of 0\.$/,
    ],
    [
      'a history that has nothing in common',
      () => {
        const folder = repository(SHOP)
        git(folder, 'checkout', '-q', '--orphan', 'other')
        commit(folder)
        return folder
      },
      'main',
      /'main' and what is checked out have no commit in common/,
    ],
    ['a file as a revision', () => repository(SHOP), 'main:rollbook.yaml', /There is no revision 'main:rollbook\.yaml'/],
  ]
  test.each(cases)('%s', async (_, make, revision, sentence) => {
    const folder = make()
    for (const option of ['changed-since', 'new-since']) {
      const { out, err, code } = await check(folder, `--${option}=${revision}`)
      expect([out, code]).toEqual(['', 2])
      expect(err.trimEnd()).toMatch(sentence)
      expect(err).not.toMatch(/went wrong inside|fatal:/)
    }
  })

  test('a submodule', async () => {
    const inner = repository('#- a.media.yaml\nprofile: a\n')
    const folder = repository(SHOP)
    git(folder, '-c', 'protocol.file.allow=always', 'submodule', 'add', '-q', inner, 'inner')
    const { err, code } = await check(folder, '--changed-since', 'main')
    expect(code).toBe(2)
    expect(err).toMatch(/^inner: what changed in a git submodule cannot be known from here\./)
  })

  test('nothing that a repository has set is started, and the index stays as it is', async () => {
    const folder = repository(SHOP)
    git(folder, 'update-index', '-q', '--refresh') // A copy's files are younger than its index says, which git puts right.
    const trap = join(folder, 'started')
    for (const setting of ['core.fsmonitor', 'diff.external', 'core.pager', 'diff.x.textconv'])
      git(folder, 'config', setting, `touch '${trap}'; false`)
    write(folder, '#- .gitattributes\n*.yaml diff=x\n')
    write(folder, '#- stocks/film.stock.yaml\nstock: film\nthickness: 0.3 mm\n')
    const index = readFileSync(join(folder, '.git/index'))
    expect((await told(folder, '--changed-since', 'main', '--new-since', 'main')).notChecked).toEqual([])
    expect(() => readFileSync(trap)).toThrow()
    expect(readFileSync(join(folder, '.git/index')).equals(index)).toBe(true)
  })
})

test('a colour file is read as it was at the revision, and as it is staged', async () => {
  const broken = '#- aim.txt\nCGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID XYZ_X\nEND_DATA_FORMAT\nBEGIN_DATA\n1 50\nEND_DATA\n'
  const good = broken.replace('XYZ_X', 'LAB_L LAB_A LAB_B').replace('1 50', '1 50 0 0')
  const folder = repository(`#- rollbook.yaml\nshop: s\n#- e.media.yaml\nprofile: e\ncolour: {reference: aim.txt}\n${broken}`)
  const codes = async (...args: readonly string[]): Promise<readonly string[]> =>
    (await told(folder, ...args)).findings.filter((f) => /cgats|colour/.test(f.code) && f.new !== false).map((f) => f.code)
  // It was broken before: nobody's change here.
  expect([await codes(), await codes('--new-since', 'main')]).toEqual([['cgats-broken'], []])
  commit(folder, good)
  git(folder, 'branch', 'mended')
  write(folder, broken)
  expect(await codes('--new-since', 'mended')).toEqual(['cgats-broken'])
  expect([await codes('--staged'), await codes()]).toEqual([[], ['cgats-broken']])
})
