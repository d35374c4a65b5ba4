// `rollbook feed`: the reckoning on paper and as JSON, by file and by id, and what is said where there is nothing to reckon with.
import { describe, expect, test } from 'vitest'
import { feedReckoningMarkdown } from '../../server/src/areas/feed/reckoning.ts'
import { openFixture, parseFixture } from '../support/fixture.ts'
import { PRINTER, ran, run, shopWith } from './shell.ts'

const STOCK = `#- stocks/film.stock.yaml
stock: film
family: film-pvc-cast
expansion: 75 ppm/K
`

const FILM = `#- profiles/film.media.yaml
profile: film
stock: film
printer: bay-1
feed:
  correction: +0.10 %
  checks:
    - {date: 2026-01-10, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
    - {date: 2026-03-20, commanded: 1000 mm, measured: 998.4 mm, applied: 0 %, with: rule-1m, web: 24 °C}
    - {date: 2026-03-28, commanded: 2000 mm, measured: 1998.5 mm, applied: +0.10 %, with: rule-1m}
    - {date: 2026-03-29, commanded: 1000 mm, measured: 990 mm, applied: 0 %, with: rule-1m, skip: the web slipped}
`

const SHOP = shopWith() + PRINTER + STOCK

describe('on paper', () => {
  test('step by step', async () => {
    expect(await run('feed film', SHOP + FILM)).toMatchInlineSnapshot(`
      "Feed of film: film on bay-1, reckoned on 2026-03-31
      ===================================================

      In short
        - Name the mode first, and key in nothing before.
        - Doubtful: the mode is not described, and the number rests on it.
        - To be expected: +0.17 %.
        - The profile has +0.10 %: prints come out 0.74 mm per metre short, more than the uncertainty.
        - The correction to expect is +0.1740 % ±0.069 %, by 3 checks. Here and below, ± is the 95 % interval.

      1. What the checks say
        A check asks for (1 + applied) · commanded / measured − 1, with the length brought to the reference temperature
        of 23 °C and to the relaxed web.
        check  date        commanded  measured   applied  asks for   95 % interval  counts for
        1      2026-01-10  1000 mm    998 mm     0 %      +0.1969 %  ±0.082 %       18 %
        2      2026-03-20  1000 mm    998.4 mm   0 %      +0.1643 %  ±0.072 %       32 %
        3      2026-03-28  2000 mm    1998.5 mm  +0.10 %  +0.1717 %  ±0.062 %       50 %
        4      2026-03-29  1000 mm    990 mm     0 %      +1.0066 %  ±0.083 %       left out
        - Check 1 proves nothing of today: it does not say what the machine was set to (under).
        - Check 2 proves nothing of today: it does not say what the machine was set to (under).
        - Check 3 proves nothing of today: it does not say what the machine was set to (under).
        - Check 4 is left out: the web slipped.

        Check 1, 2026-01-10, rule-1m
          measured                                  998.000 mm
          rule at 23 °C, true at 20 °C              +0.034 mm   × 1.0000345
          relaxed, at the reference temperature     998.034 mm
          asks for                                  +0.1969 %   (1 + 0) · 1000.000 / 998.034 − 1
          reading both edges on rule-1m             0.02 %      standard uncertainty, 0.2 mm on the length: steps of 0.5 mm / √6
          limit of error of rule-1m (shared)        0.029 %     standard uncertainty, 0.29 mm on the length: 0.5 mm either way / √3
          temperature of rule-1m (shared, assumed)  0.0013 %    standard uncertainty, 0.013 mm on the length: 2 K either way / √3, by the expansion
          temperature of the web (shared)           0.015 %     standard uncertainty, 0.15 mm on the length: 5 K either way / √6 (half of the variance), by the expansion
          temperature of the web on that day        0.015 %     standard uncertainty, 0.15 mm on the length: 5 K either way / √6 (half of the variance), by the expansion
          standard uncertainty                      0.042 %     of all together, 0.41 mm on the length: the root of the sum of squares
          95 % interval                             ±0.082 %    1.96 times that
          It counts for 18 %. It lies +0.0229 % from the result.

        Check 2, 2026-03-20, rule-1m
          measured                                  998.400 mm
          rule at 23 °C, true at 20 °C              +0.034 mm   × 1.0000345
          web at 24 °C instead of 23 °C             -0.075 mm   × 0.9999250
          relaxed, at the reference temperature     998.360 mm
          asks for                                  +0.1643 %   (1 + 0) · 1000.000 / 998.360 − 1
          reading both edges on rule-1m             0.02 %      standard uncertainty, 0.2 mm on the length: steps of 0.5 mm / √6
          limit of error of rule-1m (shared)        0.029 %     standard uncertainty, 0.29 mm on the length: 0.5 mm either way / √3
          temperature of rule-1m (shared, assumed)  0.0013 %    standard uncertainty, 0.013 mm on the length: 2 K either way / √3, by the expansion
          temperature of the web (shared, assumed)  0.0087 %    standard uncertainty, 0.086 mm on the length: 2 K either way / √3, by the expansion
          standard uncertainty                      0.037 %     of all together, 0.36 mm on the length: the root of the sum of squares
          95 % interval                             ±0.072 %    1.96 times that
          It counts for 32 %. It lies -0.0097 % from the result.

        Check 3, 2026-03-28, rule-1m
          measured                                  1998.500 mm
          rule at 23 °C, true at 20 °C              +0.069 mm    × 1.0000345
          relaxed, at the reference temperature     1998.569 mm
          asks for                                  +0.1717 %    (1 + 0.001) · 2000.000 / 1998.569 − 1
          reading both edges on rule-1m             0.01 %       standard uncertainty, 0.2 mm on the length: steps of 0.5 mm / √6
          limit of error of rule-1m (shared)        0.02 %       standard uncertainty, 0.4 mm on the length: 0.7 mm either way / √3
          temperature of rule-1m (shared, assumed)  0.0013 %     standard uncertainty, 0.027 mm on the length: 2 K either way / √3, by the expansion
          temperature of the web (shared)           0.015 %      standard uncertainty, 0.31 mm on the length: 5 K either way / √6 (half of the variance), by the expansion
          temperature of the web on that day        0.015 %      standard uncertainty, 0.31 mm on the length: 5 K either way / √6 (half of the variance), by the expansion
          standard uncertainty                      0.031 %      of all together, 0.63 mm on the length: the root of the sum of squares
          95 % interval                             ±0.062 %     1.96 times that
          It counts for 50 %. It lies -0.0023 % from the result.

      2. What they say together
        weighted mean             +0.1740 %  3 checks
        readings                  0.012 %    standard uncertainty, falls with the number of checks
        scatter of the feed       0.015 %    standard uncertainty, from print to print, by the checks and what is typical (from memory)
        age                       0.0082 %   standard uncertainty, how far a feed wanders with time (typical, from memory)
        limit of error (rule-1m)  0.025 %    standard uncertainty, shared by the checks: more of them do not lessen it
        temperature of the rules  0.0013 %   standard uncertainty, shared by the checks: more of them do not lessen it
        temperature of the web    0.013 %    standard uncertainty, shared by the checks: more of them do not lessen it
        standard uncertainty      0.035 %    of all together
        95 % interval             ±0.069 %   1.96 times that
        From print to print the feed scatters by about 0.019 % (0.0031 % to 0.061 %), standard deviation: not estimated and plugged in, but reckoned at every size it may have.
        other ways to put them together        gives      standard uncertainty
        line through the origin                +0.1747 %
        mean of the ratios                     +0.1776 %
        random effects, DerSimonian and Laird  +0.1756 %  0.021 %, with a scatter of 0 % plugged in
        random effects, Mandel and Paule       +0.1756 %  0.021 %, with a scatter of 0 % plugged in

      3. What would be keyed in
        correction wanted    +0.1740 %
        the printer takes    -2 % to +2 %
        step                 0.01 %                   rounded to the nearest
        key in               +0.17 %
        the rounding leaves  0.04 mm per metre short

      4. Is the tolerance kept
        The shop's length tolerance is 0.05 %, 0.5 mm per metre, and 95 % of prints are to keep it.
        Doubtful: the mode is not described, and the number rests on it.
        Name the mode first, and key in nothing before.
                                  of prints  of the mean of many
        with +0.10 %, as it runs  26 %       24 %
        with +0.17 % keyed in     78 %       84 %
        If the mean were known perfectly, 94 % of prints would keep it: the rest is the scatter of the feed.

      5. Age and lot
        The newest check is check 3 of 2026-03-28, 3 days before 2026-03-31. The shop trusts a check for 30 days.
        The next one is due now.
      exit 0"
    `)
  })

  test('± of a check is that of its reading, and of the number it asks for that of the feed too', async () => {
    const one = FILM.replace(/ {4}- \{date: (?!2026-03-28).*\n/g, '')
    const out = await run('feed film', SHOP + one)
    const found = [...out.matchAll(/\+0\.1717 % +(±[\d.]+ %)/g)].map((match) => match[1])
    expect(found).toEqual(['±0.11 %', '±0.062 %'])
    expect(out.match(/95 % interval +(±[\d.]+ %)/g)).toHaveLength(2)
    expect(new Set(out.match(/±[\d.]+ %/g))).toEqual(new Set(['±0.11 %', '±0.062 %']))
    // Every other spread is called what it is.
    for (const line of out.split('\n').filter((l) => /√|shared|root of the sum/.test(l))) expect(line).not.toContain('±')
    const { checks, correction } = JSON.parse((await ran('feed film --json', SHOP + one)).out)
    expect(checks[0].uncertaintyPercent).toBeLessThan(correction.uncertaintyPercent)
  })

  test('by file, from within a folder of the shop', async () => {
    const byId = await run('feed film', SHOP + FILM)
    expect(await run('feed film.media.yaml', SHOP + FILM, { cwd: 'profiles' })).toBe(byId)
    expect(await run('feed film', SHOP + FILM, { cwd: 'profiles' })).toBe(byId)
    expect(await run('feed profiles/film.media.yaml', SHOP + FILM)).toBe(byId)
  })

  test('a suspect is named, stays in, and it is told what the others say without it', async () => {
    const checks = [997.9, 998.0, 998.1, 998.0, 994.0].map(
      (mm, i) => `    - {date: 2026-03-${20 + i}, commanded: 1000 mm, measured: ${mm} mm, applied: 0 %, with: rule-1m}`,
    )
    const profile = `#- slip.media.yaml\nprofile: slip\nprinter: bay-1\nfeed:\n  correction: +0.20 %\n  checks:\n${checks.join('\n')}\n`
    const lines = (await run('feed slip', SHOP + profile))
      .split('\n')
      .filter((line) => /suspect|Without|Look at|Birge/i.test(line))
    expect(lines.join('\n')).toMatchInlineSnapshot(`
      "  5      2026-03-24  1000 mm    994 mm    0 %      +0.6002 %  ±0.07 %        20 %, suspect
          Suspect: of a hundred good series not one would show a check so far from what the others predict.
        Suspect: check 5. Only a person leaves a check out, with skip and a reason.
        Without: +0.1968 % ±0.067 % from 4 checks."
    `)
  })

  test('a machine that is told a measured length, and fine picks that count', async () => {
    const printer = `#- printers/bay-2.printer.yaml
printer: bay-2
heads: {nozzle-pitch: 0.1 mm, nozzles: 400, rows: 1, channels: [cyan, black], drop-speed: 6 m/s}
modes:
  film: {resolution: 254 x 254 dpi, passes: 4, carriage-speed: 600 mm/s, directions: two-way}
feed:
  range: [-1.5 %, 1.5 %]
  step: 0.1 mm
  entry: measured-length
  pattern-lengths: [1000 mm]
  fine: {rows: [left, right], patches: 9, step: 1 µm}
`
    const profile = `#- wet.media.yaml
profile: wet
stock: film
printer: bay-2
mode: film
feed:
  correction: +0.20 %
  checks:
    - {date: 2026-03-28, commanded: 1000 mm, measured: 998 mm, applied: 0 %, with: rule-1m}
  fine: {date: 2026-03-29, applied: +0.20 %, under: as-now, picks: [1, 1]}
conditions:
  as-now: {from: profile, stock: film, printer: bay-2, mode: film}
`
    const out = await run('feed wet', SHOP + printer + profile)
    expect(out.slice(out.indexOf('3. The fine picks'), out.indexOf('5. '))).toMatchInlineSnapshot(`
      "3. The fine picks
        mean pick   1                    of left +1, right +1, in steps of 1 µm a pass
        adds        +0.0100 % ±0.0057 %  mean pick times step, over the advance of a pass
        correction  +0.2100 %            the one the picks were printed with, and what they add

      4. What would be keyed in
        correction wanted          +0.2100 %
        the printer takes          -1.5 % to +1.5 %
        correction in the machine  +0.2 %            by the fine pattern of 2026-03-29
        exact measured length      999.900 mm        1000.000 · (1 + correction in the machine) / (1 + wanted)
        step                       0.1 mm            rounded to the nearest
        key in                     999.9 mm          as the measured length; the machine then runs with +0.210 %
        the rounding leaves        nothing

      "
    `)
    // A step of the picks is more than picks can be wrong by, though less than the rule can.
    expect(out).toContain('To be expected: 999.9 mm as the measured length')
  })

  test('a shop that works in inches', async () => {
    const shop = SHOP.replace('shop: Tern', 'units: us\nshop: Tern')
    const profile = `#- inch.media.yaml
profile: inch
printer: bay-1
feed:
  correction: 0 %
  checks:
    - {date: 2026-03-28, commanded: 40 in, measured: 39 15/16 in, applied: 0 %}
`
    const out = await run('feed inch', shop + profile)
    expect(out).toMatch(/40 in +39 15\/16 in +0 % +\+0\.1565 %/)
    expect(out).toContain('40.0000 / 39.9375 − 1')
  })

  test('a long history: the newest checks in a table, and the last few of them on paper', async () => {
    const old = Array.from({ length: 40 }, (_, i) => {
      const day = String((i % 28) + 1).padStart(2, '0')
      return `    - {date: 2025-0${1 + Math.floor(i / 28)}-${day}, commanded: 1000 mm, measured: 999 mm, applied: 0 %}`
    })
    const out = await run('feed film', SHOP + FILM.replace('  checks:\n', `  checks:\n${old.join('\n')}\n`))
    expect(out).toMatch(/20 earlier checks are not listed; 20 of them count/)
    expect(out.match(/^ *Check \d+, 20/gm)).toHaveLength(12)
  })

  test('what a document says cannot steer the terminal', async () => {
    const { out } = await ran('feed film', SHOP + FILM.replace('the web slipped', '"\\e[2Jthe web slipped"'), { isTty: true })
    expect(out).toContain('the web slipped')
    expect(out).not.toContain('\u001b')
  })
})

describe('as JSON', () => {
  test('what gains most, and null where nothing is to be printed', async () => {
    const shop = `#- rollbook.yaml
shop: Tern Quay Print Works
tolerance: {length: 0.05 %}
instruments: {rule-2m: {kind: rule, division: 0.5 mm, limit-of-error: class-1, length: 2 m}}
#- printers/bay-1.printer.yaml
printer: bay-1
modes: {four: {resolution: 720 x 360 dpi, passes: 4, carriage-speed: 1 m/s}}
feed: {step: 0.01 %, pattern-lengths: [500 mm, 2000 mm], repeatability: {value: 0.012 %, freedom: 14, date: 2026-02-01}}
#- stocks/film.stock.yaml
stock: film
family: banner-pvc
#- profiles/film.media.yaml
profile: film
stock: film
printer: bay-1
mode: four
feed:
  correction: +0.15 %
  checks: [{date: 2026-03-28, commanded: 2000 mm, measured: 1997 mm, applied: 0 %, with: rule-2m, web: 23 °C, under: here}]
conditions: {here: {from: profile, stock: film, printer: bay-1, mode: four}}
`
    const { advice, verdict } = JSON.parse((await ran('feed film --json', shop)).out)
    expect(advice).toMatchObject({ prints: 1, patternMm: 2000, instrument: 'rule-2m', worthwhile: true })
    expect(advice.chance).toBeGreaterThan(0.75)
    expect(advice.chance).toBeLessThanOrEqual(1)
    expect(verdict.text).toContain(advice.text)
    expect(JSON.parse((await ran('feed film --json', SHOP + FILM)).out).advice).toBeNull()
  })

  test('every number, null where there is none', async () => {
    const { out, err, code } = await ran('feed film --json', SHOP + FILM)
    expect(JSON.parse(out)).toMatchInlineSnapshot(`
      {
        "advice": null,
        "checks": [
          {
            "ageDays": 80,
            "appliedPercent": 0,
            "carriedPercent": 0.196944007,
            "carries": [],
            "check": 1,
            "commandedMm": 1000,
            "correctedMm": 998.034431,
            "date": "2026-01-10",
            "impliedPercent": 0.196944007,
            "instrument": "rule-1m",
            "leftOut": false,
            "lot": null,
            "measuredMm": 998,
            "proves": false,
            "reason": null,
            "residualPercent": 0.02293168717,
            "samePrint": false,
            "standardUncertaintyPercent": 0.04162024487,
            "suspect": false,
            "uncertaintyParts": [
              {
                "assumed": false,
                "cause": "reading",
                "shared": false,
                "standardUncertaintyPercent": 0.02049289575,
              },
              {
                "assumed": false,
                "cause": "limit-of-error",
                "shared": true,
                "standardUncertaintyPercent": 0.0289813311,
              },
              {
                "assumed": true,
                "cause": "rule-temperature",
                "shared": true,
                "standardUncertaintyPercent": 0.00133052085,
              },
              {
                "assumed": false,
                "cause": "web-temperature",
                "shared": true,
                "standardUncertaintyPercent": 0.01533946166,
              },
              {
                "assumed": false,
                "cause": "web-temperature",
                "shared": false,
                "standardUncertaintyPercent": 0.01533946166,
              },
            ],
            "uncertaintyPercent": 0.08157418097,
            "under": null,
            "weight": 0.1845552116,
          },
          {
            "ageDays": 11,
            "appliedPercent": 0,
            "carriedPercent": 0.1643127607,
            "carries": [],
            "check": 2,
            "commandedMm": 1000,
            "correctedMm": 998.3595678,
            "date": "2026-03-20",
            "impliedPercent": 0.1643127607,
            "instrument": "rule-1m",
            "leftOut": false,
            "lot": null,
            "measuredMm": 998.4,
            "proves": false,
            "reason": null,
            "residualPercent": -0.00969955917,
            "samePrint": false,
            "standardUncertaintyPercent": 0.03654109623,
            "suspect": false,
            "uncertaintyParts": [
              {
                "assumed": false,
                "cause": "reading",
                "shared": false,
                "standardUncertaintyPercent": 0.02047955004,
              },
              {
                "assumed": false,
                "cause": "limit-of-error",
                "shared": true,
                "standardUncertaintyPercent": 0.02896245741,
              },
              {
                "assumed": true,
                "cause": "rule-temperature",
                "shared": true,
                "standardUncertaintyPercent": 0.001330087538,
              },
              {
                "assumed": true,
                "cause": "web-temperature",
                "shared": true,
                "standardUncertaintyPercent": 0.00867448394,
              },
            ],
            "uncertaintyPercent": 0.07161923257,
            "under": null,
            "weight": 0.3158179458,
          },
          {
            "ageDays": 3,
            "appliedPercent": 0.1,
            "carriedPercent": 0.1716754257,
            "carries": [],
            "check": 3,
            "commandedMm": 2000,
            "correctedMm": 1998.568948,
            "date": "2026-03-28",
            "impliedPercent": 0.1716754257,
            "instrument": "rule-1m",
            "leftOut": false,
            "lot": null,
            "measuredMm": 1998.5,
            "proves": false,
            "reason": null,
            "residualPercent": -0.002336894158,
            "samePrint": false,
            "standardUncertaintyPercent": 0.03141859545,
            "suspect": false,
            "uncertaintyParts": [
              {
                "assumed": false,
                "cause": "reading",
                "shared": false,
                "standardUncertaintyPercent": 0.01023104939,
              },
              {
                "assumed": false,
                "cause": "limit-of-error",
                "shared": true,
                "standardUncertaintyPercent": 0.02025644433,
              },
              {
                "assumed": true,
                "cause": "rule-temperature",
                "shared": true,
                "standardUncertaintyPercent": 0.001330185307,
              },
              {
                "assumed": false,
                "cause": "web-temperature",
                "shared": true,
                "standardUncertaintyPercent": 0.01533559322,
              },
              {
                "assumed": false,
                "cause": "web-temperature",
                "shared": false,
                "standardUncertaintyPercent": 0.01533559322,
              },
            ],
            "uncertaintyPercent": 0.06157931553,
            "under": null,
            "weight": 0.4996268425,
          },
          {
            "ageDays": 2,
            "appliedPercent": 0,
            "carriedPercent": null,
            "carries": [],
            "check": 4,
            "commandedMm": 1000,
            "correctedMm": 990.034155,
            "date": "2026-03-29",
            "impliedPercent": 1.006616282,
            "instrument": "rule-1m",
            "leftOut": true,
            "lot": null,
            "measuredMm": 990,
            "proves": false,
            "reason": "the web slipped",
            "residualPercent": 0.832603962,
            "samePrint": false,
            "standardUncertaintyPercent": 0.04220342902,
            "suspect": false,
            "uncertaintyParts": [
              {
                "assumed": false,
                "cause": "reading",
                "shared": false,
                "standardUncertaintyPercent": 0.02082543224,
              },
              {
                "assumed": false,
                "cause": "limit-of-error",
                "shared": true,
                "standardUncertaintyPercent": 0.02945160872,
              },
              {
                "assumed": true,
                "cause": "rule-temperature",
                "shared": true,
                "standardUncertaintyPercent": 0.001341272533,
              },
              {
                "assumed": false,
                "cause": "web-temperature",
                "shared": true,
                "standardUncertaintyPercent": 0.01546341691,
              },
              {
                "assumed": false,
                "cause": "web-temperature",
                "shared": false,
                "standardUncertaintyPercent": 0.01546341691,
              },
            ],
            "uncertaintyPercent": 0.0827172009,
            "under": null,
            "weight": 0,
          },
        ],
        "correction": {
          "checks": 3,
          "coverage": 0.95,
          "finePicks": false,
          "k": 1.960695568,
          "percent": 0.1740123199,
          "prints": 3,
          "scatterPercent": 0.01949379738,
          "standardUncertaintyPercent": 0.03512661395,
          "uncertaintyPercent": 0.06887259629,
        },
        "date": "2026-03-31",
        "evidence": {
          "ageDays": 3,
          "due": null,
          "dueBy": null,
          "lot": null,
          "newestCheck": "2026-03-28",
          "recheckDays": 30,
          "stale": false,
        },
        "file": "profiles/film.media.yaml",
        "fine": null,
        "inProfile": {
          "asKeyedIn": false,
          "differencePercent": -0.07401231987,
          "mayStay": false,
          "percent": 0.1,
          "printsLongMmPerMetre": -0.7388375303,
          "withinUncertainty": false,
        },
        "keyIn": {
          "correctionPercent": 0.17,
          "entry": "percent",
          "machinePercent": null,
          "needed": true,
          "reason": null,
          "text": "+0.17 %",
          "unit": "%",
          "value": 0.17,
        },
        "notChecked": [],
        "problem": null,
        "profile": "film",
        "rounding": {
          "leavesMmPerMetre": -0.04005350065,
          "step": 0.01,
          "unit": "%",
        },
        "suspects": [],
        "tolerance": {
          "best": 0.9474805202,
          "goal": 0.95,
          "percent": 0.05,
        },
        "verdict": {
          "asItRuns": {
            "mean": 0.2415628744,
            "print": 0.2632648434,
          },
          "doubtful": "not-read",
          "onceKeyedIn": {
            "mean": 0.8497561405,
            "print": 0.7896827679,
          },
          "text": "Doubtful: the mode is not described, and the number rests on it. Name the mode first, and key in nothing before.",
          "word": "doubtful",
        },
        "version": "0.0.0-dev",
        "withoutSuspects": null,
      }
    `)
    expect({ err, code }).toEqual({ err: '', code: 0 })
  })

  test('agrees with the definition of a check', async () => {
    const { checks } = JSON.parse((await ran('feed film --json', SHOP + FILM)).out)
    for (const { appliedPercent, commandedMm, correctedMm, impliedPercent } of checks)
      expect(impliedPercent).toBeCloseTo(((1 + appliedPercent / 100) * (commandedMm / correctedMm) - 1) * 100, 6)
  })

  test('nothing to reckon with: null and exit code 1', async () => {
    const { out, code } = await ran('feed film --json', SHOP + FILM.replace(/ {2}checks:[\s\S]*/, ''))
    expect(JSON.parse(out)).toMatchObject({ correction: null, keyIn: null, checks: [], inProfile: { percent: 0.1 } })
    expect(code).toBe(1)
  })
})

describe('nothing to reckon with', () => {
  const bare = (feed: string): string => `${SHOP}#- new.media.yaml\nprofile: new\nprinter: bay-1\n${feed}`

  test('no feed at all', async () => {
    expect(await run('feed new', bare(''))).toMatchInlineSnapshot(`
      "Feed of new: on bay-1, reckoned on 2026-03-31
      =============================================

      In short
        - There is no check yet. Print a pattern, measure it, and write both lengths down under feed, checks.
        - Unknown: nothing usable was measured.
      exit 1"
    `)
  })

  test('a check that is half typed', async () => {
    const checks = 'feed:\n  checks:\n    - {date: 2026-03-30, commanded: 1000 mm}\n'
    expect(await run('feed new', bare(checks))).toMatchInlineSnapshot(`
      "Feed of new: on bay-1, reckoned on 2026-03-31
      =============================================

      In short
        - No check counts, so there is nothing to reckon with: print a new one.
        - Unknown: nothing usable was measured.

      1. What the checks say
        A check asks for (1 + applied) · commanded / measured − 1, with the length brought to the reference temperature
        of 23 °C and to the relaxed web.
        check  date        commanded  measured  applied  asks for  95 % interval  counts for
        1      2026-03-30  1000 mm    —         —        —         —              left out
        - Check 1 is left out: date, commanded, measured or applied is missing or not understood.
      exit 1"
    `)
  })

  test('a slipped decimal point', async () => {
    const checks = 'feed:\n  checks:\n    - {date: 2026-03-30, commanded: 1000 mm, measured: 99.8 mm, applied: 0 %}\n'
    expect(await run('feed new', bare(checks))).toMatchInlineSnapshot(`
      "Feed of new: on bay-1, reckoned on 2026-03-31
      =============================================

      In short
        - No check counts, so there is nothing to reckon with: print a new one.
        - Unknown: nothing usable was measured.

      1. What the checks say
        A check asks for (1 + applied) · commanded / measured − 1, with the length brought to the reference temperature
        of 23 °C and to the relaxed web.
        check  date        commanded  measured  applied  asks for  95 % interval  counts for
        1      2026-03-30  1000 mm    99.8 mm   0 %      —         —              left out
        - Check 1 is left out: it does not say what the machine was set to (under).

      2. Age and lot
        The newest check is check 1 of 2026-03-30, 1 day before 2026-03-31. The shop trusts a check for 30 days.
        The next one is due now.
      exit 1"
    `)
  })

  test('a correction the printer does not take', async () => {
    const checks = 'feed:\n  checks:\n    - {date: 2026-03-30, commanded: 1000 mm, measured: 900 mm, applied: 0 %}\n'
    const out = await run('feed new', bare(checks))
    expect(out).toContain('Nothing may be keyed in: the correction wanted is 11.111 %, and the printer takes -2 % to 2 %.')
  })

  test('no numbers anywhere are not numbers', async () => {
    for (const feed of ['', 'feed:\n  correction: +0.1 %\n', 'feed: {checks: []}\n', 'feed: nonsense\n'])
      for (const line of ['feed new', 'feed new --json'])
        expect((await ran(line, bare(feed))).out).not.toMatch(/NaN|Infinity|undefined/)
  })
})

describe('bad input', () => {
  test('an id that is none', async () => {
    expect(await run('feed flim', SHOP + FILM)).toMatchInlineSnapshot(`
      "! There is no profile 'flim' here, and no such file. Do you mean 'film'?
      exit 2"
    `)
  })

  test('two profiles with one id', async () => {
    const twice = FILM + FILM.replace('profiles/film', 'old/film')
    expect(await run('feed film', SHOP + twice)).toMatchInlineSnapshot(`
      "! More than one profile is named 'film': old/film.media.yaml and profiles/film.media.yaml. Name the file.
      exit 2"
    `)
    expect((await ran('feed old/film.media.yaml', SHOP + twice)).code).toBe(0)
  })

  test('a printer, a folder, another file', async () => {
    expect(await run('feed printers/bay-1.printer.yaml', SHOP + FILM)).toMatchInlineSnapshot(`
      "! 'printers/bay-1.printer.yaml' is not a profile: only profiles (*.media.yaml) hold a feed.
      exit 2"
    `)
    expect(await run('feed profiles', SHOP + FILM)).toMatchInlineSnapshot(`
      "! 'profiles' is a folder: name one profile in it.
      exit 2"
    `)
    expect(await run('feed notes.txt', `${SHOP}#- notes.txt\nx\n`)).toMatchInlineSnapshot(`
      "! 'notes.txt' is not a Rollbook document: these are named rollbook.yaml, *.stock.yaml, *.printer.yaml and *.media.yaml.
      exit 2"
    `)
  })

  test('a profile that cannot be read, and one that is no mapping', async () => {
    const shell = { unreadable: ['profiles/film.media.yaml'] }
    expect(await run('feed profiles/film.media.yaml', SHOP + FILM, shell)).toMatchInlineSnapshot(`
      "! profiles/film.media.yaml cannot be read: permission is denied
      exit 2"
    `)
    expect(await run('feed list.media.yaml', `${SHOP}#- list.media.yaml\n- a\n`)).toMatchInlineSnapshot(`
      "! list.media.yaml holds no settings that can be read: 'rollbook check list.media.yaml' says why.
      exit 2"
    `)
  })

  test('a stock, a printer and a rule that are not there: told before the number, which is not as good as another', async () => {
    const { out, code } = await ran('feed film', FILM)
    expect(code).toBe(2)
    expect(out.slice(0, out.indexOf('1. '))).toMatchInlineSnapshot(`
      "Feed of film: film on bay-1, reckoned on 2026-03-31
      ===================================================

      In short
        - Settle first: There is no stock 'film' in this shop that can be read.
        - Settle first: There is no printer 'bay-1' in this shop that can be read.
        - Settle first: There is no rollbook.yaml that can be read and lists the instrument 'rule-1m'.
        - What follows is reckoned without that, and may be another number with it: key in nothing before.
        - Add the document of the stock film first, and key in nothing before.
        - Doubtful: the document of the stock film is not there, and the number rests on it.
        - To be expected: +0.176 %.
        - The profile has +0.10 %: prints come out 0.76 mm per metre short, more than the uncertainty.
        - The correction to expect is +0.1763 % ±0.068 %, by 3 checks. Here and below, ± is the 95 % interval.

      "
    `)
  })
})

describe('in the editor', () => {
  test('the same words as Markdown', async () => {
    const fixture = parseFixture(SHOP + FILM)
    const file = [...fixture.files.keys()].find((f) => f.endsWith('film.media.yaml'))!
    const analysis = await openFixture({ ...fixture, file, text: fixture.files.get(file)! })
    const markdown = feedReckoningMarkdown(analysis.context(file)!.setup!)
    expect(markdown).toMatchInlineSnapshot(`
      "# Feed of film: film on bay-1, reckoned on 2026-03-31

      ## In short

      - Name the mode first, and key in nothing before.
      - Doubtful: the mode is not described, and the number rests on it.
      - To be expected: +0.17 %.
      - The profile has +0.10 %: prints come out 0.74 mm per metre short, more than the uncertainty.
      - The correction to expect is +0.1740 % ±0.069 %, by 3 checks. Here and below, ± is the 95 % interval.

      ## 1. What the checks say

      A check asks for (1 + applied) · commanded / measured − 1, with the length brought to the reference temperature
      of 23 °C and to the relaxed web.

      | check | date       | commanded |  measured | applied |  asks for | 95 % interval | counts for |
      | ----: | ---------- | --------: | --------: | ------: | --------: | ------------- | ---------- |
      |     1 | 2026-01-10 |   1000 mm |    998 mm |     0 % | +0.1969 % | ±0.082 %      | 18 %       |
      |     2 | 2026-03-20 |   1000 mm |  998.4 mm |     0 % | +0.1643 % | ±0.072 %      | 32 %       |
      |     3 | 2026-03-28 |   2000 mm | 1998.5 mm | +0.10 % | +0.1717 % | ±0.062 %      | 50 %       |
      |     4 | 2026-03-29 |   1000 mm |    990 mm |     0 % | +1.0066 % | ±0.083 %      | left out   |

      - Check 1 proves nothing of today: it does not say what the machine was set to (under).
      - Check 2 proves nothing of today: it does not say what the machine was set to (under).
      - Check 3 proves nothing of today: it does not say what the machine was set to (under).
      - Check 4 is left out: the web slipped.

      ### Check 1, 2026-01-10, rule-1m

      |                                          |            |                                                                                                           |
      | ---------------------------------------- | ---------- | --------------------------------------------------------------------------------------------------------- |
      | measured                                 | 998.000 mm |                                                                                                           |
      | rule at 23 °C, true at 20 °C             | +0.034 mm  | × 1.0000345                                                                                               |
      | relaxed, at the reference temperature    | 998.034 mm |                                                                                                           |
      | asks for                                 | +0.1969 %  | (1 + 0) · 1000.000 / 998.034 − 1                                                                          |
      | reading both edges on rule-1m            | 0.02 %     | standard uncertainty, 0.2 mm on the length: steps of 0.5 mm / √6                                          |
      | limit of error of rule-1m (shared)       | 0.029 %    | standard uncertainty, 0.29 mm on the length: 0.5 mm either way / √3                                       |
      | temperature of rule-1m (shared, assumed) | 0.0013 %   | standard uncertainty, 0.013 mm on the length: 2 K either way / √3, by the expansion                       |
      | temperature of the web (shared)          | 0.015 %    | standard uncertainty, 0.15 mm on the length: 5 K either way / √6 (half of the variance), by the expansion |
      | temperature of the web on that day       | 0.015 %    | standard uncertainty, 0.15 mm on the length: 5 K either way / √6 (half of the variance), by the expansion |
      | standard uncertainty                     | 0.042 %    | of all together, 0.41 mm on the length: the root of the sum of squares                                    |
      | 95 % interval                            | ±0.082 %   | 1.96 times that                                                                                           |

      It counts for 18 %. It lies +0.0229 % from the result.

      ### Check 2, 2026-03-20, rule-1m

      |                                          |            |                                                                                     |
      | ---------------------------------------- | ---------- | ----------------------------------------------------------------------------------- |
      | measured                                 | 998.400 mm |                                                                                     |
      | rule at 23 °C, true at 20 °C             | +0.034 mm  | × 1.0000345                                                                         |
      | web at 24 °C instead of 23 °C            | -0.075 mm  | × 0.9999250                                                                         |
      | relaxed, at the reference temperature    | 998.360 mm |                                                                                     |
      | asks for                                 | +0.1643 %  | (1 + 0) · 1000.000 / 998.360 − 1                                                    |
      | reading both edges on rule-1m            | 0.02 %     | standard uncertainty, 0.2 mm on the length: steps of 0.5 mm / √6                    |
      | limit of error of rule-1m (shared)       | 0.029 %    | standard uncertainty, 0.29 mm on the length: 0.5 mm either way / √3                 |
      | temperature of rule-1m (shared, assumed) | 0.0013 %   | standard uncertainty, 0.013 mm on the length: 2 K either way / √3, by the expansion |
      | temperature of the web (shared, assumed) | 0.0087 %   | standard uncertainty, 0.086 mm on the length: 2 K either way / √3, by the expansion |
      | standard uncertainty                     | 0.037 %    | of all together, 0.36 mm on the length: the root of the sum of squares              |
      | 95 % interval                            | ±0.072 %   | 1.96 times that                                                                     |

      It counts for 32 %. It lies -0.0097 % from the result.

      ### Check 3, 2026-03-28, rule-1m

      |                                          |             |                                                                                                           |
      | ---------------------------------------- | ----------- | --------------------------------------------------------------------------------------------------------- |
      | measured                                 | 1998.500 mm |                                                                                                           |
      | rule at 23 °C, true at 20 °C             | +0.069 mm   | × 1.0000345                                                                                               |
      | relaxed, at the reference temperature    | 1998.569 mm |                                                                                                           |
      | asks for                                 | +0.1717 %   | (1 + 0.001) · 2000.000 / 1998.569 − 1                                                                     |
      | reading both edges on rule-1m            | 0.01 %      | standard uncertainty, 0.2 mm on the length: steps of 0.5 mm / √6                                          |
      | limit of error of rule-1m (shared)       | 0.02 %      | standard uncertainty, 0.4 mm on the length: 0.7 mm either way / √3                                        |
      | temperature of rule-1m (shared, assumed) | 0.0013 %    | standard uncertainty, 0.027 mm on the length: 2 K either way / √3, by the expansion                       |
      | temperature of the web (shared)          | 0.015 %     | standard uncertainty, 0.31 mm on the length: 5 K either way / √6 (half of the variance), by the expansion |
      | temperature of the web on that day       | 0.015 %     | standard uncertainty, 0.31 mm on the length: 5 K either way / √6 (half of the variance), by the expansion |
      | standard uncertainty                     | 0.031 %     | of all together, 0.63 mm on the length: the root of the sum of squares                                    |
      | 95 % interval                            | ±0.062 %    | 1.96 times that                                                                                           |

      It counts for 50 %. It lies -0.0023 % from the result.

      ## 2. What they say together

      |                          |           |                                                                                            |
      | ------------------------ | --------- | ------------------------------------------------------------------------------------------ |
      | weighted mean            | +0.1740 % | 3 checks                                                                                   |
      | readings                 | 0.012 %   | standard uncertainty, falls with the number of checks                                      |
      | scatter of the feed      | 0.015 %   | standard uncertainty, from print to print, by the checks and what is typical (from memory) |
      | age                      | 0.0082 %  | standard uncertainty, how far a feed wanders with time (typical, from memory)              |
      | limit of error (rule-1m) | 0.025 %   | standard uncertainty, shared by the checks: more of them do not lessen it                  |
      | temperature of the rules | 0.0013 %  | standard uncertainty, shared by the checks: more of them do not lessen it                  |
      | temperature of the web   | 0.013 %   | standard uncertainty, shared by the checks: more of them do not lessen it                  |
      | standard uncertainty     | 0.035 %   | of all together                                                                            |
      | 95 % interval            | ±0.069 %  | 1.96 times that                                                                            |

      From print to print the feed scatters by about 0.019 % (0.0031 % to 0.061 %), standard deviation: not estimated and plugged in, but reckoned at every size it may have.

      | other ways to put them together       |     gives | standard uncertainty                      |
      | ------------------------------------- | --------: | ----------------------------------------- |
      | line through the origin               | +0.1747 % |                                           |
      | mean of the ratios                    | +0.1776 % |                                           |
      | random effects, DerSimonian and Laird | +0.1756 % | 0.021 %, with a scatter of 0 % plugged in |
      | random effects, Mandel and Paule      | +0.1756 % | 0.021 %, with a scatter of 0 % plugged in |

      ## 3. What would be keyed in

      |                     |                         |                        |
      | ------------------- | ----------------------- | ---------------------- |
      | correction wanted   | +0.1740 %               |                        |
      | the printer takes   | -2 % to +2 %            |                        |
      | step                | 0.01 %                  | rounded to the nearest |
      | key in              | +0.17 %                 |                        |
      | the rounding leaves | 0.04 mm per metre short |                        |

      ## 4. Is the tolerance kept

      The shop's length tolerance is 0.05 %, 0.5 mm per metre, and 95 % of prints are to keep it.
      Doubtful: the mode is not described, and the number rests on it.
      Name the mode first, and key in nothing before.

      |                          | of prints | of the mean of many |
      | ------------------------ | --------: | ------------------: |
      | with +0.10 %, as it runs |      26 % |                24 % |
      | with +0.17 % keyed in    |      78 % |                84 % |

      If the mean were known perfectly, 94 % of prints would keep it: the rest is the scatter of the feed.

      ## 5. Age and lot

      The newest check is check 3 of 2026-03-28, 3 days before 2026-03-31. The shop trusts a check for 30 days.
      The next one is due now.
      "
    `)
    const words = (text: string): string =>
      text
        .replace(/^\|(?: [-:]+ \|)+$|^=+$|^#+ |^\s*- |[|\\]/gm, ' ')
        .replace(/\s+/g, ' ')
        .trim()
    const terminal = (await ran('feed film', SHOP + FILM)).out
    expect(words(markdown)).toBe(words(terminal))
  })

  test('text of a document stays text', async () => {
    const fixture = parseFixture(SHOP + FILM.replace('the web slipped', '"[x](command:y) <b> | *z* &amp; `q`"'))
    const file = [...fixture.files.keys()].find((f) => f.endsWith('film.media.yaml'))!
    const analysis = await openFixture({ ...fixture, file, text: fixture.files.get(file)! })
    expect(feedReckoningMarkdown(analysis.context(file)!.setup!)).toContain(
      '\\[x\\](command:y) \\<b\\> \\| \\*z\\* &amp;amp; \\`q\\`',
    )
  })
})
