// `rollbook check --fix` on a real disk: what is not mended keeps every byte, and a file is written whole or not at all.
import {
  chmodSync,
  lstatSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import fc from 'fast-check'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { nodeCliHost } from '../../server/src/cli/node.ts'
import { runCli } from '../../server/src/cli/run.ts'
import { saysTheSame } from '../../server/src/features/fix-all.ts'
import { fileUri } from '../../server/src/host/node.ts'

let folder = ''
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rollbook-fix-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

const HOST = nodeCliHost()

async function fix(): Promise<{ err: string; code: number }> {
  let err = ''
  const code = await runCli(['check', '--fix', '--quiet'], {
    ...HOST,
    cwd: folder,
    out: () => undefined,
    err: (text) => {
      err += text
    },
  })
  return { err, code }
}

const BROKEN = '\ufeffprofile: a\r\nheat:\r\n\tplaten: 40 °C   # kept \r\n\r\n# end'
const MENDED = '\ufeffprofile: a\r\nheat:\r\n  platen: 40 °C   # kept \r\n\r\n# end'

test('byte order mark, line ends, blanks, comments and the file’s mode stay', async () => {
  const path = join(folder, 'a.media.yaml')
  writeFileSync(path, BROKEN)
  chmodSync(path, 0o640)
  await fix()
  expect(readFileSync(path, 'utf8')).toBe(MENDED)
  expect(statSync(path).mode & 0o777).toBe(0o640)
  expect(readdirSync(folder)).toEqual(['a.media.yaml'])
})

test('a link stays one, and what it leads to is mended', async () => {
  writeFileSync(join(folder, 'text'), BROKEN)
  symlinkSync('text', join(folder, 'a.media.yaml'))
  await fix()
  expect(lstatSync(join(folder, 'a.media.yaml')).isSymbolicLink()).toBe(true)
  expect(readFileSync(join(folder, 'text'), 'utf8')).toBe(MENDED)
})

test('a second run has nothing to do', async () => {
  writeFileSync(join(folder, 'a.media.yaml'), BROKEN)
  await fix()
  expect((await fix()).err).toBe('')
})

test('a file that somebody changed meanwhile is left as it is', async () => {
  const path = join(folder, 'a.media.yaml')
  writeFileSync(path, 'profile: b\n')
  await expect(HOST.rewrite(fileUri(path), 'profile: a\n', 'profile: c\n')).rejects.toThrow(
    'was changed by somebody else meanwhile',
  )
  expect(readFileSync(path, 'utf8')).toBe('profile: b\n')
  expect(readdirSync(folder)).toEqual(['a.media.yaml'])
})

test('what a fix of form may do', () => {
  expect(saysTheSame('media', 'gap: 2 mm\n', 'gap:   2 mm\n')).toBe(true)
  expect(saysTheSame('media', 'gap: 2 mm\ngap: 2 mm\n', 'gap: 2 mm\n')).toBe(true)
  expect(saysTheSame('media', 'gap: 2 mm\ngap: 3 mm\n', 'gap: 3 mm\n')).toBe(false)
  expect(saysTheSame('media', 'gap: 2,5 mm\n', 'gap: 2.5 mm\n')).toBe(false)
  expect(saysTheSame('media', 'slot: 3\ngap: 2 mm\n', 'gap: 2 mm\n')).toBe(false)
  expect(saysTheSame('media', 'keyed: [{date: 2026-1-5}]\n', 'keyed: [{date: 2026-01-05}]\n')).toBe(false)
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 99 }), fc.integer({ min: 1, max: 99 }), (a, b) => {
      expect(saysTheSame('media', `gap: ${a} mm\n`, `gap: ${b} mm\n`)).toBe(a === b)
    }),
  )
})
