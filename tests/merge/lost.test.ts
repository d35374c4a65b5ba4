// Measurements that merges lost: by the versions of one profile, and by `rollbook git lost` on real histories, where each loss that was sown is named,
// nothing else is, and every way in which that cannot be known says so.
import { execFileSync, execSync } from 'node:child_process'
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { CommitGraph } from '../../server/src/host/git-graph.ts'
import { isPlain, readVersion } from '../../server/src/merge/judge-merge.ts'
import { lossesIn } from '../../server/src/merge/lost.ts'
import type { Measurement } from '../../server/src/merge/measurements.ts'
import { ENV, git, newFolder, rollbook } from '../cli/repository.ts'
import { Chance } from '../support/chance.ts'
import { seed } from '../support/seed.ts'
import { importHistory, makeHistory } from './history.ts'

const STATES = `conditions:
  winter: {from: said, suction: 2}
  summer: {from: said, suction: 3}
`
const line = (mm: number | string, more = ''): string =>
  `    - {date: 2026-03-20, commanded: 1000 mm, measured: ${mm} mm, applied: 0 %, with: rule-1m${more}}\n`
const profile = (checks: string, states = STATES, more = ''): string =>
  `profile: p\n${more}feed:\n  checks:\n${checks === '' ? '    []\n' : checks}${states}`

function measured(text: string): readonly Measurement[] {
  const read = readVersion(text)
  if (!read.ok) throw new Error(read.why)
  return read.all
}

const losses = (base: string, ours: string, theirs: string, merged: string): readonly string[] =>
  lossesIn({ bases: [measured(base)], parents: [measured(ours), measured(theirs)], merged: measured(merged) }).map(
    ({ what, measurement, parent }) => `${what} ${/measured (\S+)/.exec(measurement.words)?.[1] ?? measurement.words} ${parent}`,
  )

describe('of the versions of a profile', () => {
  const [A, B, C] = [line('998.1'), line('998.2'), line('998.3')]
  test.each([
    ['both sides added', A, A + B, A + C, A + B + C, []],
    ['one of them is dropped', A, A + B, A + C, A + C, ['dropped 998.2 0']],
    ['what was there is dropped', A, A + B, A + C, B + C, ['dropped 998.1 0']],
    ['one side took it out', A, B, A + C, B + C, []],
    ['taken out, and there again', A, B, A + C, A + B + C, ['returned 998.1 0']],
    ['twice, word for word', A, A + B, A + C, A + B + B + C, ['doubled 998.2 0']],
    [
      'twice, a remark apart',
      A,
      line('998.1', ', note: warm'),
      A + C,
      A + line('998.1', ', note: warm') + C,
      ['doubled 998.1 0'],
    ],
    ['picked to both sides: once', A, A + B, A + B + C, A + B + C, []],
    ['picked to both sides: twice', A, A + B, A + B + C, A + B + B + C, ['doubled 998.2 0']],
    ['two prints that read alike on one side', A, A + B + B, A + C, A + B + B + C, []],
    [
      'one print of two sides, told apart by the lot',
      '',
      line('998.2', ', lot: A'),
      line('998.2', ', lot: B'),
      line('998.2', ', lot: A') + line('998.2', ', lot: B'),
      [],
    ],
    [
      'of which one is dropped',
      '',
      line('998.2', ', lot: A'),
      line('998.2', ', lot: B'),
      line('998.2', ', lot: A'),
      ['dropped 998.2 1'],
    ],
    [
      'each side says more of one check',
      A,
      line('998.1', ', web: 24 °C'),
      line('998.1', ', lot: B'),
      line('998.1', ', web: 24 °C, lot: B'),
      [],
    ],
    ['put right on one side', A, B, A + C, B + C, []],
    ['put right while merging', A, A + B, A + C, A + line('998.9') + C, ['dropped 998.2 0']],
    [
      'another unit, order and spacing',
      A,
      A + B,
      A + C,
      `${line('998.3')}    - { commanded: 1 m, date: 2026-03-20, with: rule-1m, measured: 99.82 cm, applied: 0 % }\n${A}`,
      [],
    ],
    [
      'under another state',
      A,
      A + line('998.2', ', under: winter'),
      A + C,
      A + line('998.2', ', under: summer') + C,
      ['state 998.2 0'],
    ],
    ['under none', A, A + line('998.2', ', under: winter'), A + C, A + B + C, ['state 998.2 0']],
    ['given its state on one side', A, line('998.1', ', under: winter'), A + C, line('998.1', ', under: winter') + C, []],
    ['which is forgotten', A, line('998.1', ', under: winter'), A + C, A + C, ['state 998.1 0']],
    [
      'put right on one side and given its state on the other',
      A,
      B,
      line('998.1', ', under: winter'),
      line('998.2', ', under: winter'),
      [],
    ],
    ['added while merging', A, A + B, A + C, A + B + C + line('998.4'), []],
  ])('%s', (_, base, ours, theirs, merged, expected) => {
    expect(losses(profile(base), profile(ours), profile(theirs), profile(merged))).toEqual(expected)
  })

  test('a state that says something else under its name', () => {
    const base = profile(A)
    const ours = profile(A + line('998.2', ', under: winter'))
    const other = STATES.replace('suction: 2', 'suction: 5')
    const theirs = profile(A + C, other)
    expect(losses(base, ours, theirs, profile(A + line('998.2', ', under: winter') + C, other))).toEqual(['state 998.2 0'])
    const renamed = STATES.replace('winter:', 'cold:')
    expect(losses(base, ours, profile(A + C, renamed), profile(A + line('998.2', ', under: cold') + C, renamed))).toEqual([])
  })

  test('of a section that both measured anew the newer stays', () => {
    const at = (day: string): string => profile('', '', `alignment: {date: 2026-03-${day}, one-way: {cyan: 1}}\n`)
    expect(losses(at('01'), at('10'), at('12'), at('12'))).toEqual([])
    expect(losses(at('01'), at('10'), at('12'), at('10'))).toEqual(['dropped alignment of 2026-03-12 1'])
    expect(losses(at('01'), at('10'), at('01'), at('01'))).toHaveLength(1)
  })

  test('read-backs, readings of heat and faults alike', () => {
    const more = (...lines: readonly string[]): string => profile('', '', lines.join(''))
    const keyed = 'keyed:\n  - {date: 2026-03-20, gap: 2 mm}\n'
    const seen = 'observed:\n  - {date: 2026-03-20, fault: head-strike}\n'
    const read = 'heat:\n  readings:\n    - {date: 2026-03-20, zone: platen, set: 45 °C, web: 41 °C}\n'
    expect(losses(more(), more(keyed, read), more(seen), more(keyed, seen, read))).toEqual([])
    expect(losses(more(), more(keyed, read), more(seen), more())).toHaveLength(3)
  })

  test('nobody has to look where one side alone changed', () => {
    expect(isPlain({ bases: ['b'], parents: ['b', 't'], merged: 't' })).toBe(true)
    expect(isPlain({ bases: ['b'], parents: ['o', 'o'], merged: 'o' })).toBe(true)
    expect(isPlain({ bases: ['b'], parents: ['o', undefined], merged: 'o' })).toBe(false)
    expect(isPlain({ bases: ['b'], parents: ['b', 't'], merged: 'b' })).toBe(false)
    expect(isPlain({ bases: [], parents: [undefined, 't'], merged: 't' })).toBe(true)
    expect(isPlain({ bases: ['b', 'c'], parents: ['c', 't'], merged: 't' })).toBe(true)
  })
})

test('where lines of commits parted is what git says, in random graphs', () => {
  const folder = newFolder()
  const chance = new Chance(seed)
  const parents: number[][] = []
  for (let i = 1; i <= 60; i++) {
    const count = i === 1 || chance.once(15) ? 0 : 1 + (chance.once(2) ? 1 : 0)
    parents.push([...new Set(Array.from({ length: count }, () => Math.max(1, i - 1 - chance.below(6))))].filter((p) => p < i))
  }
  const commits = parents.map(
    (own, i) =>
      `commit refs/heads/c${i + 1}\nmark :${i + 1}\ncommitter K <k@ternquay.example> ${1_790_000_000 + i * 60} +0000\ndata 0\n${own
        .map((p, n) => `${n === 0 ? 'from' : 'merge'} :${p}\n`)
        .join('')}\n`,
  )
  importHistory(folder, `${commits.join('')}done\n`, ENV)
  const graph = new CommitGraph(git(folder, 'rev-list', '--topo-order', '--parents', '--all'))
  const all = git(folder, 'for-each-ref', '--format=%(objectname)').trim().split('\n')
  for (let i = 0; i < 16; i++) {
    const two = [chance.one(all), chance.one(all)]
    let expected: string[] = []
    try {
      expected = git(folder, 'merge-base', '--all', ...two)
        .trim()
        .split('\n')
    } catch {
      // Nothing in common: git ends with 1.
    }
    expect([...graph.basesOf(two)].sort()).toEqual(expected.sort())
  }
})

const lost = (folder: string, ...args: readonly string[]) => rollbook(folder, 'git', 'lost', ...args)

test('each loss that was sown is named, and no other; the command shows the line', async () => {
  const folder = newFolder()
  const { stream, seeded } = makeHistory(new Chance(seed), 40, 2)
  importHistory(folder, stream, ENV)
  const { out, code } = await lost(folder, '--json')
  const told = JSON.parse(out)
  expect([told.merges, code]).toEqual([40, 1])
  const readOf = (words: string): string => /measured ([^,]*)/.exec(words)![1]!
  const found = told.lost.map((one: Record<string, string>) => `${one.file} ${one.what} ${readOf(one.measurement!)}`)
  expect(found.sort()).toEqual(seeded.map(({ file, what, measured: mm }) => `${file} ${what} ${mm}`).sort())
  for (const { command, measurement } of told.lost.slice(0, 3))
    expect(execSync(command, { cwd: folder, env: ENV, encoding: 'utf8' })).toContain(`measured: ${readOf(measurement)}`)
})

describe('in a history', () => {
  const FILE = 'profiles/größe p.media.yaml'
  const A = line('998.1')
  type Files = Readonly<Record<string, string | Buffer>>
  const NIGHT = profile(A + line('998.2', ', under: winter'))
  const DAY = profile(A + line('998.3'))
  /** A day and a night that both recorded, and what somebody merged. */
  function merging(merged: Files, night: Files = { [FILE]: NIGHT }): string {
    const folder = newFolder()
    const commit = (mark: number, branch: string, message: string, from: string, files: Files): Buffer =>
      Buffer.concat([
        Buffer.from(
          `commit refs/heads/${branch}\nmark :${mark}\ncommitter K <k@ternquay.example> ${1_793_000_000 + mark} +0000\ndata ${message.length}\n${message}\n${from}deleteall\n`,
        ),
        ...Object.entries(files).flatMap(([name, text]) => [
          Buffer.from(`M 100644 inline ${name}\ndata ${Buffer.byteLength(text)}\n`),
          Buffer.from(text),
          Buffer.from('\n'),
        ]),
      ])
    const stream = [
      commit(1, 'main', 'the shop', '', { [FILE]: profile(A) }),
      commit(2, 'night', 'by night', 'from :1\n', night),
      commit(3, 'main', 'by day', 'from :1\n', { [FILE]: DAY }),
      commit(4, 'main', "Merge branch 'night'", 'from :3\nmerge :2\n', merged),
    ]
    importHistory(folder, Buffer.concat([...stream, Buffer.from('done\n')]), ENV)
    return folder
  }
  const short = (text: string): string =>
    text.replace(/\b[\da-f]{10}\b/g, '<commit>').replace(/of 20\d\d-\d\d-\d\d: M/, 'of <day>: M')

  test('ours was taken for both; brought back, it is told of no more', async () => {
    const folder = merging({ [FILE]: DAY })
    const told = await lost(folder)
    expect(short(told.out)).toMatchInlineSnapshot(`
      "Merge <commit> of <day>: Merge branch 'night'
        profiles/größe p.media.yaml
          dropped: feed.checks of 2026-03-20: commanded 1000 mm, measured 998.2 mm, with rule-1m, under winter. <commit> had it.
          bring it back: git show '<commit>:profiles/größe p.media.yaml' | sed -n '5p'

      1 merge of HEAD looked at: 1 measurement lost, doubled or put under another state.
      "
    `)
    expect([told.code, told.err]).toEqual([1, ''])
    expect((await lost(folder, 'main^..main')).code).toBe(1)
    expect((await lost(folder, 'main~1')).out).toBe('0 merges of main~1 looked at: nothing is lost or doubled.\n')
    const command = /bring it back: (.*)/.exec(told.out)![1]!
    const back = execSync(command, { cwd: folder, env: ENV, encoding: 'utf8' })
    git(folder, 'reset', '-q', '--hard')
    writeFileSync(join(folder, FILE), profile(A + line('998.3') + back))
    git(folder, 'commit', '-q', '-a', '-m', 'back')
    const again = await lost(folder)
    expect([again.code, again.out]).toEqual([
      0,
      '1 merge of HEAD looked at: nothing is lost or doubled. 1 measurement more was lost or doubled once and is in order now.\n',
    ])
  })

  test('renamed on one side and edited on the other: it went along', async () => {
    const other = 'profiles/p.media.yaml'
    const whole = profile(A + line('998.2', ', under: winter') + line('998.3'))
    expect((await lost(merging({ [other]: whole }, { [other]: NIGHT }))).out).toContain('nothing is lost')
    expect((await lost(merging({ [other]: NIGHT }, { [other]: NIGHT }))).out).toMatch(/dropped: .* measured 998\.3 mm/)
  })

  test('deleted against changed, and deleted for good', async () => {
    const told = await lost(merging({}, {}))
    expect([told.code, told.out.match(/dropped/g)?.length]).toEqual([1, 1])
  })

  test.each([
    ['lines of a merge conflict stand in it', `${DAY}<<<<<<< HEAD\n=======\n>>>>>>> night\n`],
    ['it is not UTF-8 text', Buffer.from([0x70, 0xff, 0xfe, 0x0a])],
    ['its text is broken', 'profile: [\n'],
  ])('what cannot be read ends with 2: %s', async (why, text) => {
    const told = await lost(merging({ [FILE]: text }))
    expect([told.code, told.err]).toEqual([2, expect.stringContaining(why)])
  })

  test('outside git, in a bare repository, a shallow clone, of no such range: a sentence, and 2', async () => {
    const folder = merging({ [FILE]: DAY })
    const outside = await lost(newFolder())
    const [bare, shallow] = [newFolder(), newFolder()]
    execFileSync('git', ['clone', '-q', '--bare', folder, bare], { env: ENV })
    execFileSync('git', ['clone', '-q', '--depth', '1', `file://${folder}`, shallow], { env: ENV })
    for (const [told, words] of [
      [outside, /is not in a working tree of git/],
      [await lost(bare), /is not in a working tree of git/],
      [await lost(shallow), /is shallow/],
      [await lost(folder, 'v1..main'), /There is no range of revisions 'v1\.\.main'/],
      [await lost(folder, FILE), /There is no range of revisions/],
      [await lost(folder, 'main', 'night'), /takes one range/],
      [await rollbook(folder, 'git', 'lots'), /Do you mean 'lost'\?/],
    ] as const)
      expect([told.code, told.out, told.err]).toEqual([2, '', expect.stringMatching(words)])
  })
})
