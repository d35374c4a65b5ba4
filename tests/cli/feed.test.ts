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
        - Key in +0.17 %.
        - The profile has +0.10 %: prints come out 0.69 mm per metre short, more than the uncertainty.
        - The correction asked for is +0.1694 % ±0.052 %, by 2 checks. Here and below, ± is the 95 % interval.
        - The shop's length tolerance of 0.05 % is not proven.

      1. What the checks say
        A check asks for (1 + applied) · commanded / measured − 1, with the length brought to the reference temperature
        of 23 °C and to the relaxed web.
        check  date        commanded  measured   applied  asks for   95 % interval  counts for
        1      2026-01-10  1000 mm    998 mm     0 %      +0.1969 %  ±0.072 %       left out
        2      2026-03-20  1000 mm    998.4 mm   0 %      +0.1643 %  ±0.072 %       31 %
        3      2026-03-28  2000 mm    1998.5 mm  +0.10 %  +0.1717 %  ±0.048 %       69 %
        4      2026-03-29  1000 mm    990 mm     0 %      +1.0066 %  ±0.073 %       left out
        - Check 1 is left out: it is 80 days old, and a check proves the feed for 30 days.
        - Check 4 is left out: the web slipped.

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
          It counts for 31 %. It lies -0.0051 % from the result, 0.2 of its standard deviations.

        Check 3, 2026-03-28, rule-1m
          measured                                  1998.500 mm
          rule at 23 °C, true at 20 °C              +0.069 mm    × 1.0000345
          relaxed, at the reference temperature     1998.569 mm
          asks for                                  +0.1717 %    (1 + 0.001) · 2000.000 / 1998.569 − 1
          reading both edges on rule-1m             0.01 %       standard uncertainty, 0.2 mm on the length: steps of 0.5 mm / √6
          limit of error of rule-1m (shared)        0.02 %       standard uncertainty, 0.4 mm on the length: 0.7 mm either way / √3
          temperature of rule-1m (shared, assumed)  0.0013 %     standard uncertainty, 0.027 mm on the length: 2 K either way / √3, by the expansion
          temperature of the web (shared, assumed)  0.0087 %     standard uncertainty, 0.17 mm on the length: 2 K either way / √3, by the expansion
          standard uncertainty                      0.024 %      of all together, 0.49 mm on the length: the root of the sum of squares
          95 % interval                             ±0.048 %     1.96 times that
          It counts for 69 %. It lies +0.0023 % from the result, 0.2 of its standard deviations.

      2. What they say together
        weighted mean              +0.1694 %  2 checks, each by its uncertainty
        readings                   0.0095 %   standard uncertainty, falls with the number of checks
        limit of error of rule-1m  0.023 %    standard uncertainty, shared by the checks: more of them do not lessen it
        temperature of the rules   0.0013 %   standard uncertainty, shared by the checks: more of them do not lessen it
        temperature of the web     0.0087 %   standard uncertainty, shared by the checks: more of them do not lessen it
        standard uncertainty       0.026 %    of all together, unlimited degrees of freedom
        95 % interval              ±0.052 %   1.96 times that
        Birge ratio 0.32: the checks agree as well as their uncertainties say.
        other ways to put them together       gives
        line through the origin               +0.1702 %
        sum of expected over sum of measured  +0.1692 %
        mean of the ratios                    +0.1680 %

      3. What to key in
        correction wanted    +0.1694 %
        the printer takes    -2 % to +2 %
        step                 0.01 %                    rounded to the nearest
        key in               +0.17 %
        the rounding leaves  0.0058 mm per metre long

      4. Is the tolerance proven
        The shop's length tolerance is 0.05 %, 0.5 mm per metre.
        The correction asked for is known to ±0.052 %: it is not proven.
        With the rule of the weightiest check, one pattern of 1920 mm proves it.

      5. Age and lot
        The newest check is check 3 of 2026-03-28, 3 days before 2026-03-31. A check proves the feed for 30 days.
        The next one is due on 2026-04-27.
      exit 0"
    `)
  })

  test('± is the same interval of one check wherever it stands', async () => {
    const one = FILM.replace(/ {4}- \{date: (?!2026-03-28).*\n/g, '')
    const out = await run('feed film', SHOP + one)
    const found = [...out.matchAll(/\+0\.1717 % +(±[\d.]+ %)/g)].map((match) => match[1])
    expect(found).toEqual(['±0.048 %', '±0.048 %'])
    expect(out.match(/95 % interval +(±[\d.]+ %)/g)).toHaveLength(2)
    expect(new Set(out.match(/±[\d.]+ %/g))).toEqual(new Set(['±0.048 %']))
    // Every other spread is called what it is.
    for (const line of out.split('\n').filter((l) => /√|shared|root of the sum/.test(l))) expect(line).not.toContain('±')
    const { checks, correction } = JSON.parse((await ran('feed film --json', SHOP + one)).out)
    expect(checks[0].uncertaintyPercent).toBeCloseTo(correction.uncertaintyPercent, 9)
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
      "  - Look at check 5 first: far from the others, and still counted.
        5      2026-03-24  1000 mm    994 mm    0 %      +0.6002 %  ±0.07 %        20 %, suspect
          Suspect: it stands 1.79 standard deviations apart from the others, and 1.72 would be usual at most.
        Birge ratio 8.77: the checks scatter more than their uncertainties say, and the uncertainty is widened by that.
        Suspect: check 5. Only a person leaves a check out, with skip and a reason.
        Without: +0.1969 % ±0.06 % from 4 checks."
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

      4. What to key in
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
    expect(out).toContain('Key in 999.9 mm as the measured length')
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

  test('a long history: the checks that count in full, of the older ones the last few', async () => {
    const old = Array.from({ length: 40 }, (_, i) => {
      const day = String((i % 28) + 1).padStart(2, '0')
      return `    - {date: 2025-0${1 + Math.floor(i / 28)}-${day}, commanded: 1000 mm, measured: 999 mm, applied: 0 %}`
    })
    const out = await run('feed film', SHOP + FILM.replace('  checks:\n', `  checks:\n${old.join('\n')}\n`))
    expect(out).toContain('22 earlier checks that are left out are not listed.')
    expect(out.match(/is left out/g)).toHaveLength(20)
  })

  test('what a document says cannot steer the terminal', async () => {
    const { out } = await ran('feed film', SHOP + FILM.replace('the web slipped', '"\\e[2Jthe web slipped"'), { isTty: true })
    expect(out).toContain('the web slipped')
    expect(out).not.toContain('\u001b')
  })
})

describe('as JSON', () => {
  test('every number, null where there is none', async () => {
    const { out, err, code } = await ran('feed film --json', SHOP + FILM)
    expect(JSON.parse(out)).toMatchInlineSnapshot(`
      {
        "checks": [
          {
            "ageDays": 80,
            "appliedPercent": 0,
            "check": 1,
            "commandedMm": 1000,
            "correctedMm": 998.034431,
            "date": "2026-01-10",
            "impliedPercent": 0.196944007,
            "instrument": "rule-1m",
            "leftOut": true,
            "lot": null,
            "measuredMm": 998,
            "reason": "it is 80 days old, and a check proves the feed for 30 days",
            "residualPercent": 0.02752991516,
            "standardUncertaintyPercent": 0.03656422188,
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
                "assumed": true,
                "cause": "web-temperature",
                "shared": true,
                "standardUncertaintyPercent": 0.008677309889,
              },
            ],
            "uncertaintyPercent": 0.071664558,
            "weight": 0,
          },
          {
            "ageDays": 11,
            "appliedPercent": 0,
            "check": 2,
            "commandedMm": 1000,
            "correctedMm": 998.3595678,
            "date": "2026-03-20",
            "impliedPercent": 0.1643127607,
            "instrument": "rule-1m",
            "leftOut": false,
            "lot": null,
            "measuredMm": 998.4,
            "reason": null,
            "residualPercent": -0.005101331176,
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
            "weight": 0.3071195919,
          },
          {
            "ageDays": 3,
            "appliedPercent": 0.1,
            "check": 3,
            "commandedMm": 2000,
            "correctedMm": 1998.568948,
            "date": "2026-03-28",
            "impliedPercent": 0.1716754257,
            "instrument": "rule-1m",
            "leftOut": false,
            "lot": null,
            "measuredMm": 1998.5,
            "reason": null,
            "residualPercent": 0.002261333837,
            "standardUncertaintyPercent": 0.0243315646,
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
                "assumed": true,
                "cause": "web-temperature",
                "shared": true,
                "standardUncertaintyPercent": 0.008675121566,
              },
            ],
            "uncertaintyPercent": 0.0476889903,
            "weight": 0.6928804081,
          },
          {
            "ageDays": 2,
            "appliedPercent": 0,
            "check": 4,
            "commandedMm": 1000,
            "correctedMm": 990.034155,
            "date": "2026-03-29",
            "impliedPercent": 1.006616282,
            "instrument": "rule-1m",
            "leftOut": true,
            "lot": null,
            "measuredMm": 990,
            "reason": "the web slipped",
            "residualPercent": 0.83720219,
            "standardUncertaintyPercent": 0.03714044184,
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
                "assumed": true,
                "cause": "web-temperature",
                "shared": true,
                "standardUncertaintyPercent": 0.008747429565,
              },
            ],
            "uncertaintyPercent": 0.07279392838,
            "weight": 0,
          },
        ],
        "correction": {
          "birgeRatio": 0.3206463467,
          "checks": 2,
          "coverage": 0.95,
          "degreesOfFreedom": null,
          "finePicks": false,
          "k": 1.959963985,
          "percent": 0.1694140919,
          "standardUncertaintyPercent": 0.02631819819,
          "uncertaintyPercent": 0.05158272059,
        },
        "date": "2026-03-31",
        "evidence": {
          "ageDays": 3,
          "lot": null,
          "newestCheck": "2026-03-28",
          "recheckDays": 30,
          "stale": false,
        },
        "file": "profiles/film.media.yaml",
        "fine": null,
        "inProfile": {
          "asKeyedIn": false,
          "differencePercent": -0.06941409187,
          "mayStay": false,
          "percent": 0.1,
          "printsLongMmPerMetre": -0.6929669351,
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
          "leavesMmPerMetre": 0.005849171952,
          "step": 0.01,
          "unit": "%",
        },
        "suspects": [],
        "tolerance": {
          "leastUncertaintyPercent": 0.02840911286,
          "neededPatternMm": 1918.883516,
          "percent": 0.05,
          "proven": false,
          "provenOnceKeyedIn": false,
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

      1. What the checks say
        A check asks for (1 + applied) · commanded / measured − 1, with the length brought to the reference temperature
        of 23 °C and to the relaxed web.
        check  date        commanded  measured  applied  asks for  95 % interval  counts for
        1      2026-03-30  1000 mm    99.8 mm   0 %      —         —              left out
        - Check 1 is left out: 99.8 mm was measured where about 1000 mm was to be expected; look for a slipped decimal point or a wrong unit.

      2. Age and lot
        The newest check is check 1 of 2026-03-30, 1 day before 2026-03-31. A check proves the feed for 30 days.
        The next one is due on 2026-04-29.
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
        - Key in +0.171 %.
        - The profile has +0.10 %: prints come out 0.71 mm per metre short, more than the uncertainty.
        - The correction asked for is +0.1714 % ±0.057 %, by 2 checks. Here and below, ± is the 95 % interval.
        - The shop's length tolerance of 0.05 % is not proven.

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

      - Key in +0.17 %.
      - The profile has +0.10 %: prints come out 0.69 mm per metre short, more than the uncertainty.
      - The correction asked for is +0.1694 % ±0.052 %, by 2 checks. Here and below, ± is the 95 % interval.
      - The shop's length tolerance of 0.05 % is not proven.

      ## 1. What the checks say

      A check asks for (1 + applied) · commanded / measured − 1, with the length brought to the reference temperature
      of 23 °C and to the relaxed web.

      | check | date | commanded | measured | applied | asks for | 95 % interval | counts for |
      | --- | --- | --- | --- | --- | --- | --- | --- |
      | 1 | 2026-01-10 | 1000 mm | 998 mm | 0 % | +0.1969 % | ±0.072 % | left out |
      | 2 | 2026-03-20 | 1000 mm | 998.4 mm | 0 % | +0.1643 % | ±0.072 % | 31 % |
      | 3 | 2026-03-28 | 2000 mm | 1998.5 mm | +0.10 % | +0.1717 % | ±0.048 % | 69 % |
      | 4 | 2026-03-29 | 1000 mm | 990 mm | 0 % | +1.0066 % | ±0.073 % | left out |

      - Check 1 is left out: it is 80 days old, and a check proves the feed for 30 days.
      - Check 4 is left out: the web slipped.

      ### Check 2, 2026-03-20, rule-1m

      |   |   |   |
      | --- | --- | --- |
      | measured | 998.400 mm |  |
      | rule at 23 °C, true at 20 °C | +0.034 mm | × 1.0000345 |
      | web at 24 °C instead of 23 °C | -0.075 mm | × 0.9999250 |
      | relaxed, at the reference temperature | 998.360 mm |  |
      | asks for | +0.1643 % | (1 + 0) · 1000.000 / 998.360 − 1 |
      | reading both edges on rule-1m | 0.02 % | standard uncertainty, 0.2 mm on the length: steps of 0.5 mm / √6 |
      | limit of error of rule-1m (shared) | 0.029 % | standard uncertainty, 0.29 mm on the length: 0.5 mm either way / √3 |
      | temperature of rule-1m (shared, assumed) | 0.0013 % | standard uncertainty, 0.013 mm on the length: 2 K either way / √3, by the expansion |
      | temperature of the web (shared, assumed) | 0.0087 % | standard uncertainty, 0.086 mm on the length: 2 K either way / √3, by the expansion |
      | standard uncertainty | 0.037 % | of all together, 0.36 mm on the length: the root of the sum of squares |
      | 95 % interval | ±0.072 % | 1.96 times that |

      It counts for 31 %. It lies -0.0051 % from the result, 0.2 of its standard deviations.

      ### Check 3, 2026-03-28, rule-1m

      |   |   |   |
      | --- | --- | --- |
      | measured | 1998.500 mm |  |
      | rule at 23 °C, true at 20 °C | +0.069 mm | × 1.0000345 |
      | relaxed, at the reference temperature | 1998.569 mm |  |
      | asks for | +0.1717 % | (1 + 0.001) · 2000.000 / 1998.569 − 1 |
      | reading both edges on rule-1m | 0.01 % | standard uncertainty, 0.2 mm on the length: steps of 0.5 mm / √6 |
      | limit of error of rule-1m (shared) | 0.02 % | standard uncertainty, 0.4 mm on the length: 0.7 mm either way / √3 |
      | temperature of rule-1m (shared, assumed) | 0.0013 % | standard uncertainty, 0.027 mm on the length: 2 K either way / √3, by the expansion |
      | temperature of the web (shared, assumed) | 0.0087 % | standard uncertainty, 0.17 mm on the length: 2 K either way / √3, by the expansion |
      | standard uncertainty | 0.024 % | of all together, 0.49 mm on the length: the root of the sum of squares |
      | 95 % interval | ±0.048 % | 1.96 times that |

      It counts for 69 %. It lies +0.0023 % from the result, 0.2 of its standard deviations.

      ## 2. What they say together

      |   |   |   |
      | --- | --- | --- |
      | weighted mean | +0.1694 % | 2 checks, each by its uncertainty |
      | readings | 0.0095 % | standard uncertainty, falls with the number of checks |
      | limit of error of rule-1m | 0.023 % | standard uncertainty, shared by the checks: more of them do not lessen it |
      | temperature of the rules | 0.0013 % | standard uncertainty, shared by the checks: more of them do not lessen it |
      | temperature of the web | 0.0087 % | standard uncertainty, shared by the checks: more of them do not lessen it |
      | standard uncertainty | 0.026 % | of all together, unlimited degrees of freedom |
      | 95 % interval | ±0.052 % | 1.96 times that |

      Birge ratio 0.32: the checks agree as well as their uncertainties say.

      | other ways to put them together | gives |
      | --- | --- |
      | line through the origin | +0.1702 % |
      | sum of expected over sum of measured | +0.1692 % |
      | mean of the ratios | +0.1680 % |

      ## 3. What to key in

      |   |   |   |
      | --- | --- | --- |
      | correction wanted | +0.1694 % |  |
      | the printer takes | -2 % to +2 % |  |
      | step | 0.01 % | rounded to the nearest |
      | key in | +0.17 % |  |
      | the rounding leaves | 0.0058 mm per metre long |  |

      ## 4. Is the tolerance proven

      The shop's length tolerance is 0.05 %, 0.5 mm per metre.
      The correction asked for is known to ±0.052 %: it is not proven.
      With the rule of the weightiest check, one pattern of 1920 mm proves it.

      ## 5. Age and lot

      The newest check is check 3 of 2026-03-28, 3 days before 2026-03-31. A check proves the feed for 30 days.
      The next one is due on 2026-04-27.
      "
    `)
    const words = (text: string): string =>
      text
        .replace(/^\|(?: --- \|)+$|^=+$|^#+ |^\s*- |[|\\]/gm, ' ')
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
