// Colour files on a real disk: what cannot be read is told with its reason, quickly, and is never passed over where the shop ignores the rule.
import { execFileSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, realpathSync, rmSync, symlinkSync, truncateSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { nodeCliHost } from '../../server/src/cli/node.ts'
import { runCli } from '../../server/src/cli/run.ts'
import { fileUri } from '../../server/src/host/node.ts'
import { iccBytes } from '../support/icc.ts'

const AIM = 'CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nBEGIN_DATA\n1 50 0 0\nEND_DATA\n'
const PROFILE = `profile: film
printer: bay-1
feed:
  checks: [{date: 2026-03-30, commanded: 2000 mm, measured: 2000.0 mm, applied: 0 %}]
colour: {reference: aim.txt}
`

const node = nodeCliHost()
let folder = ''
const at = (name: string): string => join(folder, name)

beforeEach(() => {
  folder = realpathSync(mkdtempSync(join(tmpdir(), 'rollbook-')))
  writeFileSync(at('rollbook.yaml'), 'shop: s\n')
  writeFileSync(at('bay-1.printer.yaml'), 'printer: bay-1\nfeed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}\n')
  writeFileSync(at('film.media.yaml'), PROFILE)
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

async function rollbook(...args: readonly string[]): Promise<{ out: string; err: string; code: number }> {
  let [out, err] = ['', '']
  const cli = {
    ...node,
    cwd: folder,
    env: {},
    isTty: false,
    out: (text: string) => {
      out += text
    },
    err: (text: string) => {
      err += text
    },
  }
  const code = await runCli([...args, '--today', '2026-03-31'], cli)
  return { out, err, code }
}

const colourLines = (out: string): string[] =>
  out.split('\n').flatMap((line) => /(?:colour|cgats|icc)-\S+ (.*)/.exec(line)?.[1] ?? [])

test.each<[string, () => void, string | undefined]>([
  ['none', () => undefined, "There is no file 'aim.txt'; paths begin in this document's folder."],
  ['a measurement', () => writeFileSync(at('aim.txt'), AIM), undefined],
  ['a folder', () => mkdirSync(at('aim.txt')), "'aim.txt' cannot be read: it is a folder."],
  [
    'a named pipe',
    () => void execFileSync('mkfifo', [at('aim.txt')]),
    "'aim.txt' cannot be read: it is a pipe between programs and no regular file.",
  ],
  ['a device', () => symlinkSync('/dev/zero', at('aim.txt')), "'aim.txt' cannot be read: it is a device and no regular file."],
  [
    '2 GB',
    () => {
      writeFileSync(at('aim.txt'), '')
      truncateSync(at('aim.txt'), 2 ** 31)
    },
    "'aim.txt' cannot be read: it is 2048 MB large, and at most 32 MB are read. Is it the right file?",
  ],
  [
    '30 MB of nothing',
    () => {
      writeFileSync(at('aim.txt'), '')
      truncateSync(at('aim.txt'), 30 * 2 ** 20)
    },
    "'aim.txt' is no measurement file (CGATS text): it is binary data of another sort.",
  ],
  [
    'an ICC profile',
    () => writeFileSync(at('aim.txt'), iccBytes()),
    "'aim.txt' is no measurement file (CGATS text): it is an ICC profile (an output profile).",
  ],
])('%s', async (_, make, message) => {
  make()
  const { out } = await rollbook('check')
  expect(colourLines(out)).toEqual(message === undefined ? [] : [message])
})

test('where the shop ignores the rule, it is not judged all the same; the feed does not rest on it', async () => {
  writeFileSync(at('rollbook.yaml'), 'shop: s\nrules: {colour-file-missing: ignore}\n')
  const told = "The colour file 'aim.txt' is not read: there is no such file."
  const { err, code } = await rollbook('check')
  expect([err.trim(), code]).toEqual([`film.media.yaml is judged without what it names. ${told}`, 2])
  const reckoned = await rollbook('reckon', 'film.media.yaml')
  expect([reckoned.err.trim(), reckoned.code]).toEqual([told, 2])
  const feed = await rollbook('feed', 'film.media.yaml')
  expect([feed.err, feed.code]).toEqual(['', 0])
})

test('the host reads so many bytes and no more', async () => {
  writeFileSync(at('aim.txt'), AIM)
  const bytes = await node.host.readBytes(fileUri(at('aim.txt')), AIM.length)
  expect(new TextDecoder().decode(bytes)).toBe(AIM)
  await expect(node.host.readBytes(fileUri(at('aim.txt')), AIM.length - 1)).rejects.toMatchObject({ gone: false })
  await expect(node.host.readBytes(fileUri(at('gone.txt')), 1)).rejects.toMatchObject({ gone: true })
})
