// The merge driver in real repositories: set up and taken out again, called by git itself, and dying in every way: then git's own markers stand in the file,
// or git's own clean merge, and never plain ours.
import { execFileSync } from 'node:child_process'
import { chmodSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, describe, expect, test } from 'vitest'
import { blockIn, withBlock } from '../../server/src/merge/own-block.ts'
import { ENV, madeOnce, newFolder, rollbook } from '../cli/repository.ts'
import { oneFile } from '../support/one-file.ts'
import { importHistory } from './history.ts'

const FILE = 'profiles/größe p.media.yaml'
const check = (day: number, mm: number): string =>
  `    - { date: 2026-03-${day}, commanded: 1000 mm, measured: ${mm} mm, applied: 0 % }\n`
const profile = (gap: string, ...lines: readonly string[]): string =>
  `profile: p\ngap: ${gap}\nfeed:\n  checks:\n${lines.join('')}`
const [A, B, C] = [check(10, 998), check(12, 998.2), check(11, 998.4)]
const [BASE, OURS, THEIRS] = [profile('2 mm', A), profile('2 mm', A, B), profile('3 mm', A, C)]

/** A day and a night that both recorded, `main` checked out. */
function repository(ours = OURS, theirs = THEIRS, base = BASE): string {
  const commit = (mark: number, branch: string, from: string, text: string): string =>
    `commit refs/heads/${branch}\nmark :${mark}\ncommitter K <k@ternquay.example> ${1_793_000_000 + mark} +0000\ndata 4\nwork\n${from}M 100644 inline ${FILE}\ndata ${Buffer.byteLength(text)}\n${text}\n`
  const stream = `${commit(1, 'base', '', base)}${commit(2, 'night', 'from :1\n', theirs)}${commit(3, 'main', 'from :1\n', ours)}done\n`
  return madeOnce(stream, (folder) => {
    importHistory(folder, stream, ENV)
    execFileSync('git', ['reset', '-q', '--hard'], { cwd: folder, env: ENV })
  })
}

/** A folder with a command `rollbook`, as a shell script. */
function commandOf(script: string): string {
  const folder = newFolder()
  writeFileSync(join(folder, 'rollbook'), `#!/bin/sh\n${script}\n`)
  chmodSync(join(folder, 'rollbook'), 0o755)
  return folder
}

let real = ''
beforeAll(() => {
  real = `exec '${process.execPath}' '${oneFile('main-cli', newFolder())}' "$@"`
}, 60_000)

/** `git merge night` with a command on the PATH: its exit code, what it says, the file, and what is not settled. */
function merge(folder: string, path: string, ...args: readonly string[]) {
  const env = { ...ENV, PATH: `${path}:/usr/bin:/bin` }
  let [code, said] = [0, '']
  try {
    said = execFileSync('sh', ['-c', `git ${args.length > 0 ? args.join(' ') : 'merge -q --no-edit night'} 2>&1`], {
      cwd: folder,
      env,
      encoding: 'utf8',
    })
  } catch (error) {
    const failed = error as { status: number; stdout: string }
    code = failed.status
    said = failed.stdout
  }
  const both = "git ls-files -u; echo '--'; git status --porcelain --untracked-files=all"
  const looked = execFileSync('sh', ['-c', both], { cwd: folder, env: ENV, encoding: 'utf8' })
  const [open, left = ''] = looked.split(/^--\n/m)
  return {
    code,
    said,
    text: readFileSync(join(folder, FILE), 'utf8'),
    open: open !== '',
    litter: /^\?\? (?!\.gitattributes)/m.test(left),
  }
}

describe('set up and taken out', () => {
  test.each<[string, string | undefined, string | undefined]>([
    ['no .gitattributes', undefined, undefined],
    ['a last line without its break', '*.icc binary', '[user]\n\tname = Kim'],
    ['carriage returns', '*.icc binary\r\n', undefined],
  ])('every byte is as it was: %s', async (_, attributes, more) => {
    const folder = newFolder()
    execFileSync('git', ['init', '-q'], { cwd: folder, env: ENV })
    const [at, config] = [join(folder, '.gitattributes'), join(folder, '.git/config')]
    if (attributes !== undefined) writeFileSync(at, attributes)
    if (more !== undefined) writeFileSync(config, readFileSync(config, 'utf8') + more)
    const before = readFileSync(config)
    mkdirSync(join(folder, 'profiles'))
    const run = async (word: string) => (await rollbook(join(folder, 'profiles'), 'git', word)).code
    expect(await run('status')).toBe(1)
    expect(await run('setup')).toBe(0)
    const [once, configured] = [readFileSync(at), readFileSync(config)]
    expect(await run('status')).toBe(0)
    expect((await rollbook(folder, 'git', 'setup')).out).toBe('It is set up already: nothing to do.\n')
    expect([readFileSync(at), readFileSync(config)]).toEqual([once, configured])
    expect(execFileSync('git', ['check-attr', 'merge', 'x/a.media.yaml'], { cwd: folder, env: ENV, encoding: 'utf8' })).toMatch(
      /rollbook$/m,
    )
    // What others write meanwhile stays.
    writeFileSync(at, `${once}*.pdf binary\n`)
    expect(await run('remove')).toBe(0)
    expect(readFileSync(at, 'utf8')).toBe(
      attributes === '*.icc binary' ? '*.icc binary*.pdf binary\n' : `${attributes ?? ''}*.pdf binary\n`,
    )
    writeFileSync(at, once)
    writeFileSync(config, configured)
    expect(await run('remove')).toBe(0)
    expect(existsSync(at) ? readFileSync(at, 'utf8') : undefined).toBe(attributes)
    expect(readFileSync(config)).toEqual(before)
    expect(await run('remove')).toBe(0)
  })

  test('what it did not write is not touched: a sentence, 2, nothing written', async () => {
    const folder = newFolder()
    execFileSync('git', ['init', '-q'], { cwd: folder, env: ENV })
    const [at, config] = [join(folder, '.gitattributes'), join(folder, '.git/config')]
    const plain = readFileSync(config, 'utf8')
    const refused = async (word: string, words: RegExp): Promise<void> => {
      const before = [existsSync(at) && readFileSync(at), readFileSync(config)]
      const told = await rollbook(folder, 'git', word)
      expect([told.code, told.out, told.err]).toEqual([2, '', expect.stringMatching(words)])
      expect([existsSync(at) && readFileSync(at), readFileSync(config)]).toEqual(before)
    }
    writeFileSync(config, `${plain}[merge "rollbook"]\n\tdriver = mine\n`)
    await refused('setup', /knows a driver 'rollbook' already/)
    writeFileSync(config, plain)
    writeFileSync(at, '*.yaml merge=union\n')
    await refused('setup', /merge of any\.media\.yaml is union/)
    writeFileSync(at, '')
    await rollbook(folder, 'git', 'setup')
    writeFileSync(at, readFileSync(at, 'utf8').replace('*.stock.yaml diff=rollbook', '*.stock.yaml'))
    for (const word of ['setup', 'remove', 'status']) await refused(word, /Somebody changed the lines of Rollbook/)
    await refused('stauts', /Do you mean 'status'\?/)
  })

  test('outside git and in a bare repository there is nothing to set up', async () => {
    const bare = newFolder()
    execFileSync('git', ['init', '-q', '--bare'], { cwd: bare, env: ENV })
    for (const folder of [newFolder(), bare])
      for (const word of ['setup', 'remove', 'status']) {
        const told = await rollbook(folder, 'git', word)
        expect([told.code, told.err]).toEqual([2, expect.stringContaining('is not in a working tree of git')])
      }
  })
})

describe('called by git', () => {
  const ready = async (...texts: readonly string[]): Promise<string> => {
    const folder = repository(...texts)
    expect((await rollbook(folder, 'git', 'setup')).code).toBe(0)
    return folder
  }

  test('both recorded, and one changed a setting: merged; rebase calls it too', async () => {
    const folder = await ready()
    const whole = profile('3 mm', A, C, B)
    expect(merge(folder, commandOf(real))).toEqual({
      code: 0,
      said: `Auto-merging ${FILE}\n`,
      text: whole,
      open: false,
      litter: false,
    })
    execFileSync('git', ['reset', '-q', '--hard', 'main~1'], { cwd: folder, env: ENV })
    expect(merge(folder, commandOf(real), 'rebase', '-q', 'night')).toMatchObject({ code: 0, text: whole, open: false })
    // A comparison is by what a document says; without the command, by its lines.
    expect(merge(folder, commandOf(real), 'diff', 'base', 'night').said).toMatch(
      /^\+feed\.checks: date 2026-03-11, commanded 1000 mm/m,
    )
    expect(merge(folder, newFolder(), 'diff', 'base', 'night').said).toContain(`+${C}`)
  })

  test('a commit that is picked, work that is put aside and taken up again, and a working tree beside the first: merged alike', async () => {
    const folder = await ready()
    const run = (...args: readonly string[]): void => void execFileSync('git', args, { cwd: folder, env: ENV })
    // The driver's attributes are in a new working tree where they are committed.
    run('add', '-A')
    run('commit', '-q', '-m', 'attributes')
    const done = { code: 0, text: profile('3 mm', A, C, B), open: false, litter: false }
    expect(merge(folder, commandOf(real), 'cherry-pick', 'night')).toMatchObject(done)
    run('reset', '-q', '--hard', 'main~1')
    const beside = join(newFolder(), 'beside')
    run('worktree', 'add', '-q', beside, '-b', 'late')
    expect(merge(beside, commandOf(real))).toMatchObject(done)
    const more = check(13, 998.1)
    writeFileSync(join(folder, FILE), profile('2 mm', A, B, more))
    run('stash', '-q')
    run('merge', '-q', '--ff-only', 'late')
    expect(merge(folder, commandOf(real), 'stash', 'pop', '-q')).toMatchObject({ ...done, text: profile('3 mm', A, C, B, more) })
  })

  test('both changed one setting: git’s own markers, and why', async () => {
    const told = merge(await ready(profile('4 mm', A)), commandOf(real))
    expect(told).toMatchObject({ code: 1, open: true, litter: false })
    expect(told.text).toMatch(/^<<<<<<< ours\ngap: 4 mm\n[\s\S]*=======\ngap: 3 mm\n[\s\S]*>>>>>>> theirs$/m)
    expect(told.said).toContain('gap: both sides changed it, each in its own way')
  })

  test('git merges the lines, and the answer is wrong: the file waits for a person', async () => {
    // The same key at two ends of the file is no conflict of lines.
    const rest = 'a: 1\nb: 2\nc: 3\nd: 4\n'.replace(/^(.)/gm, 'x-$1')
    const told = merge(
      await ready(`profile: p\nslot: 1\n${rest}`, `profile: p\n${rest}slot: 2\n`, `profile: p\n${rest}`),
      commandOf(real),
    )
    expect(told).toMatchObject({ code: 1, open: true })
    expect(told.said).toContain("look at the file, then 'git add' it")
  })

  test.each([
    ['is missing', undefined],
    ['dies', 'exit 1'],
    ['is killed', 'kill -9 $$'],
    ['crashes', 'kill -SEGV $$'],
    ['is another that does nothing', 'exit 0'],
    ['says so and wrote nothing', 'echo merged'],
    ['is killed while it writes', 'echo "profile: p" > "$6"; kill -9 $$'],
    ['has no room to write', 'ulimit -f 0; REAL'],
  ])('the command %s: git’s own markers', async (_, script) => {
    const folder = await ready()
    const told = merge(folder, script === undefined ? newFolder() : commandOf(script.replace('REAL', real)))
    expect(told).toMatchObject({ code: 1, open: true, litter: false })
    expect(told.text).toMatch(/<<<<<<< ours\n[\s\S]*998\.2[\s\S]*=======\n[\s\S]*998\.4[\s\S]*>>>>>>> theirs/)
    expect(told.text).toContain('gap: 3 mm')
  })

  test('where the text merge has no conflict, a command that died leaves that merge', async () => {
    const folder = await ready(profile('2 mm', A, B), profile('3 mm', A))
    expect(merge(folder, commandOf('kill -9 $$'))).toMatchObject({ code: 0, text: profile('3 mm', A, B), open: false })
  })
})

test('a block goes in and out of any text', () => {
  for (const text of [undefined, '', '\n', 'a', 'a\n', 'a\r\n', '\n\n', '# rollbook\n']) {
    const held = blockIn(withBlock(text, 'x\ny\n'))
    expect(held).toEqual({ is: 'own', lines: 'x\ny\n', without: text })
    expect(blockIn(text)).toEqual({ is: 'absent' })
  }
  expect(blockIn(withBlock('a\n', 'x\n').replace('x', 'y'))).toEqual({ is: 'changed' })
  expect(blockIn(withBlock('a\n', 'x\n').replace('# rollbook: end', ''))).toEqual({ is: 'changed' })
})

describe('a document to compare', () => {
  const text = async (before: string): Promise<string> => {
    const folder = newFolder()
    writeFileSync(join(folder, 'a.media.yaml'), before)
    const { out, code } = await rollbook(folder, 'git', 'text', 'a.media.yaml')
    expect(code).toBe(0)
    return out
  }
  test('one line for each setting, measurement and state, whatever the layout', async () => {
    const flow = `profile: p\n# new\nheat: { before: 40 °C, platen: 42 °C } # warm\nfeed:\n  checks:\n${A}conditions:\n  s1: { from: said, gap: 2 mm }\n`
    const block =
      'profile: p\n# new\nheat: # warm\n  before: 40 °C\n  platen: 42 °C\nfeed:\n  checks:\n    - date: 2026-03-10\n      commanded: 1000 mm\n      measured: 998 mm\n      applied: 0 %\nconditions:\n  s1:\n    from: said\n    gap: 2 mm\n'
    expect(await text(flow)).toBe(await text(block))
    expect(await text(flow)).toMatchInlineSnapshot(`
      "profile: p
      heat.before: 40 °C
      heat.platen: 42 °C
      feed.checks: date 2026-03-10, commanded 1000 mm, measured 998 mm, applied 0 %
      conditions.s1: from said, gap 2 mm
      # new
      # warm
      "
    `)
  })
  test('what cannot be read is compared as it is', async () => {
    for (const broken of ['profile: [\n', '<<<<<<< HEAD\na: 1\n', 'just words\n', '']) expect(await text(broken)).toBe(broken)
  })
})
