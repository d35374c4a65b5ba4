// What a reviewer reads, for one change after the other: files before and after in, the page out.
import { describe, expect, test } from 'vitest'
import { reviewed, told } from './reviewed.ts'

/** Two profiles on one printer, one of them based on the other; one more that nothing here touches. */
const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
tolerance: {length: 0.05 %}
recheck: {feed: 30 d}
reference-temperature: 23 °C
instruments:
  rule-1m: {kind: rule, division: 0.1 mm, length: 1 m, limit-of-error: [0.05 mm, 0.05 mm/m], expansion: 11.5 ppm/K}
#- film.stock.yaml
stock: film
family: film-pvc-cast
thickness: 80 µm
modulus: 0.5 GPa
friction: 0.3
expansion: 70 ppm/K
max-web-temperature: 50 °C
#- paper.stock.yaml
stock: paper
family: paper-coated
thickness: 200 µm
#- bay-1.printer.yaml
printer: bay-1
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2}
modes: {fine: {resolution: 720 x 720 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: one-way}}
carriage: {bed-width: 1600 mm, overrun: 120 mm, turnaround: 0.3 s, gaps: [1.5 mm, 2 mm]}
feed: {range: [-2 %, 2 %], step: 0.01 %, entry: percent, pattern-lengths: [800 mm], repeatability: {value: 0.01 %, freedom: 20}}
suction: {levels: {1: 100 Pa, 2: 200 Pa, 3: 400 Pa}, depth: 120 mm, open-area: 3 %, hole: 2 mm}
slots: 24
panel: [{key: suction, where: the knob at the right}, {key: gap, where: the lever behind the cover}]
#- film-1.media.yaml
profile: film-1
stock: film
printer: bay-1
mode: fine
slot: 1
gap: 1.5 mm
suction: 2
feed:
  correction: +0.10 %
  checks:
    - {date: 2026-03-27, commanded: 800 mm, measured: 800.0 mm, applied: +0.10 %, with: rule-1m, web: 23 °C, under: by-hand}
    - {date: 2026-03-28, commanded: 800 mm, measured: 800.0 mm, applied: +0.10 %, with: rule-1m, web: 23 °C, under: by-hand}
    - {date: 2026-03-30, commanded: 800 mm, measured: 800.1 mm, applied: +0.10 %, with: rule-1m, web: 23 °C, under: by-hand}
conditions:
  by-hand: {from: read-back, stock: film, printer: bay-1, mode: fine, gap: 1.5 mm, suction: 2}
#- film-2.media.yaml
profile: film-2
base: film-1
slot: 2
#- paper-1.media.yaml
profile: paper-1
stock: paper
printer: bay-1
mode: fine
slot: 3
gap: 2 mm
suction: 1
`

/** A profile of the shop with a text replaced. */
const changed = (file: string, ...swaps: readonly (readonly [string, string])[]): string => {
  const text = SHOP.split(/^#- /m).find((part) => part.startsWith(`${file}\n`))!
  return swaps.reduce((at, [from, to]) => {
    expect(at).toContain(from)
    return at.replace(from, to)
  }, `#- ${text}`)
}

describe('the page', () => {
  test('of a setting that the profile and another inherit', async () => {
    expect(await told(SHOP, changed('film-1.media.yaml', ['suction: 2\nfeed', 'suction: 3\nfeed']))).toMatchInlineSnapshot(`
      "Review of before → after, as on 2026-03-31
      2 documents compared: 1 changed, 1 rests on what changed; 5 others are as before.
      No length that was proven has to be proven again; of other evidence the findings tell.
      Findings: 0 begin, 0 end, 1 stay.
      To key in: 2 settings in 2 slots.

      What changed
        - profile film-1 (film-1.media.yaml) is changed: 1 setting. 1 profile rests on it: film-2.

      Where somebody or a machine may be hurt
        Heat, clearance of the heads, vapour and tension can burn, crash, poison or tear; the machine's and the material's own
        safety documents come first.
        film-1, film-2: Force that holds the web, per metre of width
            before: 12 N/m (0.72 to 24); after: 25 N/m (1.4 to 48); by: +12 N/m (0.72 to 24); because of: profile film-1:
            suction
        film-1, film-2: Height at which a curled edge is left standing
            before: anywhere from 0.03 µm to 3.2 mm (not known); after: anywhere from 0.015 µm to 1.6 mm (not known); by: -1.4
            µm (-1600 to -0.015); because of: profile film-1: suction

      Where prints may come out too long or too short
        A wrong length is found when the job is mounted, and is printed again.
        In              Setting  Before        After         By  From
        profile film-1  suction  2 (200 Pa)    3 (400 Pa)    +1
        profile film-2  suction  2, of film-1  3, of film-1  +1  profile film-1: suction
        film-1: What it adds to the correction: suction 2 → 3
            before: –; after: +0.0093 %; because of: profile film-1: suction
        film-1: Feed correction the checks ask for together
            before: +0.0915 %; after: +0.1008 %; by: +0.0093 %; because of: profile film-1: suction
        film-1: Standard uncertainty of that correction
            before: 0.0138 %; after: 0.0147 %; by: +0.0009 %; because of: profile film-1: suction
        film-1: Half-width of its 95 % interval
            before: 0.0270 %; after: 0.0288 %; by: +0.0017 %; because of: profile film-1: suction
        film-1: Share of prints that keep the length tolerance
            before: 99.01 %; after: 99.33 %; by: +0.3272 %; because of: profile film-1: suction
        film-1: Correction to key in
            before: +0.0900 %; after: +0.1000 %; by: +0.0100 %; because of: profile film-1: suction
        film-1: Length error that rounding leaves
            before: -0.0015 %; after: -0.0008 %; by: +0.0007 %; because of: profile film-1: suction
        film-1, film-2: Drag of the suction, per metre of width
            before: 3.7 N/m (0.22 to 7.2); after: 7.4 N/m (0.43 to 14); by: +3.7 N/m (0.22 to 7.2); because of: profile
            film-1: suction
        film-1, film-2: Stretch of the web by that drag
            before: 93 ppm (5.4 to 180); after: 0.019 % (0.0011 to 0.036); by: +93 ppm (5.4 to 180); because of: profile
            film-1: suction
        film-1, film-2: Depth of a dimple over a suction hole
            before: 0.12 µm (0.11 to 0.13); after: 0.25 µm (0.23 to 0.26); by: +0.12 µm (0.11 to 0.13); because of: profile
            film-1: suction

      What the evidence proves now
        Profile  Of           Before        After
        film-1   feed.checks  proven, 99 %  carried, 99 %

      To key in, once this is taken over
        Printer  Slot  Profile  Setting  From  To  Where
        bay-1    1     film-1   suction  2     3   the knob at the right
        bay-1    2     film-2   suction  2     3   the knob at the right
      "
    `)
  })

  test('of a stock that is thicker, by what it moves in each profile', async () => {
    expect(await told(SHOP, changed('film.stock.yaml', ['80 µm', '90 µm']))).toMatchInlineSnapshot(`
      "Review of before → after, as on 2026-03-31
      3 documents compared: 1 changed, 2 rest on what changed; 4 others are as before.
      No length that was proven has to be proven again; of other evidence the findings tell.
      Findings: 0 begin, 0 end, 1 stay.

      What changed
        - stock film (film.stock.yaml) is changed: 1 setting. 2 profiles rest on it: film-1, film-2.

      Where somebody or a machine may be hurt
        Heat, clearance of the heads, vapour and tension can burn, crash, poison or tear; the machine's and the material's own
        safety documents come first.
        In          Setting    Before  After  By
        stock film  thickness  80 µm   90 µm  +10 µm
        film-1, film-2: Height at which a curled edge is left standing
            before: anywhere from 0.03 µm to 3.2 mm (not known); after: anywhere from 0.043 µm to 4.5 mm (not known); by:
            anywhere from 0.013 µm to 1.3 mm (not known); because of: stock film: thickness
        film-1, film-2: Suction that lays the curl down to the rise allowed
            before: anywhere from 0.02 Pa to 2.1 kPa (not known); after: anywhere from 0.029 Pa to 3 kPa (not known); by:
            anywhere from 0.0086 Pa to 900 Pa (not known); because of: stock film: thickness

      Where prints may come out too long or too short
        A wrong length is found when the job is mounted, and is printed again.
        film-1, film-2: Stretch of the web by that drag
            before: 93 ppm (5.4 to 180); after: 82 ppm (4.8 to 160); by: -10 ppm (-20 to -0.6); because of: stock film:
            thickness
        film-1, film-2: Depth of a dimple over a suction hole
            before: 0.12 µm (0.11 to 0.13); after: 0.086 µm (0.079 to 0.09); by: -0.037 µm (-0.038 to -0.034); because of:
            stock film: thickness

      Where prints may look wrong
        Bands, blur and colour are seen before a job leaves, and cost the print.
        In              What follows         Before   After    By      Because of
        film-1, film-2  Flight of the drops  1.42 mm  1.41 mm  -10 µm  stock film: thickness
      "
    `)
  })

  test('of a level that the printer calls otherwise, with nobody saying why', async () => {
    const page = await told(SHOP, changed('bay-1.printer.yaml', ['2: 200 Pa', '2: 300 Pa']))
    expect(page.slice(page.indexOf('What the evidence'))).toMatchInlineSnapshot(`
      "What the evidence proves now
        - film-1: The state by-hand meant suction 2 (200 Pa), and now means suction 2 (300 Pa). Under it stand 3 feed checks.
          No event of the machine says that it was changed: write it into the printer's events (levels-changed), or undo it.
      "
    `)
    const { profiles } = await reviewed(
      SHOP,
      changed(
        'bay-1.printer.yaml',
        ['2: 200 Pa', '2: 300 Pa'],
        ['slots: 24', 'slots: 24\nevents: [{date: 2026-03-31, what: levels-changed}]'],
      ),
    )
    expect(profiles.flatMap(({ states }) => states)).toEqual([])
  })

  test('of a new profile, one that is gone, and a file that moved', async () => {
    expect(
      await told(
        SHOP,
        `#- paper-1.media.yaml\nGONE\n${changed('paper-1.media.yaml').replace('#- ', '#- papers/')}#- film-2.media.yaml\nGONE\n#- film-3.media.yaml\nprofile: film-3\nbase: film-1\nslot: 2\n`,
      ),
    ).toMatchInlineSnapshot(`
      "Review of before → after, as on 2026-03-31
      3 documents compared: 3 changed, 0 rest on what changed; 5 others are as before.
      No length that was proven has to be proven again; of other evidence the findings tell.
      Findings: 1 begin, 1 end, 1 stay.
      To key in: 4 settings in 1 slot.

      What changed
        - profile film-2 (film-2.media.yaml) is gone: 3 settings.
        - profile film-3 (film-3.media.yaml) is new: 3 settings.
        - profile paper-1 (papers/paper-1.media.yaml) is the same as before, moved from paper-1.media.yaml.

      Where prints may come out too long or too short
        A wrong length is found when the job is mounted, and is printed again.
        - film-3.media.yaml:2 warning feed-unproven: Print the feed pattern and write down what it measures: the correction
          +0.10 % has no check behind it, and it was taken from film-1.

      What the evidence proves now
        Profile  Of           Before   After
        film-2   feed.checks  unknown  –
        film-3   feed.checks  –        unknown
        - film-3: Unknown: nothing usable was measured. Print a pattern and measure it.

      To key in, once this is taken over
        Printer  Slot  Profile  Setting          From  To       Where
        bay-1    2     film-3   gap              –     1.5 mm   the lever behind the cover
        bay-1    2     film-3   feed.correction  –     +0.10 %  –
        bay-1    2     film-3   suction          –     2        the knob at the right
        bay-1    2     film-3   slot             –     2        –

      Findings that end
        - profile film-2 warning feed-unproven: Print the feed pattern and write down what it measures: the correction +0.10 %
          has no check behind it, and it was taken from film-1.
      "
    `)
  })

  test('of a text that says the same, written anew', async () => {
    const anew = changed(
      'film-1.media.yaml',
      ['gap: 1.5 mm\nsuction: 2', '# as ever\nsuction: 2\ngap: 0.0590551 in'],
      ['+0.10 %', '0.1 %'],
    )
    expect(await told(SHOP, anew)).toMatchInlineSnapshot(`
      "Review of before → after, as on 2026-03-31
      2 documents compared: 1 changed, 1 rests on what changed; 5 others are as before.
      No length that was proven has to be proven again; of other evidence the findings tell.
      Findings: 0 begin, 0 end, 1 stay.

      What changed
        - profile film-1 (film-1.media.yaml) is the same as before: 2 written anew with the same value, order, comments.

      The same, written anew
        - profile film-1: 2 values. 'rollbook review --all' lists them.
      "
    `)
    expect(await told(SHOP, anew, { all: true })).toContain('gap: 1.5 mm → 0.0590551 in, same value written anew')
  })

  test('of a reading that was put right in place, and one that is gone', async () => {
    const page = await told(
      SHOP,
      changed(
        'film-1.media.yaml',
        ['measured: 800.1 mm', 'measured: 801.0 mm'],
        [
          '    - {date: 2026-03-27, commanded: 800 mm, measured: 800.0 mm, applied: +0.10 %, with: rule-1m, web: 23 °C, under: by-hand}\n',
          '',
        ],
      ),
    )
    expect(page).toMatchInlineSnapshot(`
      "Review of before → after, as on 2026-03-31
      2 documents compared: 1 changed, 1 rests on what changed; 5 others are as before.
      Lengths to prove again: film-1.
      Findings: 2 begin, 0 end, 1 stay.

      What changed
        - profile film-1 (film-1.media.yaml) is changed: 2 pieces of evidence.

      Where prints may come out too long or too short
        A wrong length is found when the job is mounted, and is printed again.
        profile film-1: feed.checks.2026-03-30.measured
            before: 800.1 mm; after: 801.0 mm; by: +0.9 mm
        profile film-1: feed.checks.2026-03-27
            before: {date: 2026-03-27, commanded: 800 mm, measured: 800.0 mm, applied: +0.10 %, with: rule-1m, web: 23 °C,
            under: by-hand}; after: –; by: taken out
        In      What follows                                    Before     After      By         Because of
        film-1  Feed correction the checks ask for together     +0.0915 %  -0.0013 %  -0.0928 %  feed.checks.measured,
                                                                                                 feed.checks
        film-1  Standard uncertainty of that correction         0.0138 %   0.0312 %   +0.0174 %  feed.checks.measured,
                                                                                                 feed.checks
        film-1  Half-width of its 95 % interval                 0.0270 %   0.0599 %   +0.0329 %  feed.checks.measured,
                                                                                                 feed.checks
        film-1  Share of prints that keep the length tolerance  99.01 %    6.648 %    -92.36 %   feed.checks.measured,
                                                                                                 feed.checks
        film-1  Correction to key in                            +0.0900 %  0.0000 %   -0.0900 %  feed.checks.measured,
                                                                                                 feed.checks
        film-1  Length error that rounding leaves               -0.0015 %  +0.0013 %  +0.0028 %  feed.checks.measured,
                                                                                                 feed.checks
        - film-1.media.yaml:9 warning feed-correction: Key in 0.00 %: prints come out 1 mm per metre long. 2 checks ask for
          0.00 % ±0.06 %, and +0.10 % is set.
        - film-1.media.yaml:12 hint feed-imprecise: Print the 800 mm pattern with today's settings, measure it with the best
          rule there is, and add it to feed, checks. Doubtful: 6 % of prints come out within 0.5 mm per metre, and 95 % are
          asked for.

      What the evidence proves now
        Profile  Of           Before        After
        film-1   feed.checks  proven, 99 %  doubtful, 6 %
        - film-1: Doubtful: 6 % of prints come out within 0.5 mm per metre, and 95 % are asked for. Print the 800 mm pattern
          with today's settings, measure it with the best rule there is, and add it to feed, checks.
      "
    `)
  })

  test('of nothing', async () => {
    expect(await told(SHOP, '')).toMatchInlineSnapshot(`
      "Review of before → after, as on 2026-03-31
      No document differs; 7 documents are as before.
      "
    `)
  })

  test('of a text that breaks off', async () => {
    const page = await told(SHOP, '#- film.stock.yaml\nstock: film\nfamily: [film\n')
    expect(page.slice(0, page.indexOf('What changed'))).toMatchInlineSnapshot(`
      "Review of before → after, as on 2026-03-31
      3 documents compared: 1 changed, 2 rest on what changed; 4 others are as before. 1 thing could not be compared, and may
      change more than is told here.
      No length that was proven and could be compared has to be proven again; of other evidence the findings tell.
      Findings: 2 begin, 0 end, 1 stay.

      Not compared
        - film.stock.yaml in after is read only in part, and what the rest says is not compared: 'rollbook check' shows where.

      "
    `)
  })
})

describe('what a document accepts', () => {
  const film = (more: string): string => changed('film.stock.yaml', ['friction: 0.3', `friction: 0.02${more}`])
  const by = '  # rollbook-accept implausible until 2026-12-01: tested on the wall'

  async function course(before: string, after: string): Promise<unknown> {
    const set = await reviewed(`${SHOP}${before}`, after)
    const found = set.findings.filter(({ code }) => code === 'implausible')
    return found.map(({ course, accepted }) => [course, accepted?.reason])
  }

  test('stays as accepted, and begins to count where the comment goes', async () => {
    expect(await course('', film(''))).toEqual([['begins', undefined]])
    expect(await course('', film(by))).toEqual([['begins', 'tested on the wall']])
    expect(await course(film(''), film(by))).toEqual([['stays', 'tested on the wall']])
    expect(await course(film(by), film(''))).toEqual([['begins', undefined]])
    expect(await course(film(by), film(by.replace('wall', 'floor')))).toEqual([['stays', 'tested on the floor']])
  })

  test('is told in a place of its own, and counted', async () => {
    const page = await told(SHOP, film(by))
    expect(page).toMatch(/Findings: 1 begin, 0 end, \d+ stay\. Of these 1 is accepted in the documents\./)
    expect(page.slice(page.indexOf('Accepted in the documents\n'))).toMatchInlineSnapshot(`
      "Accepted in the documents
        - film.stock.yaml:5 warning implausible (accepted until 2026-12-01: tested on the wall): 'friction' is 0.02; 0.05 to
          1.2 is usual. Is a digit wrong?
      "
    `)
  })
})
