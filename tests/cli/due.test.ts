// `rollbook due`: what the days alone have brought, in the order in which it should be done.
import { describe, expect, test } from 'vitest'
import { PRINTER, ran, run, shopWith } from './shell.ts'

const SHOP = `${shopWith('feed-stale', 'feed-lot', 'alignment-stale', 'heat-readings-old', 'duplicate-key')}${PRINTER}heaters: {after: {range: [20 °C, 60 °C], length: 300 mm}}
`

const stale = (id: string, more = ''): string => `#- ${id}.media.yaml
profile: ${id}
printer: bay-1
feed:
  correction: 0 %
  checks:
    - {date: 2026-01-30, commanded: 2000 mm, measured: 2000 mm, applied: 0 %}
${more}`

const WARM = `#- warm.media.yaml
profile: warm
printer: bay-1
heat:
  after: 50 °C
  readings:
    - {date: 2026-01-05, zone: after, set: 40 °C, web: 38 °C}
`

const ALIGNED = `#- aligned.media.yaml
profile: aligned
printer: bay-1
alignment: {date: 2025-06-30}
`

test('what may hurt somebody first, then lengths, then looks; of equals what more profiles rest on', async () => {
  const based = `${stale('z-base')}#- y.media.yaml\nprofile: y\nbase: z-base\n#- x.media.yaml\nprofile: x\nbase: y\n`
  expect(await run('due', SHOP + stale('a') + based + WARM + ALIGNED)).toMatchInlineSnapshot(`
    "Where somebody or a machine may be hurt (the machine's and the material's own safety documents come first):
      warm.media.yaml:6:44  hint heat-readings-old
        Read the web behind the platen again: it was last read 85 days ago at 40 °C, and 50 °C is set now.

    Where prints may come out too long or too short:
      z-base.media.yaml:6:14  warning feed-stale
        Print the feed pattern and add a check: the newest is 60 days old, and the shop checks again after 30 days: one was due on 2026-03-01. 2 profiles rest on it.
      a.media.yaml:6:14  warning feed-stale
        Print the feed pattern and add a check: the newest is 60 days old, and the shop checks again after 30 days: one was due on 2026-03-01.

    Where prints may look wrong:
      aligned.media.yaml:3:19  warning alignment-stale
        Print the alignment pattern: the last one is 274 days old, and the shop aligns again after 60 days: it was due on 2025-08-29.

    8 documents looked at as on 2026-03-31: 0 errors, 3 warnings and 1 hint due.
    exit 1"
  `)
})

describe('the exit code', () => {
  test.each([
    ['', 1],
    ['--fail-on error', 0],
    ['--fail-on hint', 1],
    ['--fail-on never', 0],
  ])('%s: a warning that is due gives %i', async (options, code) => {
    expect((await ran(`due ${options}`, SHOP + stale('a'))).code).toBe(code)
  })

  test('what is wrong and not due does not count', async () => {
    expect(await run('due', `${SHOP}#- a.media.yaml\nprofile: a\nprofile: a\n`)).toMatchInlineSnapshot(`
      "3 documents looked at as on 2026-03-31: nothing is due.
      exit 0"
    `)
  })

  test('what cannot be judged is 2, and nothing is called not due', async () => {
    const { out, err, code } = await ran('due', SHOP + stale('a'), { unreadable: ['a.media.yaml'] })
    expect(out).toContain('and not everything could be judged: nothing is due in what was.')
    expect([err, code]).toEqual(['a.media.yaml cannot be read: permission is denied\n', 2])
  })
})

test('for programs: the same in the same order', async () => {
  const { out } = await ran('due --json', SHOP + stale('a') + WARM)
  expect(JSON.parse(out)).toMatchObject({
    date: '2026-03-31',
    files: 4,
    due: [
      { code: 'heat-readings-old', risk: 'harm', profiles: 0 },
      { code: 'feed-stale', risk: 'length', due: true },
    ],
    notChecked: [],
  })
})

test('another day, and only what is below a path', async () => {
  const files = SHOP + stale('profiles/a').replace('profile: profiles/a', 'profile: a') + stale('b')
  expect((await ran('due --today 2026-02-01', files)).code).toBe(0)
  const { out } = await ran('due profiles', files)
  expect(out).toContain('profiles/a.media.yaml')
  expect(out).not.toContain('b.media.yaml')
})
