// What README.md says can be done: the least of each document makes a shop that checks without an error or a warning, and the workflows work.
import { cpSync, readdirSync, readFileSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { parse as parseYaml } from 'yaml'
import { CI, CI_FILE, CI_TEXT, PACKAGE } from '../../server/src/cli/ci-files.ts'
import { kindOfFile } from '../../server/src/schema/schema.ts'
import { commit, git, newFolder, repository, rollbook, SHOP, write } from './repository.ts'
import { ran } from './shell.ts'

const ROOT = join(import.meta.dirname, '..', '..')
const README = readFileSync(join(ROOT, 'README.md'), 'utf8')

/** The documents shown, each under the name that its first line gives. */
const LEAST = [...README.matchAll(/```yaml\n# ([\w.-]+\.yaml)[^\n]*\n([^`]*)```/g)].map(([, name, text]) => `#- ${name}\n${text}`)

test('the least of each document makes a shop', async () => {
  expect(LEAST).toHaveLength(4)
  const { out, code } = await ran('check', LEAST.join(''))
  expect(out).not.toMatch(/\b(?:error|warning) [a-z]/)
  expect(out).toContain('4 documents checked: 0 errors, 0 warnings')
  expect(code).toBe(0)
})

test('a profile can be started from it', async () => {
  const { out } = await ran('new profile --stock banner-510 --printer bay-1 --id another --out -', LEAST.join(''))
  expect(out).toMatch(/^profile: another$/m)
})

describe('for four people', () => {
  const [, section = ''] = /^## For four people\n([\s\S]*?)^## /m.exec(README) ?? []
  const commands = [...section.matchAll(/^rollbook ([^#>\n]+)(> \S+ +)?# /gm)].map(([, line, into]) => ({
    args: line!.trim().split(' '),
    into,
  }))

  test('every command does what it says in the sample shop, in the order it stands', async () => {
    expect(section.match(/^rollbook /gm)).toHaveLength(commands.length)
    expect(section.match(/^### /gm)).toHaveLength(4)
    const folder = newFolder()
    cpSync(join(ROOT, 'samples', 'tern-quay'), folder, { recursive: true })
    git(folder, 'init', '-q', '-b', 'main')
    commit(folder, '', 'the shop', '2026-11-12T09:00:00Z')
    for (const { args, into } of commands) {
      const { out, err, code } = await rollbook(folder, ...args)
      // 1 tells of findings, or of something to do; nothing is left unjudged.
      expect([args, err, code < 2]).toEqual([args, '', true])
      const file = args.includes('--html') || args.includes('--handbook') ? args.at(-1) : undefined
      const written = file === undefined ? out : readFileSync(join(folder, file), 'utf8')
      expect([args, written.length > 50]).toEqual([args, true])
      if (into?.includes('.html')) expect(written).toMatch(/^<!doctype html>/)
    }
  })

  test('pictures are there and small, and drawings are those that the tool makes', async () => {
    const pictures = [...README.matchAll(/!\[[^\]]{20,}\]\(([^)]+)\)/g)].map(([, path]) => path!)
    expect(pictures.map((path) => statSync(join(ROOT, path)).size).filter((size) => size > 150_000)).toEqual([])
    const kept = readdirSync(join(ROOT, 'client', 'media', 'readme')).map((name) => `client/media/readme/${name}`)
    expect(kept.filter((path) => !pictures.includes(path))).toEqual([])
    const shop = join(ROOT, 'samples', 'tern-quay')
    for (const of of ['feed', 'path']) {
      const { out } = await rollbook(shop, 'picture', 'banner-510-bay-1', '--svg', '-', '--of', of, '--today', '2026-11-25')
      expect(out).toBe(readFileSync(join(ROOT, 'client', 'media', 'readme', `${of}.svg`), 'utf8'))
    }
  })

  test('what it leads to is there', () => {
    const headings = [...README.matchAll(/^#+ (.+)$/gm)].map(([, title]) =>
      title!
        .toLowerCase()
        .replace(/[^\w\s-]/g, '')
        .replace(/ /g, '-'),
    )
    const links = [...README.matchAll(/\]\(#([^)]+)\)/g)].map(([, target]) => target!)
    expect(links.filter((target) => !headings.includes(target))).toEqual([])
    expect(links.length).toBeGreaterThan(5)
  })
})

describe('the workflows for CI and the hook', () => {
  /** A shop on a branch that breaks one profile, behind a main branch that had a fault before. */
  function branch(): string {
    const fault = '#- profiles/old.media.yaml\nprofile: old\nprinter: bay-1\ngap: 9 mm\n'
    const folder = repository(SHOP + fault)
    git(folder, 'update-ref', 'refs/remotes/origin/main', 'main')
    git(folder, 'checkout', '-q', '-b', 'work')
    write(folder, '#- printers/bay-2.printer.yaml\nprinter: bay-2\ncarriage: {gaps: [1.5 mm]}\nslots: 30\n')
    return folder
  }

  const blocks = [...README.matchAll(/```yaml\n(# \.(?:github|gitlab)[^`]*)```/g)].map(([, text]) => text!)
  const commands = [...README.matchAll(/(?:- run: |- |exec )(rollbook (?:check|due)[^\n>]*)/g)].map(([, line]) => line!.trim())

  test('are YAML with jobs in them', () => {
    expect(blocks.map((text) => parseYaml(text))).toMatchObject([{ jobs: { change: {}, due: {} } }, { change: {}, due: {} }])
  })

  test('are those that a new shop may have written', () => {
    const shown = blocks.map((text) => text.replace(/^# (\S+)\n/, ''))
    expect(CI.map((ci) => CI_TEXT[ci].replaceAll(PACKAGE, 'tools/rollbook-0.1.0.tgz'))).toEqual(shown)
    expect(blocks.map((text) => /^# (\S+)/.exec(text)![1])).toEqual(CI.map((ci) => CI_FILE[ci]))
  })

  test('fail by what a branch brings, and by nothing else', async () => {
    expect(commands).toHaveLength(5)
    for (const line of commands) {
      const args = line.replaceAll('"$BASE"', 'origin/main').split(' ').slice(1)
      const folder = branch()
      const staged = line.includes('--staged')
      if (staged) git(folder, 'add', '-A')
      else commit(folder)
      const due = args[0] === 'due'
      const { out, err, code } = await rollbook(folder, ...args)
      expect([line, err, code]).toEqual([line, '', due ? 0 : 1])
      if (!due) expect([line, out.includes('film-2'), out.includes('old.media.yaml')]).toEqual([line, true, false])
      git(folder, 'checkout', '-q', '-f', 'main')
      expect([line, (await rollbook(folder, ...args)).code]).toEqual([line, 0])
    }
  })

  test('the hook is the same, and is called for our documents alone', () => {
    const [hook] = parseYaml(readFileSync(join(import.meta.dirname, '..', '..', '.pre-commit-hooks.yaml'), 'utf8'))
    expect(commands).toContain(hook.entry)
    const files = new RegExp(hook.files)
    for (const name of [
      'rollbook.yaml',
      'shop/rollbook.yaml',
      'a.media.yaml',
      'x/b c.stock.yaml',
      'p.printer.yaml',
      'my-rollbook.yaml',
      '.media.yaml',
      'a.yaml',
      'media.yaml',
    ])
      expect([name, files.test(name)]).toEqual([name, kindOfFile(name) !== undefined])
  })
})
