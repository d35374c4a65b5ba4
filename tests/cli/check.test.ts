// `rollbook check`: what is printed and the exit code, for good shops, bad documents and wrong arguments.
import { describe, expect, test } from 'vitest'
import { PRINTER, ran, run, shopWith } from './shell.ts'

const SHORT = `#- profiles/banner.media.yaml
profile: banner
printer: bay-1
feed:
  correction: +0.05 %
  checks:
    - {date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: +0.05 %}
`

const SLIP = `#- profiles/canvas.media.yaml
profile: canvas
profile: canvas
printer: bay-1
`

describe('for people', () => {
  test('findings are grouped by file, with place, severity, code and fixes', async () => {
    expect(await run('check', shopWith('duplicate-key', 'feed-correction') + PRINTER + SHORT + SLIP)).toMatchInlineSnapshot(`
      "profiles/banner.media.yaml
        4:15  warning feed-correction Name the stock first, and key in nothing before. By what is known prints come out 2 mm per metre short. 1 check asks for +0.25 % ±0.11 %, and +0.05 % is set.
              fix: Set the correction to +0.25 % (from 1 check)

      profiles/canvas.media.yaml
        2:1  error duplicate-key 'profile' is given twice with the same value. One is enough.
             see profiles/canvas.media.yaml:1:1 The first one, which counts here.
             fix: Delete the later one

      4 documents checked: 1 error, 1 warning and 0 hints in 2 of them. 2 can be put right with a fix offered in the editor.
      exit 1"
    `)
  })

  test('a clean shop', async () => {
    expect(await run('check .', shopWith('duplicate-key') + PRINTER)).toMatchInlineSnapshot(`
      "2 documents checked: nothing found.
      exit 0"
    `)
  })

  test('hints alone are no reason to fail', async () => {
    const shop = shopWith('feed-correction').replace('rules:\n', 'rules:\n  feed-correction: hint\n')
    expect(await run('check', shop + PRINTER + SHORT)).toMatchInlineSnapshot(`
      "profiles/banner.media.yaml
        4:15  hint feed-correction Name the stock first, and key in nothing before. By what is known prints come out 2 mm per metre short. 1 check asks for +0.25 % ±0.11 %, and +0.05 % is set.
              fix: Set the correction to +0.25 % (from 1 check)

      3 documents checked: 0 errors, 0 warnings and 1 hint in 1 of them. 1 can be put right with a fix offered in the editor.
      exit 0"
    `)
    expect(await run('check --quiet', shop + PRINTER + SHORT)).toBe('exit 0')
  })

  test('quiet: errors and warnings, and no line at the end', async () => {
    expect(await run('check --quiet profiles', shopWith('duplicate-key') + PRINTER + SLIP)).toMatchInlineSnapshot(`
      "profiles/canvas.media.yaml
        2:1  error duplicate-key 'profile' is given twice with the same value. One is enough.
             see profiles/canvas.media.yaml:1:1 The first one, which counts here.
             fix: Delete the later one
      exit 1"
    `)
  })

  test('one file is checked against the whole shop', async () => {
    const shop = shopWith('feed-correction') + PRINTER + SHORT + SLIP
    expect(await run('check banner.media.yaml', shop, { cwd: 'profiles' })).toMatchInlineSnapshot(`
      "banner.media.yaml
        4:15  warning feed-correction Name the stock first, and key in nothing before. By what is known prints come out 2 mm per metre short. 1 check asks for +0.25 % ±0.11 %, and +0.05 % is set.
              fix: Set the correction to +0.25 % (from 1 check)

      1 document checked: 0 errors, 1 warning and 0 hints in 1 of them. 1 can be put right with a fix offered in the editor.
      exit 1"
    `)
  })

  test('a document named twice is checked once', async () => {
    const shop = shopWith('duplicate-key') + PRINTER
    expect(await run('check . printers printers/bay-1.printer.yaml', shop)).toContain('2 documents checked')
  })

  test('places in other documents are told', async () => {
    const lots = `#- stocks/film.stock.yaml
stock: film
lots:
  - {lot: A-1, received: 2026-03-01}
  - {lot: A-2, received: 2026-03-31}
#- profiles/film.media.yaml
profile: film
stock: film
printer: bay-1
feed:
  correction: 0 %
  checks:
    - {date: 2026-03-30, commanded: 2000 mm, measured: 2000 mm, applied: 0 %, lot: A-1}
`
    expect(await run('check', shopWith('feed-lot') + PRINTER + lots)).toMatchInlineSnapshot(`
      "Due today; no change brought it, and it does not count here:

      profiles/film.media.yaml
        7:84  warning feed-lot Print the feed pattern on lot A-2 and add a check: it came in on 2026-03-31 and has none yet; the newest was made on lot A-1.
              see stocks/film.stock.yaml:4:5 Lot A-2.

      4 documents checked: nothing found but what is due. 1 is due and not counted: see 'rollbook due'.
      exit 0"
    `)
  })

  test('colours on a terminal, and none with NO_COLOR or on a dumb one', async () => {
    const shop = shopWith('duplicate-key') + SLIP
    const colour = '\u001b['
    expect((await ran('check', shop, { isTty: true })).out).toContain(`${colour}31merror${colour}39m`)
    expect((await ran('check', shop, { isTty: true, env: { NO_COLOR: '1' } })).out).not.toContain(colour)
    expect((await ran('check', shop, { isTty: true, env: { TERM: 'dumb' } })).out).not.toContain(colour)
    expect((await ran('check', shop)).out).not.toContain(colour)
  })

  test('a document cannot steer the terminal', async () => {
    const { out } = await ran('check', `${shopWith('unknown-key')}#- a.media.yaml\nprofile: a\n"\\e[31mred": 1\n`)
    expect(out).not.toContain('\u001b')
  })
})

const OLD = `#- profiles/old.media.yaml
profile: old
printer: bay-1
feed:
  correction: 0 %
  checks:
    - {date: 2026-01-30, commanded: 2000 mm, measured: 2000 mm, applied: 0 %}
`

describe('what counts', () => {
  const hinting = shopWith('feed-correction').replace('rules:\n', 'rules:\n  feed-correction: hint\n')

  test.each([
    ['', 0, 1],
    ['--fail-on error', 0, 0],
    ['--fail-on warning', 0, 1],
    ['--fail-on hint', 1, 1],
    ['--fail-on never', 0, 0],
  ])('%s: a hint gives %i, a warning %i', async (options, hint, warning) => {
    expect((await ran(`check ${options}`, hinting + PRINTER + SHORT)).code).toBe(hint)
    expect((await ran(`check ${options}`, shopWith('feed-correction') + PRINTER + SHORT)).code).toBe(warning)
  })

  test('an error fails unless nothing does, and what cannot be judged fails always', async () => {
    const shop = shopWith('duplicate-key') + PRINTER + SLIP
    expect((await ran('check --fail-on error', shop)).code).toBe(1)
    expect((await ran('check --fail-on never', shop)).code).toBe(0)
    expect((await ran('check --fail-on never', shop, { unreadable: ['profiles/canvas.media.yaml'] })).code).toBe(2)
  })

  test('quiet hides no hint that fails the check', async () => {
    expect((await ran('check --quiet --fail-on hint', hinting + PRINTER + SHORT)).out).toContain('hint feed-correction')
  })

  test('what is due is told apart and counts only where asked', async () => {
    const shop = shopWith('feed-stale') + PRINTER + OLD
    expect(await run('check', shop)).toMatchInlineSnapshot(`
      "Due today; no change brought it, and it does not count here:

      profiles/old.media.yaml
        6:14  warning feed-stale Print the feed pattern and add a check: the newest is 60 days old, and the shop checks again after 30 days: one was due on 2026-03-01.

      3 documents checked: nothing found but what is due. 1 is due and not counted: see 'rollbook due'.
      exit 0"
    `)
    expect(await run('check --due', shop)).toMatchInlineSnapshot(`
      "profiles/old.media.yaml
        6:14  warning feed-stale Print the feed pattern and add a check: the newest is 60 days old, and the shop checks again after 30 days: one was due on 2026-03-01.

      3 documents checked: 0 errors, 1 warning and 0 hints in 1 of them.
      exit 1"
    `)
    expect(await run('check --quiet', shop)).toBe('exit 0')
    const { findings, summary, due } = JSON.parse((await ran('check --format json', shop)).out)
    expect(findings).toMatchObject([{ code: 'feed-stale', due: true }])
    expect([summary.warnings, due.warnings]).toEqual([0, 1])
  })

  test('so is what came only because checks grew old', async () => {
    const day = (date: string): string =>
      `    - {date: ${date}, commanded: 2000 mm, measured: 1996.0 ±0.05 mm, applied: 0 %, with: r, web: 23 ±1 °C, under: here}\n`
    const shop = `#- p.media.yaml
profile: p
stock: s
printer: bay-1
mode: m
feed:
  correction: +0.20 %
  checks:
${['2026-01-22', '2026-01-23', '2026-01-24', '2026-01-25'].map(day).join('')}conditions: {here: {from: profile, stock: s, printer: bay-1, mode: m}}
#- s.stock.yaml
stock: s
family: banner-pvc
thickness: 0.4 mm
expansion: 10 ppm/K
#- bay-1.printer.yaml
printer: bay-1
modes: {m: {resolution: 720 x 360 dpi, passes: 4}}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
#- rollbook.yaml
shop: Tern Quay Print Works
tolerance: {length: 0.03 %}
recheck: {feed: 300 d}
instruments: {r: {kind: rule, division: 0.1 mm, limit-of-error: [0.05 mm, 0.05 mm/m]}}
`
    const doubted = async (today: string): Promise<readonly string[]> => {
      const { out } = await ran(`check --format json --today ${today}`, shop)
      const { findings } = JSON.parse(out) as { findings: { code: string; due?: true }[] }
      return findings.filter(({ code }) => code === 'feed-imprecise').map(({ due = false }) => `due: ${due}`)
    }
    expect(await doubted('2026-01-25')).toEqual([])
    // A feed wanders: what four checks proved on their day, they no longer prove two weeks later.
    expect(await doubted('2026-02-10')).toEqual(['due: true'])
  })
})

describe('standard input', () => {
  const shop = shopWith('feed-correction') + PRINTER

  test('a document that need not be on disk, in the shop its name lies in', async () => {
    const stdin = SHORT.slice(SHORT.indexOf('\n') + 1)
    expect(await run('check - --stdin-name profiles/banner.media.yaml', shop, { stdin })).toMatchInlineSnapshot(`
      "profiles/banner.media.yaml
        4:15  warning feed-correction Name the stock first, and key in nothing before. By what is known prints come out 2 mm per metre short. 1 check asks for +0.25 % ±0.11 %, and +0.05 % is set.
              fix: Set the correction to +0.25 % (from 1 check)

      1 document checked: 0 errors, 1 warning and 0 hints in 1 of them. 1 can be put right with a fix offered in the editor.
      exit 1"
    `)
  })

  test('it is told in place of the one on disk', async () => {
    const stdin = SHORT.slice(SHORT.indexOf('\n') + 1).replace('+0.05 %\n', '+0.25 %\n')
    expect((await ran('check - --stdin-name profiles/banner.media.yaml', shop + SHORT, { stdin })).code).toBe(0)
  })

  test.each([
    ['check -', 'A document on standard input needs a name: --stdin-name profiles/banner.media.yaml says what it is'],
    ['check --stdin-name a.media.yaml', "--stdin-name names the document on standard input: give '-' as the path."],
    ['check - . --stdin-name a.media.yaml', "'-' stands for one document on standard input: name no other beside it."],
    ['check - --stdin-name notes.txt', "'notes.txt' is no name for a Rollbook document: these are named rollbook.yaml,"],
    ['check - --stdin-name a.media.yaml --fix', '--fix is for documents on disk, not for standard input.'],
  ])('%s: a sentence', async (line, sentence) => {
    const { out, err, code } = await ran(line, shop, { stdin: 'profile: a\n' })
    expect([out, code]).toEqual(['', 2])
    expect(err).toContain(sentence)
  })
})

describe('--fix', () => {
  const tabs = '#- a.media.yaml\nprofile: a\nheat:\n\tplaten: 40 °C # kept\nprofile: a\n'

  test('mends the form, says what it did, and tells what is left', async () => {
    const { out, err, code, files } = await ran('check --fix', shopWith('duplicate-key', 'tab-indent', 'syntax') + tabs)
    expect(files.get('a.media.yaml')).toBe('profile: a\nheat:\n  platen: 40 °C # kept\n')
    expect(err).toMatchInlineSnapshot(`
      "Fixed a.media.yaml:3: Indent with spaces (tab-indent).
      Fixed a.media.yaml:4: Delete the later one (duplicate-key).
      "
    `)
    expect(out).toMatchInlineSnapshot(`
      "2 documents checked: nothing found.
      "
    `)
    expect(code).toBe(0)
  })

  test('nothing that says something is touched, not even where a fix is right beyond doubt', async () => {
    const shop = shopWith('feed-correction', 'comma-decimal', 'duplicate-key') + PRINTER + SHORT
    const fixture = `${shop}#- b.media.yaml\nprofile: b\ngap: 2,5 mm\ngap: 3 mm\n`
    const before = await ran('check', fixture)
    const { files, err } = await ran('check --fix', fixture)
    expect([files, err]).toEqual([before.files, ''])
  })
})

describe('for programs', () => {
  test('one JSON object with every key, fixes worked out', async () => {
    const { out, err, code } = await ran('check --format json', shopWith('feed-correction') + PRINTER + SHORT)
    expect(JSON.parse(out)).toMatchInlineSnapshot(`
      {
        "accepted": 0,
        "due": {
          "errors": 0,
          "hints": 0,
          "warnings": 0,
        },
        "files": 3,
        "findings": [
          {
            "code": "feed-correction",
            "file": "profiles/banner.media.yaml",
            "fingerprint": "b038278ef22e3b8d",
            "fixes": [
              {
                "edits": [
                  {
                    "end": {
                      "column": 22,
                      "line": 4,
                    },
                    "newText": "+0.25 %",
                    "start": {
                      "column": 15,
                      "line": 4,
                    },
                  },
                ],
                "title": "Set the correction to +0.25 % (from 1 check)",
              },
            ],
            "message": "Name the stock first, and key in nothing before. By what is known prints come out 2 mm per metre short. 1 check asks for +0.25 % ±0.11 %, and +0.05 % is set.",
            "range": {
              "end": {
                "column": 22,
                "line": 4,
              },
              "start": {
                "column": 15,
                "line": 4,
              },
            },
            "related": [],
            "risk": "length",
            "severity": "warning",
          },
        ],
        "fixed": [],
        "notChecked": [],
        "notJudged": [],
        "remarks": [],
        "summary": {
          "errors": 0,
          "hints": 0,
          "warnings": 1,
        },
        "version": "0.0.0-dev",
      }
    `)
    expect({ err, code }).toEqual({ err: '', code: 1 })
  })

  test('no findings: an empty list', async () => {
    const { out } = await ran('check --format json', shopWith('duplicate-key') + PRINTER)
    expect(JSON.parse(out)).toMatchObject({
      files: 2,
      summary: { errors: 0, warnings: 0, hints: 0 },
      findings: [],
      notChecked: [],
    })
  })

  test('what could not be checked is in it too', async () => {
    const shop = shopWith('duplicate-key') + PRINTER + SHORT
    const { out, code } = await ran('check --format=json', shop, { unreadable: ['profiles/banner.media.yaml'] })
    expect(JSON.parse(out).notChecked).toEqual(['profiles/banner.media.yaml cannot be read: permission is denied'])
    expect(code).toBe(2)
  })
})

describe('what is not judged', () => {
  // A printer of which only heads, modes, carriage and feed are written down, and a film of a family.
  const MINI = `#- mini.printer.yaml
printer: mini
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2}
modes: {m: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: one-way}}
carriage: {bed-width: 1600 mm, overrun: 120 mm, turnaround: 0.35 s}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent}
#- film.stock.yaml
stock: film
family: film-pvc-cast
thickness: 80 µm
widths: [1372 mm]
`
  const at = (id: string, settings: string): string =>
    `#- ${id}.media.yaml\nprofile: ${id}\nstock: film\nprinter: mini\nmode: m\n${settings}`
  const HOT = at('hot', 'heat: {platen: 55 °C, after: 140 °C}\ngap: 5 mm\nsuction: 9\nslot: 77\nweb: {speed: 900 mm/s}\n')

  test('it is told of each setting, of the printer, and at the end', async () => {
    expect(
      await run('check', shopWith('setting-not-described', 'not-judged', 'web-near-limit') + MINI + HOT),
    ).toMatchInlineSnapshot(`
      "hot.media.yaml
        5:16  warning setting-not-described The document of mini gives no heaters: whether it takes heat.platen 55 °C is not judged.
              see mini.printer.yaml:1:10 The printer.
        5:30  warning setting-not-described The document of mini gives no heaters: whether it takes heat.after 140 °C is not judged.
              see mini.printer.yaml:1:10 The printer.
        5:30  warning web-near-limit The heater behind the platen is set to 140 °C: a web that stays over it settles at 132 °C (101 to 138), and stock of this family typically bears 50 °C (45 to 60). More cannot be told, because the printer does not give its heaters.
        6:6   warning setting-not-described The document of mini gives no carriage.gaps: whether it takes gap 5 mm is not judged.
              see mini.printer.yaml:1:10 The printer.
        7:10  warning setting-not-described The document of mini gives no suction: whether it takes suction 9 is not judged.
              see mini.printer.yaml:1:10 The printer.
        8:7   warning setting-not-described The document of mini gives no slots: whether it takes slot 77 is not judged.
              see mini.printer.yaml:1:10 The printer.
        9:14  warning setting-not-described The document of mini gives no web.speed-range: whether it takes web.speed 900 mm/s is not judged.
              see mini.printer.yaml:1:10 The printer.

      mini.printer.yaml
        1:10  hint not-judged Nothing is given here for carriage.gaps, heaters, drying.pause-range, drying.run-out-range, suction, web.tension-range or web.tension-levels, web.slack-watch and web.speed-range: what profiles set there is not judged.

      4 documents checked, and not everything could be judged: 0 errors, 7 warnings and 1 hint in 2 of them.
      Not judged: slot, gap, heat, suction and web speed of 1 profile, because mini does not give slots, carriage.gaps, heaters, suction and web.speed-range.
      exit 1"
    `)
  })

  test('a dryer far above what the stock bears is never a matter of hints', async () => {
    const bears = MINI.replace('thickness: 80', 'max-web-temperature: 60 °C\nthickness: 80')
    const all = shopWith('web-too-hot', 'web-near-limit')
    for (const shop of [MINI, bears, MINI.replace('feed:', 'heaters: {after: {range: [30 °C, 150 °C]}}\nfeed:')]) {
      const { out, code } = await ran('check --format json', all + shop + at('hot', 'heat: {after: 140 °C}\n'))
      const of = JSON.parse(out).findings.filter((f: { code: string }) => f.code.startsWith('web-'))
      expect(of.map((f: { code: string; severity: string }) => `${f.severity} ${f.code}`)).toEqual([
        shop === bears ? 'error web-too-hot' : 'warning web-near-limit',
      ])
      expect(code).toBe(1)
    }
  })

  test('nothing found is not said alone, and the exit code stays', async () => {
    const two = at('one', 'gap: 2 mm\n') + at('two', 'gap: 2 mm\nsuction: 300 Pa\n')
    expect(await run('check', shopWith('duplicate-key') + MINI + two)).toMatchInlineSnapshot(`
      "5 documents checked, and not everything could be judged. Nothing found in what was.
      Not judged: gap of 2 profiles; suction of 1 profile, because mini does not give carriage.gaps and suction.
      exit 0"
    `)
    const { out, code } = await ran('check --format json', shopWith('duplicate-key') + MINI + two)
    expect(code).toBe(0)
    expect(JSON.parse(out).notJudged).toEqual([
      { file: 'mini.printer.yaml', lacks: 'carriage.gaps', areas: ['gap'], profiles: 2 },
      { file: 'mini.printer.yaml', lacks: 'suction', areas: ['suction'], profiles: 1 },
    ])
  })

  test('what the reckoning misses is named by its key', async () => {
    const shop = MINI.replace('family: film-pvc-cast\n', '').replace(
      'feed:',
      'heaters: {after: {length: 450 mm}}\nsuction: {levels: {1: 100 Pa}, hole: 2 mm, open-area: 10 %}\nfeed:',
    )
    const { out } = await ran('check', shopWith('duplicate-key') + shop + at('one', 'heat: {after: 50 °C}\nsuction: 1\n'))
    expect(out).toMatchInlineSnapshot(`
      "4 documents checked, and not everything could be judged. Nothing found in what was.
      Not judged: heat of 1 profile, because film does not give grammage and max-web-temperature.
      Not judged: heat and suction of 1 profile, because mini does not give heaters.after.range and suction.depth.
      "
    `)
  })
})

describe('bad input', () => {
  test('no such path: nothing is checked', async () => {
    expect(await run('check . profile', shopWith('duplicate-key') + PRINTER)).toMatchInlineSnapshot(`
      "! There is no file or folder 'profile'.
      exit 2"
    `)
  })

  test('a path that may not be looked at', async () => {
    expect(await run('check locked/x.media.yaml', PRINTER)).toMatchInlineSnapshot(`
      "! /shop/locked/x.media.yaml cannot be looked at: permission is denied.
      exit 2"
    `)
  })

  test('a file that cannot be read: the others are checked, and the exit code says that it is not all', async () => {
    const shop = shopWith('duplicate-key') + PRINTER + SHORT + SLIP
    expect(await run('check', shop, { unreadable: ['profiles/banner.media.yaml'] })).toMatchInlineSnapshot(`
      "profiles/canvas.media.yaml
        2:1  error duplicate-key 'profile' is given twice with the same value. One is enough.
             see profiles/canvas.media.yaml:1:1 The first one, which counts here.
             fix: Delete the later one

      3 documents checked, and not everything could be judged: 1 error, 0 warnings and 0 hints in 1 of them. 1 can be put right with a fix offered in the editor.
      ! profiles/banner.media.yaml cannot be read: permission is denied
      exit 2"
    `)
  })

  test('a file elsewhere in the shop that cannot be read is told, and does not count', async () => {
    const shop = shopWith('duplicate-key') + PRINTER + SHORT
    expect(await run('check printers', shop, { unreadable: ['profiles/banner.media.yaml'] })).toMatchInlineSnapshot(`
      "1 document checked: nothing found.
      ! profiles/banner.media.yaml cannot be read: permission is denied
      exit 0"
    `)
  })

  test('a file of another kind', async () => {
    expect(await run('check notes.txt', `${PRINTER}#- notes.txt\nhello\n`)).toMatchInlineSnapshot(`
      "! 'notes.txt' is not a Rollbook document: these are named rollbook.yaml, *.stock.yaml, *.printer.yaml and *.media.yaml.
      exit 2"
    `)
  })

  test('a folder without documents', async () => {
    expect(await run('check papers', `${PRINTER}#- papers/notes.txt\nhello\n`)).toMatchInlineSnapshot(`
      "! There is nothing to check in 'papers': no document named rollbook.yaml, *.stock.yaml, *.printer.yaml and *.media.yaml.
      exit 2"
    `)
  })

  test('an empty document', async () => {
    expect(await run('check', `${shopWith('duplicate-key')}#- empty.media.yaml\n`)).toMatchInlineSnapshot(`
      "2 documents checked: nothing found.
      exit 0"
    `)
  })

  test.each([
    ['block style', 'notes: x\n'],
    ['one line', 'x'],
  ])('a document of 5 MB is refused in one sentence (%s)', async (_, piece) => {
    const big = `profile: big\n${piece.repeat(5e6 / piece.length)}`
    expect(await run('check', `${shopWith('too-large')}#- big.media.yaml\n${big}`)).toMatch(
      /^big\.media\.yaml\n {2}\S+ +error too-large .* MB large/,
    )
  })

  test('two profiles with one id, each checked', async () => {
    const twice = `#- a.media.yaml\nprofile: same\n#- b.media.yaml\nprofile: same\n`
    const { out, code } = await ran('check --format json', shopWith('duplicate-key') + twice)
    expect([JSON.parse(out).files, code]).toEqual([3, 0])
  })

  test('profiles that are each other’s base', async () => {
    const circle = '#- a.media.yaml\nprofile: a\nbase: b\n#- b.media.yaml\nprofile: b\nbase: a\n'
    expect(await run('check', shopWith('duplicate-key') + circle)).toMatchInlineSnapshot(`
      "3 documents checked: nothing found.
      exit 0"
    `)
  })

  test('a shop inside a folder that is none keeps its own documents', async () => {
    const nested = `#- one/rollbook.yaml\nshop: One\n#- one/a.printer.yaml\nprinter: a\n#- two/rollbook.yaml\nshop: Two\n#- two/a.printer.yaml\nprinter: a\n`
    const { out } = await ran('check --format json', nested)
    expect(JSON.parse(out).findings.filter((f: { code: string }) => f.code.includes('duplicate'))).toEqual([])
  })
})
