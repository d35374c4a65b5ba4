// `rollbook since`: since when a setting is as it is, through a rename, a base, a merge, a printer whose level means another pressure, and a value that was
// only written anew.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { rollbook } from './repository.ts'
import { run } from './shell.ts'
import { profile, story } from './story.ts'

const folder = story()

async function since(...args: readonly string[]): Promise<string> {
  const { out, err, code } = await rollbook(folder, 'since', ...args, '--today', '2026-03-31')
  return `${out.replace(/commit [0-9a-f]{7,}/g, 'commit C')}${err && `! ${err}`}exit ${code}`
}

test('from a base, as the printer takes it', async () =>
  expect(await since('banner', 'suction')).toMatchInlineSnapshot(`
  "suction of banner is 2 (180 Pa), from house.
  Since 2026-02-03, by commit C (more suction for all): before, suction was 1 (100 Pa).
  suction 2 means 180 Pa at bay-1 since 2026-03-05, by commit C (level 2 was measured anew): before, 150 Pa.
  Nothing that was measured says that it was made with it.
  exit 0"
`))
test('through a rename, with what was measured', async () =>
  expect(await since('banner', 'feed.correction')).toMatchInlineSnapshot(`
    "feed.correction of banner is +0.2100 %.
    Since 2026-01-14, by commit C (keyed in): before, feed.correction was 0 %.
    By the evidence of that day 4 checks ask for +0.21 % ±0.026 %.
    Nothing that was measured says that it was made with it.
    The machine had +0.10 % when it was read back on 2026-02-10: another one.
    exit 0"
  `))
test('by a merge', async () =>
  expect(await since('banner', 'web.tension')).toMatchInlineSnapshot(`
  "web.tension of banner is 2 (20 N/m).
  Since 2026-02-20, by commit C (take the trial): before, web.tension was 1 (10 N/m).
  Nothing that was measured says that it was made with it.
  exit 0"
`))
test('as the profile came, for programs', async () => {
  const { out } = await rollbook(folder, 'since', 'banner', 'gap', '--json', '--today', '2026-03-31')
  expect(JSON.parse(out)).toMatchObject({
    profile: 'banner',
    setting: 'gap',
    value: { text: '2 mm', from: 'house' },
    since: { date: '2026-01-08', subject: 'the shop', withProfile: true, before: null },
    meaningSince: null,
    evidence: Array(4).fill({ kind: 'feed.checks' }),
  })
})
test('of the printer', async () =>
  expect(await since('banner', 'printer.suction.levels.2')).toMatchInlineSnapshot(`
  "printer.suction.levels.2 of banner is 180 Pa, from bay-1.
  Since 2026-03-05, by commit C (level 2 was measured anew): before, printer.suction.levels.2 was 150 Pa.
  Nothing that was measured says that it was made with it.
  exit 0"
`))
test('what is no setting', async () => {
  expect(await since('banner', 'sucktion')).toMatchInlineSnapshot(`
    "! There is no setting 'sucktion'. Do you mean 'suction'?
    exit 2"
  `)
  expect(await since('banner', 'feed.checks')).toMatchInlineSnapshot(`
    "! There is no setting 'feed.checks'. Give its keys joined by dots, as heat.after; those of the stock and the printer begin with stock. or printer.
    exit 2"
  `)
  expect(await since('banner')).toMatchInlineSnapshot(`
    "! rollbook since takes a profile and a setting, as in 'rollbook since banner suction'. See 'rollbook since --help'.
    exit 2"
  `)
})
test('not committed yet, and not in git at all', async () => {
  const text = profile({ checks: 4, correction: '+0.22 %' }).replace(/^#-.*\n/, '')
  writeFileSync(join(folder, 'profiles/banner.media.yaml'), text)
  expect(await since('banner', 'feed.correction')).toMatchInlineSnapshot(`
    "feed.correction of banner is +0.22 %.
    That is not committed yet: in the newest commit it is another.
    Nothing that was measured says that it was made with it.
    exit 1"
  `)
  writeFileSync(join(folder, 'profiles/fresh.media.yaml'), text.replace('profile: banner', 'profile: fresh'))
  expect(await since('fresh', 'feed.correction')).toMatchInlineSnapshot(`
    "! profiles/fresh.media.yaml is not kept in git yet: nothing tells since when its settings are as they are.
    exit 2"
  `)
})
test('without git', async () => {
  expect(await run('since film suction', '#- film.media.yaml\nprofile: film\nsuction: 1\n')).toBe(
    '! There is no git here.\nexit 2',
  )
})
