// `rollbook feed --at`: a feed as it stood on an older day or in a revision, by real git, and every way in which that cannot be told.
import { execFileSync } from 'node:child_process'
import { pathToFileURL } from 'node:url'
import { describe, expect, test } from 'vitest'
import { nodeCliHost } from '../../server/src/cli/node.ts'
import { commit, ENV, git, newFolder, rollbook, SHOP } from './repository.ts'
import { run } from './shell.ts'
import { story } from './story.ts'

const folder = story()

/** "As it stood" and the first line of what was to be done then. */
async function stood(...args: readonly string[]): Promise<string> {
  const { out, err, code } = await rollbook(folder, 'feed', 'banner', ...args)
  const lines = /As it stood\n(?<stood>(?: {2}- .*\n)*)\nIn short\n(?<first> {2}- .*)/.exec(out)?.groups
  return `${lines?.stood?.replace(/commit [0-9a-f]{7,}/, 'commit C')}  ${lines?.first?.trim()}${err && `\n! ${err}`}\nexit ${code}`
}

describe('--at', () => {
  test('before the number was keyed in', async () =>
    expect(await stood('--at', '2026-01-13')).toMatchInlineSnapshot(`
    "  - The documents are those of commit C of 2026-01-13: four checks
      - According to the file the machine ran with 0.00 %: nobody wrote down since its newest print what it had.
      - With that, under 1 % of prints come out within 0.5 mm per metre by what was measured up to then.
      - Key in +0.21 %.
    exit 0"
  `))
  test('the next day', async () =>
    expect(await stood('--at', '2026-01-15')).toMatchInlineSnapshot(`
    "  - The documents are those of commit C of 2026-01-14: keyed in
      - According to the file the machine ran with +0.21 %: nobody wrote down since its newest print what it had.
      - With that, 98 % of prints come out within 0.5 mm per metre by what was measured up to then.
      - Nothing to change: the correction in the profile, +0.21 %, is the one asked for, to the step of the printer.
    exit 0"
  `))
  test('a read-back wins over the file', async () =>
    expect(await stood('--at', '2026-02-11')).toMatchInlineSnapshot(`
    "  - The documents are those of commit C of 2026-02-10: read back
      - The machine ran with +0.10 %, by what was read back on 2026-02-10. The file has +0.21 %; what the machine held counts.
      - With that, 1 % of prints come out within 0.5 mm per metre by what was measured up to then.
      - Key in +0.21 % again, or take over what the machine has, and read it back.
    exit 0"
  `))
  test('a revision has its own day', async () => {
    const { out } = await rollbook(folder, 'feed', 'banner', '--at', 'main~7', '--json')
    expect(JSON.parse(out)).toMatchObject({
      profile: 'banner-old',
      date: '2026-01-14',
      at: { committed: '2026-01-14', subject: 'keyed in', machine: { percent: 0.21, by: 'file' } },
      verdict: { word: 'proven' },
    })
  })
  test.each([
    ['2026-02-02', 'a better name', 'what was committed late is of the next day where the shop is'],
    ['2026-02-03', 'more suction for all', 'as it is here'],
    ['2026-02-12', 'read back', 'what was merged does not count yet'],
    ['2026-02-20', 'take the trial', 'and counts from the day of the merge'],
  ])('%s: %s, since %s', async (day, subject) => {
    const line = await nodeCliHost().revisions.whole(pathToFileURL(folder).href, 'Europe/Helsinki')
    expect((await line.on(day)).subject).toBe(subject)
  })
  test('by the path of the file as it is called now', async () => {
    const { out } = await rollbook(folder, 'feed', 'profiles/banner.media.yaml', '--at', '2026-01-13', '--json')
    expect(JSON.parse(out)).toMatchObject({ file: 'profiles/banner-old.media.yaml', date: '2026-01-13' })
  })
})

describe('what cannot be told', () => {
  const refused = async (cwd: string, ...args: readonly string[]): Promise<string> => {
    const { out, err, code } = await rollbook(cwd, 'feed', ...args)
    expect([out, code]).toEqual(['', 2])
    return err
      .trim()
      .replaceAll(cwd, 'FOLDER')
      .replace(/\b[0-9a-f]{7,40}\b/g, 'C')
  }
  test('before the first commit', async () =>
    expect(await refused(folder, 'banner', '--at', '2026-01-07')).toMatchInlineSnapshot(
      `"Nothing was kept in git on 2026-01-07: its first commit, C, is of 2026-01-08."`,
    ))
  test('a revision that is not there', async () =>
    expect(await refused(folder, 'banner', '--at', 'no-such')).toMatchInlineSnapshot(
      `"There is no revision 'no-such' in the git clone at FOLDER. If it is a branch of another clone, fetch it first."`,
    ))
  test('a day to come', async () =>
    expect(await refused(folder, 'banner', '--at', '2999-01-01')).toMatchInlineSnapshot(
      `"2999-01-01 is after today: nothing of that day is written yet."`,
    ))
  test('two days', async () =>
    expect(await refused(folder, 'banner', '--at', '2026-02-01', '--today', '2026-02-01')).toMatchInlineSnapshot(
      `"--at takes that day as today: --today beside it says nothing. See 'rollbook feed --help'."`,
    ))
  test('a profile that is not there at all', async () =>
    expect(await refused(folder, 'bannr', '--at', '2026-02-01')).toMatchInlineSnapshot(
      `"There is no profile 'bannr' here, and no such file. Do you mean 'banner'?"`,
    ))
  test('outside git', async () =>
    expect(await refused(newFolder(), 'banner', '--at', '2026-02-01')).toMatchInlineSnapshot(
      `"FOLDER is not in a working tree of git, so that there is no revision of it to look at."`,
    ))
  test('a shallow clone', async () => {
    const clone = newFolder()
    execFileSync('git', ['clone', '-q', '--depth', '1', `file://${folder}`, clone], { env: ENV })
    expect(await refused(clone, 'banner', '--at', '2026-02-01')).toMatchInlineSnapshot(
      `"The git clone at FOLDER is shallow: what came before is not in it, and what changed cannot be known. Fetch the whole history: 'git fetch --unshallow', or in CI a fetch depth of 0."`,
    )
  })
  test('nothing committed, a profile of later, a zone that is none', async () => {
    const fresh = newFolder()
    git(fresh, 'init', '-q', '-b', 'main')
    expect(await refused(fresh, 'film-1', '--at', '2026-02-01')).toMatchInlineSnapshot(
      `"Nothing is committed yet in the git clone at FOLDER."`,
    )
    commit(fresh, SHOP.replace(/#- profiles\/paper-1[^#]*/, ''), 'the shop', '2026-01-01T12:00:00Z')
    commit(fresh, SHOP, 'paper too', '2026-03-01T12:00:00Z')
    expect(await refused(fresh, 'paper-1', '--at', '2026-02-01')).toMatchInlineSnapshot(
      `"'paper-1' was not there on 2026-02-01, in commit C: it came with C of 2026-03-01."`,
    )
    commit(fresh, '#- rollbook.yaml\nshop: Tern Quay\ntime-zone: Tern/Quay\n')
    expect(await refused(fresh, 'paper-1', '--at', '2026-02-01')).toMatchInlineSnapshot(
      `"'Tern/Quay' is no time zone that is known here: give one as Europe/Lisbon, under time-zone in rollbook.yaml."`,
    )
  })
})

test('an older --today says that the settings are of now', async () => {
  const { err } = await rollbook(folder, 'feed', 'banner', '--today', '2026-01-12')
  expect(err).toMatchInlineSnapshot(`
    "The documents tell of 2026-02-10, which is after 2026-01-12: this takes today's settings with the measurements of then. '--at 2026-01-12' takes the documents as they were that day.
    "
  `)
  expect((await rollbook(folder, 'feed', 'banner', '--today', '2026-02-10')).err).toBe('')
})

test('without git', async () => {
  expect(await run('feed film --at 2026-01-01', '#- rollbook.yaml\nshop: Tern Quay\n')).toBe('! There is no git here.\nexit 2')
})
