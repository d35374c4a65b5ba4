// A disk that takes nothing: every command that writes ends with 2 and a sentence, and no file is there that was not, or is another than before.
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test, vi } from 'vitest'
import { newFolder, rollbook, write } from './repository.ts'
import { PRINTER, shopWith } from './shell.ts'

const disk = vi.hoisted(() => ({ isShut: false }))

/** Root may write what is shut by its rights, so the disk itself refuses, as a mount that is read-only does. */
vi.mock('node:fs/promises', async (actual) => {
  const real = (await actual()) as Readonly<Record<string, unknown>>
  const shut = ['writeFile', 'appendFile', 'copyFile', 'link', 'mkdir', 'mkdtemp', 'rename', 'rm', 'unlink', 'chmod', 'truncate']
  const refused = (name: string): Promise<never> =>
    Promise.reject(Object.assign(new Error(`EROFS: read-only file system, ${name}`), { code: 'EROFS', syscall: name }))
  const call = (name: string, args: readonly unknown[]): unknown =>
    (real[name] as (...given: readonly unknown[]) => unknown)(...args)
  return {
    ...real,
    ...Object.fromEntries(shut.map((name) => [name, (...args: unknown[]) => (disk.isShut ? refused(name) : call(name, args))])),
    open: (path: string, flags = 'r', ...rest: unknown[]) =>
      disk.isShut && flags !== 'r' ? refused('open') : call('open', [path, flags, ...rest]),
  }
})

const FILM = 'profiles/film.media.yaml'
const SHOP = `${shopWith() + PRINTER}#- stocks/film-pvc.stock.yaml
stock: film-pvc
family: film-pvc-cast
thickness: 80 µm
#- ${FILM}
profile: film
stock: film-pvc
printer: bay-1
gap: 1.5mm
slot: 3
feed:
  correction: +0.17 %
`

const snapshot = (folder: string): readonly string[] =>
  readdirSync(folder, { recursive: true })
    .map(String)
    .sort()
    .map((name) => (statSync(join(folder, name)).isFile() ? `${name}\n${readFileSync(join(folder, name), 'utf8')}` : name))

test.each([
  ['set', FILM, 'feed.correction=+0.18 %'],
  ['set', 'bay-1', 'feed.step=0.02 %'],
  ['record', FILM, 'observed', 'date=2026-03-30', 'fault=cockle'],
  ['import', 'checks.csv', '--into', FILM, '--as', 'observed', '--write'],
  ['new', 'stock', '--stock', 'banner', '--family', 'banner-pvc', '--thickness', '400 µm'],
  ['new', 'profile', '--stock', 'film-pvc', '--printer', 'bay-1'],
])('%s %s %s', async (...line) => {
  const folder = newFolder()
  write(folder, SHOP)
  writeFileSync(join(folder, 'checks.csv'), 'date,fault\n2026-03-30,cockle\n')
  const before = snapshot(folder)
  disk.isShut = true
  const { code, err } = await rollbook(folder, ...line, ...(line[0] === 'import' ? [] : ['--today', '2026-03-31'])).finally(
    () => {
      disk.isShut = false
    },
  )
  expect([code, snapshot(folder)]).toEqual([2, before])
  expect(err).toMatch(/\S.{12,}/)
  expect(err).not.toMatch(/^\s+at |inside Rollbook/m)
})
