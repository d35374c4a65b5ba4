// `rollbook sheet`: what stands on the page for the wall, that nothing unproven stands there as if it were, that it fits its paper, and the way back from its foot.
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { findChromium, printPdf } from '../../server/src/cli/node-pdf.ts'
import { PAPERS, type PaperSize } from '../../server/src/report/fleet/sheet-html.ts'
import { OWN_DOCUMENTS_FIRST } from '../../server/src/report/fleet/sheet-watch.ts'
import { commit, repository, rollbook } from '../cli/repository.ts'
import { ran, run, type Shell } from '../cli/shell.ts'
import { some } from '../support/counts.ts'
import { samples } from '../support/texts.ts'

const SAMPLES = samples()
  .filter(({ name }) => name.startsWith('tern-quay/'))
  .map(({ name, text }) => `#- ${name.slice('tern-quay/'.length)}\n${text}`)
  .join('')
const COLOUR = join(import.meta.dirname, '..', '..', 'samples', 'tern-quay', 'profiles', 'colour')
const DAY = {
  today: '2026-11-25',
  bytes: Object.fromEntries(readdirSync(COLOUR).map((name) => [`profiles/colour/${name}`, readFileSync(join(COLOUR, name))])),
}
const PROFILES = SAMPLES.match(/(?<=^#- )profiles\/\S+\.media\.yaml$/gm)!.map((file) => /([^/]+)\.media\.yaml$/.exec(file)![1]!)
/** Those that are put on paper: in `npm test` a part of them. */
const PAPER = some(PROFILES, 8)

const SHOP = `#- rollbook.yaml
shop: Tern Quay <Print> Works
tolerance: {length: 0.1 %}
instruments:
  rule-1m: {kind: rule, division: 0.5 mm, limit-of-error: class-1}
#- film.stock.yaml
stock: film
title: Film & "liner"
family: film-pvc-cast
thickness: 80 µm
max-web-temperature: 50 °C
#- gull.printer.yaml
printer: gull
modes: {quick: {resolution: 720 x 720 dpi, passes: 8, carriage-speed: 1 m/s, directions: one-way}}
carriage: {gaps: [1.5 mm, 2 mm]}
feed: {range: [-1 %, 1 %], step: 0.05 %, entry: percent, pattern-lengths: [1 m], repeatability: {value: 0.01 %, freedom: 30}}
heaters: {after: {length: 400 mm, range: [20 °C, 70 °C], step: 1 K, coupling: 40 W/m²K}}
slots: 20
panel:
  - {key: gap, where: the lever behind the cover}
  - {key: heat.after, where: the last dial}
  - {key: feed.correction, where: sheet 2}
cautions: ['The bar stays hot. <script>alert(1)</script>']
`
const checks = (applied: string): string =>
  [12, 16, 20, 24]
    .map(
      (day) =>
        `    - {date: 2026-03-${day}, commanded: 1000 mm, measured: 1000 mm, applied: ${applied}, with: rule-1m, web: 20 °C, under: now}\n`,
    )
    .join('')
const profile = (
  more: { readonly correction?: string; readonly gap?: string; readonly after?: string } = {},
): string => `#- one.media.yaml
profile: one
title: </title><b>One
stock: film
printer: gull
mode: quick
slot: 3
${more.gap === '' ? '' : `gap: ${more.gap ?? '2 mm'}\n`}feed:
  correction: ${more.correction ?? '+0.20 %'}
  checks:
${checks('+0.20 %')}heat: {after: ${more.after ?? '44 °C'}}
conditions:
  now: {from: profile, stock: film, printer: gull, mode: quick, gap: 2 mm, heat.after: 44 °C}
`
const THEN = { today: '2026-03-26' }

const keysOf = (text: string): string => text.slice(text.indexOf('KEY IN'), text.indexOf('\n\nWATCH'))
const watchOf = (text: string): string => text.slice(text.indexOf('WATCH'), text.indexOf('\n\nEVIDENCE')).replace(/\s+/g, ' ')

describe('as text', () => {
  test('a feed that is off: its number is marked, and what to key in comes first', async () => {
    expect(await run('sheet banner-510-bay-1', SAMPLES, DAY)).toMatchInlineSnapshot(`
      "Frontlit banner on bay 1 (banner-510-bay-1)
      banner-510 on bay-1 in banner-4-pass · Slot 4 · as of 2026-11-25

      LOAD
        stock       banner-510, Frontlit banner, matt, 510 g/m²
        lot         B-4502
        width       1100 mm, 1372 mm, 1600 mm
        roll        core 89 mm, full roll 181 mm, 50 m
        print face  wound in on the roll
        take-up     print face in
        edge        fed as the machine’s own instructions show; no document here tells

      KEY IN
        [ ]  heat.before       40 °C         the three dials under the flap, left
        [ ]  heat.platen       42 °C         the three dials under the flap, middle
        [ ]  heat.after        48 °C         the three dials under the flap, right
        [ ]  heat.fan          on            rocker switch beside the dials
        [ ]  suction           3             knob with the four notches, right end of the platen
        [ ]  gap               2 mm          the lever behind the left cover; power the carriage down first
        [ ]  web.tension       3             hand wheel on the take-up, numbers 1 to 4
        [ ]  slot              4             roll list, turn the wheel to the number
        [!1] feed.correction   +0.12 %       off, under 1 % · open the roll's card, second sheet, top line
        [ ]  drying.pause      0 s           open the roll's card, third sheet
        [ ]  drying.run-out    5 min         open the roll's card, third sheet
        [ ]  web.slack-watch   at-intervals  open the roll's card, last sheet
        [ ]  carriage.turn-at  print-edge
        [ ]  carriage.strikes  1
        [ ]  web.speed         60 mm/s
        !1 Off: under 1 % of prints come out within 0.5 mm per metre: key in +0.24 %, then 95 % do.

      WATCH
        - Hot: heaters before 40 °C, platen 42 °C, after 48 °C. They burn, also a good while after they are switched
          off.
        - Moving: carriage, web, take-up. Keep hands, hair and sleeves away; stop the machine, as its own
          instructions say, before you reach in.
        - Ink: ventilate, and keep ignition sources and static away; its safety data sheet comes first.
        - Stock: the web stands 60 °C at most and turns soft at 80 °C.
        - The bar behind the platen stays hot for half an hour after it is switched off.
        - Run the extraction whenever ink is laid down; solvent vapour is heavier than air.
        - Keep hands, hair and lanyards away from the carriage and the take-up.
        - The machine’s and the material’s own safety documents, local codes and licensed practice come first.
          Nothing here says that a guard may be opened or bridged.

      EVIDENCE
        feed: off. Under 1 % of prints come out within 0.5 mm per metre: key in +0.24 %, then 95 % do.
        alignment: proven. Of 2026-10-29: it was made under these settings.
        web at before: unknown. Nobody has read it: read the web here.
        web at platen: proven. Read (27 days ago): it was made at this setting.
        web at after: proven. Read (27 days ago): it was made at this setting.

      WRITE DOWN NEXT
        Length, printed 400 mm, 800 mm, 1800 mm: date | pattern | measured | keyed in then | measured with | web,
        °C/°F | lot | by
        Fine feed, best patch: date | keyed in then | outer-left | inner-left | inner-right | outer-right | by
        Alignment, best patch in banner-4-pass: date | cyan | magenta | yellow | black | by (one way, both ways)
        Web, read while it runs, from a safe place: date | before: set | before: web | platen: set | platen: web |
        after: set | after: web | by

      banner-510-bay-1 · not in git
      exit 1"
    `)
  })

  test('a profile with a base', async () => {
    expect(await run('sheet cast-film-gloss-50-fine-bay-1', SAMPLES, DAY)).toMatchInlineSnapshot(`
      "Gloss cast film on bay 1, vehicle quality (cast-film-gloss-50-fine-bay-1)
      cast-film-gloss-50 on bay-1 in fine-16-pass · Slot 2 · as of 2026-11-25

      LOAD
        stock       cast-film-gloss-50, Cast film, gloss white, 50 µm
        lot         C-2610
        width       1372 mm, 1524 mm
        roll        core 89 mm, full roll 147 mm, 50 m
        print face  wound out on the roll
        take-up     print face out
        edge        fed as the machine’s own instructions show; no document here tells

      KEY IN
        [ ]  heat.before       36 °C         the three dials under the flap, left
        [ ]  heat.platen       40 °C         the three dials under the flap, middle
        [ ]  heat.after        46 °C         the three dials under the flap, right
        [ ]  heat.fan          on            rocker switch beside the dials
        [ ]  suction           2             knob with the four notches, right end of the platen
        [ ]  gap               1.5 mm        the lever behind the left cover; power the carriage down first
        [ ]  web.tension       2             hand wheel on the take-up, numbers 1 to 4
        [ ]  slot              2             roll list, turn the wheel to the number
        [!1] feed.correction   +0.21 %       doubtful, 93 % · open the roll's card, second sheet, top line
        [ ]  drying.pause      0 s           open the roll's card, third sheet
        [ ]  drying.run-out    8 min         open the roll's card, third sheet
        [ ]  web.slack-watch   at-intervals  open the roll's card, last sheet
        [ ]  carriage.turn-at  print-edge
        [ ]  carriage.strikes  1
        [ ]  web.speed         60 mm/s
        !1 Doubtful: 93 % of prints come out within 0.5 mm per metre, and 95 % are asked for. Print the 1800 mm
           pattern once more, on another day, and measure with steel-rule-2m: then it is proven with a chance of
           over 95 %.

      WATCH
        - Hot: heaters before 36 °C, platen 40 °C, after 46 °C. They burn, also a good while after they are switched
          off.
        - Moving: carriage, web, take-up. Keep hands, hair and sleeves away; stop the machine, as its own
          instructions say, before you reach in.
        - Ink: ventilate, and keep ignition sources and static away; its safety data sheet comes first.
        - Stock: the web stands 50 °C at most and turns soft at 75 °C.
        - The bar behind the platen stays hot for half an hour after it is switched off.
        - Run the extraction whenever ink is laid down; solvent vapour is heavier than air.
        - Keep hands, hair and lanyards away from the carriage and the take-up.
        - The machine’s and the material’s own safety documents, local codes and licensed practice come first.
          Nothing here says that a guard may be opened or bridged.

      EVIDENCE
        feed: doubtful. 93 % of prints come out within 0.5 mm per metre, and 95 % are asked for.
        alignment: proven. Of 2026-11-17: it was made under these settings.
        web at before: unknown. Nobody has read it: read the web here.
        web at platen: unknown. Nobody has read it: read the web here.
        web at after: unknown. Nobody has read it: read the web here.
        colour: unknown. Nothing was measured: print the chart and measure it.

      WRITE DOWN NEXT
        Length, printed 400 mm, 800 mm, 1800 mm: date | pattern | measured | keyed in then | measured with | web,
        °C/°F | lot | by
        Fine feed, best patch: date | keyed in then | outer-left | inner-left | inner-right | outer-right | by
        Alignment, best patch in fine-16-pass: date | cyan | magenta | yellow | black | by (one way, both ways)
        Web, read while it runs, from a safe place: date | before: set | before: web | platen: set | platen: web |
        after: set | after: web | by

      cast-film-gloss-50-fine-bay-1 · not in git
      exit 1"
    `)
  })

  test('what is proven may be keyed in, and exits with 0', async () => {
    const { out, code } = await ran('sheet one', SHOP + profile(), THEN)
    expect(keysOf(out)).toMatchInlineSnapshot(`
      "KEY IN
        [ ]  gap              2 mm     the lever behind the cover
        [ ]  heat.after       44 °C    the last dial
        [ ]  feed.correction  +0.20 %  proven, over 99 % · sheet 2
        [ ]  slot             3"
    `)
    expect(code).toBe(0)
  })

  test('what the file does not give is missing, at its place on the panel', async () => {
    const { out, code } = await ran('sheet one', SHOP + profile({ gap: '' }), THEN)
    expect(out).toContain('! Missing: the file gives no gap.')
    expect(keysOf(out)).toMatchInlineSnapshot(`
      "KEY IN
        [?]  gap                       missing in the file · the lever behind the cover
        [ ]  heat.after       44 °C    the last dial
        [ ]  feed.correction  +0.20 %  proven, over 99 % · sheet 2
        [ ]  slot             3"
    `)
    expect(code).toBe(1)
  })

  test('without its printer nothing is told as good', async () => {
    const alone = SHOP.replace(/#- gull[\s\S]*$/, '') + profile()
    const { out, err, code } = await ran('sheet one', alone, THEN)
    expect(out).toContain("! Settle first: There is no printer 'gull' in this shop that can be read.")
    expect(keysOf(out)).toMatchInlineSnapshot(`
      "KEY IN
        [!1] slot             3
        [!1] gap              2 mm
        [!1] feed.correction  +0.200 %  doubtful
        [!1] heat.after       44 °C
        !1 Settle first what stands at the top of this sheet."
    `)
    expect(keysOf(out)).not.toContain('[ ]')
    expect(err).toContain("There is no printer 'gull'")
    expect(code).toBe(2)
  })

  test('of what is out of use nothing is keyed in', async () => {
    const { out } = await ran('sheet one', `${SHOP}${profile()}retired: 2026-03-01\n`, THEN)
    expect(out).toContain('! Out of use: retired on 2026-03-01. Key nothing in from this sheet.')
    expect(keysOf(out)).toBe('KEY IN\n  Nothing.')
  })
})

/** Of these the feed is proven, and what is wrong is no number that is keyed in. */
const NOTHING_WRONG = [
  'completeness/alignment-missing.media.yaml',
  'completeness/base-redundant.media.yaml',
  'completeness/everyday.media.yaml',
  'histories/lots.media.yaml',
  'histories/prints-a.media.yaml',
  'histories/prints-b.media.yaml',
  'histories/prints-c.media.yaml',
]

describe('of broken documents', () => {
  const BROKEN = samples().filter(({ name }) => name.startsWith('broken/'))
  const ALL = BROKEN.map(({ name, text }) => `#- ${name.slice('broken/'.length)}\n${text}`).join('')

  test('each is a sheet that says what is wrong, or a sentence why there is none', async () => {
    const files = BROKEN.map(({ name }) => name.slice('broken/'.length)).filter((name) => name.endsWith('.media.yaml'))
    const clean: string[] = []
    for (const file of some(files)) {
      const { out, err, code } = await ran(['sheet', file], ALL, DAY)
      expect(err, file).not.toContain('inside Rollbook')
      if (out === '') expect([code, err.trim() !== ''], file).toEqual([2, true])
      else expect(watchOf(out), file).toContain(OWN_DOCUMENTS_FIRST)
      if (code === 2) expect(err, file).not.toBe('')
      // A number that is off, doubtful or unknown is never in an empty box.
      expect(keysOf(out), file).not.toMatch(/\[( |x)\] .*\b(off|doubtful|unknown)\b/)
      if (code === 0) clean.push(file)
    }
    expect(files.length).toBeGreaterThan(100)
    expect(clean.filter((file) => !NOTHING_WRONG.includes(file))).toEqual([])
  })

  test('of a merge that waits no number is good', async () => {
    const { out } = await ran('sheet conflict-markers.media.yaml', ALL, DAY)
    expect(out).toContain('! Settle first: A merge waits in this profile: settle it first.')
    expect(keysOf(out)).not.toMatch(/\[( |x)\]/)
  })
})

describe('safety', () => {
  const HOT = profile({ after: '64 °C' })

  test('is never shorter because a shop ignores rules', async () => {
    const rules = ['set-above-limit', 'web-too-hot', 'web-near-limit', 'softening', 'gap-below-thickness']
    const shop = SHOP.replace('thickness: 80 µm\n', "thickness: 80 µm\ncautions: ['Its edges cut.']\n")
    const lenient = shop.replace('instruments:', `rules: {${rules.map((code) => `${code}: ignore`).join(', ')}}\ninstruments:`)
    const strict = (await ran('sheet one', shop + HOT, THEN)).out
    const ignoring = (await ran('sheet one', lenient + HOT, THEN)).out
    expect(watchOf(ignoring)).toBe(watchOf(strict))
    expect(watchOf(strict)).toMatch(/- The bar stays hot\. .* - Its edges cut\. - The machine’s/)
    expect(keysOf(ignoring)).toBe(keysOf(strict))
    expect(keysOf(strict)).toMatch(/\[!1\] +heat\.after +64 °C/)
  })
})

describe('on paper', () => {
  const html = async (fixture: string, size: PaperSize, names: readonly string[], day: Shell) =>
    ran(['sheet', ...names, '--html', '-', '--size', size], fixture, day)

  test('no text becomes markup, no script can run, nothing is fetched', async () => {
    const { out } = await html(SHOP + profile(), 'A4', ['one'], THEN)
    expect(out).toContain(`content="default-src 'none'; style-src 'unsafe-inline'"`)
    expect(out).not.toMatch(/<script|<b>One|<Print>|https?:|url\(/)
    expect(out).toContain('&#60;script&#62;alert(1)')
    expect(out.split('<style>')[0]!.match(/<title>/g)).toHaveLength(1)
  })

  test('what is not proven is no bold number, and its mark is a shape', async () => {
    const { out } = await html(SHOP + profile({ correction: '+0.60 %' }), 'A4', ['one'], THEN)
    expect(out).toMatch(
      /<tr class="in-doubt"><td class="sign"><span>!1<\/span><\/td>.*?<td class="value">\+0\.60 %<\/td><td>off, /,
    )
    expect(out).toContain('.keys .in-doubt .value,.keys .missing .value{font-weight:400;font-style:italic}')
    const colours = [...out.matchAll(/#[0-9a-f]{3,6}\b/gi)].map(([colour]) => colour.toLowerCase())
    const style = /<style>([\s\S]*?)<\/style>/.exec(out)![1]!
    // The drawing's own colours are overruled by the style, which knows black, white and one grey.
    expect(new Set([...style.matchAll(/#[0-9a-f]{3,6}\b/gi)].map(([colour]) => colour))).toEqual(
      new Set(['#000', '#fff', '#bbb']),
    )
    expect(colours.length).toBeGreaterThan(0)
  })

  test.each(some(['A4', 'Letter'] as const, 2))('all samples take one page of %s each', async (size) => {
    const { out, err } = await html(SAMPLES, size, PAPER, DAY)
    expect(err).toBe('')
    const watches = [...out.matchAll(/<section class="watch">(.*?)<\/section>/gs)].map(([, watch]) => watch!)
    expect(watches).toHaveLength(PAPER.length)
    // On each, whatever else: hot, moving, the printer's own cautions, and at the end whose word comes first.
    for (const watch of watches) {
      expect(watch).toMatch(/<li>Hot: .*<li>Moving: .*<li>Ink: .*<li>Stock: /s)
      expect(watch.match(/<li>/g)!.length).toBeGreaterThanOrEqual(8)
      expect(watch.endsWith(`<li>${OWN_DOCUMENTS_FIRST}</li></ul>`)).toBe(true)
    }
    const folder = mkdtempSync(join(tmpdir(), 'rollbook-sheet-test-'))
    try {
      const pdf = join(folder, 'sheets.pdf')
      if (findChromium() === undefined) {
        await expect(printPdf(out, pdf)).rejects.toThrow('Use --html FILE')
        return
      }
      await printPdf(out, pdf)
      const text = readFileSync(pdf, 'latin1')
      expect(text.match(/\/Type \/Page\b(?!s)/g)).toHaveLength(PAPER.length)
      const [, width, height] = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(text)!.map(Number)
      expect((width! / 72) * 25.4).toBeCloseTo(PAPERS[size].width, 0)
      expect((height! / 72) * 25.4).toBeCloseTo(PAPERS[size].height, 0)
      writeFileSync(join(folder, 'there.pdf'), '')
      await expect(printPdf(out, join(folder, 'there.pdf'))).rejects.toThrow('is not written over')
    } finally {
      rmSync(folder, { recursive: true, force: true })
    }
  })

  test('more cautions than a page holds go on behind, and it is said', async () => {
    const many = SHOP.replace(
      'cautions: [',
      `cautions: [${'A caution of a length that is usual at this machine. '.repeat(300)}, `,
    )
    const { out, err, code } = await html(many + profile(), 'A4', ['one'], THEN)
    expect(out.match(/A caution of a length/g)).toHaveLength(300)
    expect(err).toContain('The sheet of one takes more than one page of A4: it goes on behind, and nothing is left out.')
    expect(code).toBe(1)
  })

  test('without a browser it says what to do instead', async () => {
    await expect(printPdf('', '/nowhere/x.pdf', { PATH: '' })).rejects.toThrow(/Chromium/)
  })
})

describe('the revision at its foot', () => {
  const footOf = (text: string): string => text.trimEnd().split('\n').at(-1)!
  const sheet = (folder: string, ...args: readonly string[]) => rollbook(folder, 'sheet', '--today', '2026-03-26', ...args)

  test('leads back to that sheet, and tells what changed since', async () => {
    const folder = repository(SHOP + profile())
    const foot = footOf((await sheet(folder, 'one')).out)
    expect(foot).toMatch(/^one · [0-9a-f]{7,}$/)
    const same = await sheet(folder, '--from', foot)
    expect(same.code).toBe(0)
    expect(footOf(same.out)).toBe(foot)
    // A commit that touches nothing of it is no other revision of it.
    commit(folder, '#- other.stock.yaml\nstock: other\n')
    expect(footOf((await sheet(folder, 'one')).out)).toBe(foot)
    expect((await sheet(folder, '--from', foot)).code).toBe(0)
    commit(folder, `${SHOP.replace('50 °C', '55 °C')}${profile({ correction: '+0.25 %', gap: '1.5 mm' })}`)
    const newer = footOf((await sheet(folder, 'one')).out)
    expect(newer).not.toBe(foot)
    const old = await sheet(folder, '--from', foot.replace(' · ', ' @ '))
    expect(old.code).toBe(1)
    expect(old.out.slice(0, old.out.indexOf('\n\nLOAD'))).toMatchInlineSnapshot(`
      "</title><b>One (one)
      film on gull in quick · Slot 3 · as of 2026-03-26
      ! 3 changes old: film, max-web-temperature was 50 °C, and is 55 °C (+5 K); gap was 2 mm, and is 1.5 mm (-0.5
        mm); feed.correction was +0.20 %, and is +0.25 % (+0.05 %).
      ! feed.checks: proven, over 99 % then, doubtful, 79 % now."
    `)
    expect(old.out).toMatch(/feed\.correction +\+0\.20 %/)
    const page = await sheet(folder, '--from', foot, '--html', '-')
    expect(page.out).toContain('3 changes old')
  })

  test('is not committed where a document that it rests on differs', async () => {
    const folder = repository(SHOP + profile())
    const bare = (await sheet(folder, 'one')).out
    writeFileSync(
      join(folder, 'film.stock.yaml'),
      'stock: film\ntitle: Film & "liner"\nfamily: film-pvc-cast\nthickness: 90 µm\nmax-web-temperature: 50 °C\n',
    )
    expect(footOf((await sheet(folder, 'one')).out)).toBe('one · not committed')
    const refused = await sheet(folder, '--from', 'one · not committed')
    expect(refused).toMatchObject({ code: 2, out: '' })
    expect(refused.err).toContain('not committed yet')
    expect((await sheet(folder, '--from', footOf(bare))).out).toContain('1 change old: film, ')
  })

  test('is refused where it names no sheet, and no other is made instead', async () => {
    const folder = repository(SHOP + profile())
    for (const [words, reason] of [
      ['one', "--from takes what stands at the foot of a sheet, as in 'banner-510-bay-1 · a1b2c3d'; 'one' is not that."],
      ['one · main', "as in 'banner-510-bay-1 · a1b2c3d'; 'main' is no revision."],
      ['one · 0123456', "There is no revision '0123456'"],
    ] as const) {
      const { code, err, out } = await sheet(folder, '--from', words)
      expect([code, out], words).toEqual([2, ''])
      expect(err).toContain(reason)
    }
  })

  test('outside of git the sheet says so', async () => {
    expect(footOf((await ran('sheet one', SHOP + profile(), THEN)).out)).toBe('one · not in git')
  })
})
