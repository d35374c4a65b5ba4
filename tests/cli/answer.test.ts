// `rollbook answer`: ours, theirs, or nobody can tell, by a profile's history in git and complaints of its prints.
import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { rollbook } from './repository.ts'
import { run } from './shell.ts'
import { KEYED, profile, story } from './story.ts'

const folder = story()

/** What was written down since: not committed, since a complaint counts from the moment it is known. */
const OBSERVED = `observed:
  - { date: 2026-03-01, printed: 2026-02-15, fault: length-short, ordered: 5000 mm, measured: 4994.5 mm, with: class-2, note: "<b>hung</b> | on the *fair*" }
  - { date: 2026-03-02, printed: 2026-01-15, fault: length-short, ordered: 5000 mm, measured: 4998.5 mm, with: class-1, tolerance: 5 mm, tolerance-of: order 2231 }
  - { date: 2026-03-03, printed: 2026-01-16, fault: length-short, ordered: 5000 mm, measured: 4990 ±1 mm }
  - { date: 2026-03-04, printed: 2026-01-17, fault: length-short, ordered: 5000 mm, measured: 4994 mm, with: their tape }
  - { date: 2026-03-05, printed: 2026-01-18, fault: length-short, ordered: 5000 mm, measured: 4998 mm, with: rule-2m }
  - { date: 2026-03-06, printed: 2026-01-14, fault: length-short, ordered: 2000 mm, measured: 1999.9 ±0.5 mm }
  - { date: 2026-03-07, printed: 2026-01-09, fault: length-short, ordered: 2000 mm, measured: 1996 ±0.5 mm }
  - { date: 2026-03-07, printed: 2026-01-19, fault: length-short, ordered: 2000 mm, measured: 1997 mm, with: rule-2m }
  - { date: 2026-03-08, fault: length-short, ordered: 2000 mm, measured: 1999 ±0.5 mm }
  - { date: 2026-03-09, fault: length-short, ordered: 2000 mm, measured: 1999 ±0.5 mm }
`
writeFileSync(
  join(folder, 'profiles/banner.media.yaml'),
  profile({ checks: 4, correction: '+0.21 %', tension: 2, keyed: KEYED, more: OBSERVED }).replace(/^#-.*\n/, ''),
)

const answer = (...args: readonly string[]) => rollbook(folder, 'answer', 'banner', '--today', '2026-03-31', ...args)
const told = async (date: string) => JSON.parse((await answer('--date', date, '--format', 'json')).out)

test('a page: what was read back ran, and the evidence of that day agrees with the customer', async () => {
  const { out, err, code } = await answer('--date', '2026-02-15')
  expect([err, code]).toEqual(['', 0])
  expect(out.replace(/commit [0-9a-f]{7,}/, 'commit C')).toMatchInlineSnapshot(`
    "Answer for banner, printed on 2026-02-15
    ========================================

    In short
      - Ours: the print was out of tolerance when it left the machine. Print it again.
      - By the evidence of that day and the measurement together the probability is under 1 % that it was within ±2.5 mm; 95 % are asked for to call it good, and 5 % or less to call it bad.

    1. What was asked for, and what is said
      ordered        5000 mm
      measured       4994.5 mm
      that is        5.5 mm too short
      measured with  class-2
      tolerance      0.5 mm per metre (the shop's own)
      note           <b>hung</b> | on the *fair*

    2. What ran that day
      - The documents are those of commit C of 2026-02-13: notes
      - The machine ran with +0.10 %, by what was read back on 2026-02-10. The file has +0.21 %; what the machine held counts.
      stock    banner
      printer  bay-1
      mode     four
      gap      2 mm
      suction  2 (150 Pa)
      tension  1 (10 N/m)

    3. What the evidence of that day said
      - Of the correction in the file. Doubtful: the machine had +0.10 % when it was read back on 2026-02-10, and the profile has +0.21 %.
      - With the correction that ran, 2 % of prints came out within the tolerance asked for here.
      - Nothing that was measured after 2026-02-15 is in it.

    4. What the measurement says
      read                                   4994.5 mm
      relaxed, at the reference temperature  4994.5 mm
      reading                                0.41 mm    standard uncertainty, assumed
      limit of error                         0.75 mm    standard uncertainty
      web temperature                        0.29 mm    standard uncertainty
      humidity                               0.058 mm   standard uncertainty
      95 % interval                          ±1.8 mm    ±0.035 % of the length
      - By the limit of error of class-2, read to the millimetre.
      - By it alone the probability is under 1 % that the print was within tolerance.

    5. The decision
      length error of the print               -0.109 % ±0.027 %  1.1 mm per metre short
      tolerance                               ±0.05 %            either way
      probability that it was kept            under 1 %
      risk                                    5 %                of wronging the one or the other
      so far off, or farther, is measured in  95 %               of such prints, if what was known is right
      What was known of the print is a mixture of normal distributions, one for each size that the scatter of the feed may have. Each is multiplied by that of the
      measurement and weighed anew by how well it foretold it (JCGM 106:2012, 6). The print was good where the probability is at least 1 − risk, and bad where it
      is at most the risk (8.3); in between nobody can tell.

    6. What this does not say
      - It speaks of the length of the print as it left the machine, cold and relaxed, and of nothing else. What hanging, washing, laminating or another climate did to it later is not in it.
      - It is advice to whoever answers the customer, and no judgement in law. What was agreed, and the documents of machine and material, come first.
    "
  `)
})

describe('verdicts', () => {
  test('theirs, by the tolerance of the order', async () => {
    const { verdict, evidence, measurement, both, complaint, machine, settings } = await told('2026-01-15')
    expect({ verdict, complaint, machine, word: evidence.word, knownBy: measurement.knownBy }).toEqual({
      verdict: 'theirs',
      complaint: {
        seen: '2026-03-02',
        orderedMm: 5000,
        measuredMm: 4998.5,
        with: 'class-1',
        tolerancePercent: 0.1,
        toleranceOf: 'order 2231',
      },
      machine: { percent: 0.21, by: 'file' },
      word: 'proven',
      knownBy: 'class',
    })
    expect(both.within).toBeGreaterThan(0.95)
    expect(settings).toMatchObject({ suction: '1', 'feed.correction': '0.21 %' })
  })
  test.each([
    ['2026-01-16', 'contradiction', 'what was known and what was measured contradict each other'],
    ['2026-01-17', 'not-known-how', 'nobody knows how good their number is'],
    ['2026-01-18', 'in-steps', 'the rule is shorter than the print'],
    ['2026-01-14', 'changed-that-day', 'the number was keyed in on that very day'],
  ])('%s: nobody can tell, %s: %s', async (date, because) => {
    expect(await told(date)).toMatchObject({ verdict: 'cannot-tell', because })
  })
  test('the measurement alone, where nothing was known that day, or one rule made both', async () => {
    expect(await told('2026-01-19')).toMatchObject({
      verdict: 'ours',
      evidence: { word: 'proven', says: false, why: 'same-rule' },
    })
    const { verdict, evidence, both, measurement } = await told('2026-01-09')
    expect({ verdict, says: evidence.says, why: evidence.why }).toEqual({ verdict: 'ours', says: false, why: 'unknown' })
    expect(both.within).toBe(measurement.within)
  })
})

test('Markdown and HTML: what a person wrote stays text', async () => {
  const markdown = (await answer('--date', '2026-02-15', '--format', 'markdown')).out
  expect(markdown.replace(/ +/g, ' ')).toContain('| note | \\<b\\>hung\\</b\\> \\| on the \\*fair\\* |')
  const html = (await answer('--date', '2026-02-15', '--format', 'html')).out
  expect(html).toContain('<td>&lt;b&gt;hung&lt;/b&gt; | on the *fair*</td>')
  expect(html).toMatch(/^<!doctype html>\n<html lang="en">/)
  expect(html).not.toMatch(/<script|src=|href=|@import|url\(/)
})

describe('what cannot be answered', () => {
  const refused = async (...args: readonly string[]): Promise<string> => {
    const { out, err, code } = await answer(...args)
    expect([out, code]).toEqual(['', 2])
    return err.trim().replace(/\b[0-9a-f]{7}\b/g, 'C')
  }
  test('which day', async () => {
    expect(await refused()).toMatchInlineSnapshot(
      `"Say on which day it was printed: --date 2026-03-14. See 'rollbook answer --help'."`,
    )
    expect(await refused('--date', 'monday')).toMatchInlineSnapshot(
      `"--date takes a day of the calendar, as in 2026-11-25; 'monday' is none."`,
    )
    expect(await refused('--date', '2026-01-01')).toMatchInlineSnapshot(
      `"Nothing was kept in git on 2026-01-01: its first commit, C, is of 2026-01-08."`,
    )
  })
  test('which complaint', async () => {
    expect(await refused('--date', '2026-03-08')).toMatchInlineSnapshot(
      `"More than one complaint may be of 2026-03-08: those seen on 2026-03-08 and 2026-03-09. Write under observed on which day each was printed, or choose one with --seen."`,
    )
    expect(await refused('--date', '2026-03-08', '--seen', '2026-03-10')).toMatchInlineSnapshot(
      `"Under observed, nothing seen on 2026-03-10 says what was ordered and measured of a print of 2026-03-08."`,
    )
    expect(JSON.parse((await answer('--date', '2026-03-08', '--seen', '2026-03-09', '--format', 'json')).out)).toMatchObject({
      complaint: { seen: '2026-03-09' },
    })
  })
  test('none: the evidence is shown, and decides nothing', async () => {
    const { out, code } = await answer('--date', '2026-03-20')
    expect(code).toBe(1)
    expect(out).toContain('Nobody can tell. Write down under observed what was ordered')
  })
  test('without git', async () => {
    expect(await run('answer film --date 2026-01-01', '#- film.media.yaml\nprofile: film\n')).toBe(
      '! There is no git here.\nexit 2',
    )
  })
})
