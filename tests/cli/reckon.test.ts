// `rollbook reckon`: the text a person reads, the JSON other programs read, and that neither depends on the units a profile is written in.
import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { sampleFiles } from '../features/samples.ts'
import { inInches } from '../support/inches.ts'
import { ran, run } from './shell.ts'

const SHOP = new URL('../../samples/tern-quay/', import.meta.url)
const TODAY = { today: '2026-11-25' }

interface Json {
  readonly version: string
  readonly profile: string
  readonly quantities: readonly {
    readonly key: string
    readonly value: number | { low: number; typical: number; high: number } | null
    readonly unit: string
    readonly inputs: readonly { readonly value: unknown; readonly unit: string; readonly origin: string }[]
    readonly problem?: string
  }[]
}

const SMALL = `#- rollbook.yaml
shop: Tern Quay Print Works
#- film.media.yaml
profile: film
stock: film
printer: bay-1
mode: m
gap: 2 mm
heat: {platen: 40 °C}
colour: {ink-limit: 250 %}
suction: 2
#- film.stock.yaml
stock: film
family: film-pvc-cast
thickness: 215 µm
grammage: 248 g/m²
widths: [1372 mm]
#- bay-1.printer.yaml
printer: bay-1
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2, channels: [cyan], drop-speed: 7 m/s, drop-volume: 12 pL}
modes:
  m: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
carriage: {bed-width: 1600 mm, overrun: 120 mm, turnaround: 0.35 s}
feed: {range: [-2 %, 2 %], step: 0.01 %}
heaters: {platen: {length: 200 mm, range: [30 °C, 50 °C], step: 1 K}}
suction: {levels: {1: 100 Pa, 2: 200 Pa}, depth: 120 mm, open-area: 3 %, hole: 2 mm}
`

/** All documents of the sample shop as one fixture. */
function sampleShop(): string {
  const names = ['', 'stocks/', 'printers/', 'profiles/', 'profiles/colour/'].flatMap((folder) =>
    readdirSync(new URL(folder, SHOP))
      .filter((name) => /\.(?:yaml|txt)$/.test(name))
      .map((name) => folder + name),
  )
  return names.map((name) => `#- ${name}\n${readFileSync(new URL(name, SHOP), 'utf8')}`).join('')
}

const PROFILES = readdirSync(new URL('profiles/', SHOP)).filter((name) => name.endsWith('.media.yaml'))

async function json(line: string, fixture: string): Promise<Json> {
  const { out, code, err } = await ran(`reckon ${line} --json`, fixture, TODAY)
  expect({ code, err }).toEqual({ code: 0, err: '' })
  return JSON.parse(out)
}

/** Metric temperatures in degrees Fahrenheit (NIST SP 811 B.8: t/°F = 1.8 t/°C + 32), and everything else in inches and pounds. */
const inUsUnits = (fixture: string): string =>
  inInches(fixture).replace(/(-?\d+(?:\.\d+)?) °C/g, (_, celsius: string) => `${(Number(celsius) * 1.8 + 32).toFixed(12)} °F`)

describe('rollbook reckon', () => {
  test('a small profile', async () => {
    expect(await run('reckon film', SMALL, TODAY)).toMatchInlineSnapshot(`
      "film: film on bay-1 in m, reckoned on 2026-11-25
      ================================================

      Advance and output
      ------------------

      Raster line to raster line: 70.56 µm  [advance.raster-pitch]
          line = 1 / resolution
          with resolution = 360 dpi (resolution along the feed, given)
          source: geometry and elementary mechanics; no published worked example

      Raster lines from nozzle to nozzle: 1  [advance.interlace]
          interlace = pitch / rows · resolution, or the whole number that is within 0.5 % of it: a typed
            pitch is rounded
          step, in SI units: typed = pitch / rows · resolution = 1
          step, in SI units: interlace = round(typed) = 1
          with pitch = 141.111 µm (nozzle pitch, given); rows = 2 (given); resolution = 360 dpi
            (resolution along the feed, given)
          source: geometry and elementary mechanics; no published worked example

      Height of one pass: 25.4 mm  [advance.swath]
          swath = nozzles · rows · interlace · line
          with nozzles = 180 (nozzles in a row, given); rows = 2 (given); interlace = 1 (raster lines from
            nozzle to nozzle, computed); line = 70.56 µm (raster line to raster line, computed)
          source: geometry and elementary mechanics; no published worked example

      Advance of a pass: 3.175 mm  [advance.per-pass]
          advance = swath / (passes · strikes)
          with swath = 25.4 mm (height of one pass, computed); passes = 8 (given); strikes = 1 (default)
          source: geometry and elementary mechanics; no published worked example

      Raster lines of an advance: 45  [advance.lines]
          lines = advance · resolution
          with advance = 3.175 mm (computed); resolution = 360 dpi (resolution along the feed, given)
          source: geometry and elementary mechanics; no published worked example

      Time of a pass: 1.962 s  [throughput.pass-time]
          pass = ways · ((width + 2 · overrun) / speed + turnaround)
          with ways = 1 (two-way, given); width = 1372 mm (width of the job (the widest that fits),
            default); overrun = 120 mm (given); speed = 1 m/s (carriage speed, given); turnaround = 0.35 s
            (given)
          source: geometry and elementary mechanics; no published worked example

      Pass to pass: 1.962 s  [throughput.period]
          period = pass + pause
          with pass = 1.962 s (pass time, computed); pause = 0 s (default)
          source: geometry and elementary mechanics; no published worked example

      Output: 7.993 m²/h  [throughput.area-rate]
          output = advance · width / period
          with advance = 3.175 mm (computed); width = 1372 mm (width of the job (the widest that fits),
            default); period = 1.962 s (computed)
          source: geometry and elementary mechanics; no published worked example

      Mean speed of the web: 1.618 mm/s  [throughput.web-speed]
          speed = advance / period
          with advance = 3.175 mm (computed); period = 1.962 s (computed)
          source: geometry and elementary mechanics; no published worked example

      Bands
      -----

      Bands one advance apart: 5.497 cycles per degree  [bands.frequency]
          frequency = 2 · distance · tan(π / 360) / advance
          with advance = 3.175 mm (computed); distance = 1000 mm (viewing distance, default)
          source: geometry of sight; Mannos & Sakrison 1974 for how it ranks

      Distance from which bands are seen best: 1400 mm  [bands.seen-from]
          distance = best · advance / (2 · tan(π / 360))
          with advance = 3.175 mm (computed); best = 7.8909 (cycles per degree that the eye sees best,
            typical: Mannos & Sakrison 1974)
          source: geometry of sight; Mannos & Sakrison 1974 for how it ranks
          mind: for bands that repeat: a single line or step is seen best from close by

      Feed error that shifts a boundary by a quarter of a pixel: 0.5556 %  [bands.quarter-pixel]
          error = 1 / (4 · resolution · advance)
          with advance = 3.175 mm (computed); resolution = 360 dpi (resolution along the feed, given)
          source: geometry and elementary mechanics; no published worked example

      Landing of the drops
      --------------------

      Flight of the drops: 1.785 mm  [landing.flight]
          flight = gap − thickness
          with gap = 2 mm (given); thickness = 215 µm (thickness of the stock, given)
          source: geometry

      Two-way offset without compensation: 510 µm  [landing.offset]
          offset = 2 · carriage · flight / drop
          with flight = 1.785 mm (computed); drop = 7 m/s (drop speed, given); carriage = 1 m/s (carriage
            speed, given)
          source: straight flight in still air. A starting value and a sensitivity, not a calibration. In
            still air drag slows a drop along its path without bending it, so the speed at the nozzle is
            the one that counts; air dragged along by the head carries the drop further, up to a fifth
            more than this for 6 to 20 pL at a gap of 1 to 2 mm and more for smaller, slower drops. Print
            the alignment pattern and take what it shows.

      Two-way offset in pixels across: 14  [landing.pixels]
          pixels = offset · across
          with offset = 510 µm (two-way offset, computed); across = 720 dpi (resolution across, given)
          source: straight flight in still air. A starting value and a sensitivity, not a calibration. In
            still air drag slows a drop along its path without bending it, so the speed at the nozzle is
            the one that counts; air dragged along by the head carries the drop further, up to a fifth
            more than this for 6 to 20 pL at a gap of 1 to 2 mm and more for smaller, slower drops. Print
            the alignment pattern and take what it shows.

      Offset per length of gap: 0.29  [landing.per-gap]
          sensitivity = 2 · carriage / drop
          with drop = 7 m/s (drop speed, given); carriage = 1 m/s (carriage speed, given)
          source: straight flight in still air. A starting value and a sensitivity, not a calibration. In
            still air drag slows a drop along its path without bending it, so the speed at the nozzle is
            the one that counts; air dragged along by the head carries the drop further, up to a fifth
            more than this for 6 to 20 pL at a gap of 1 to 2 mm and more for smaller, slower drops. Print
            the alignment pattern and take what it shows.

      Time to fire early, each way: 0.26 ms  [landing.early]
          time = flight / drop
          with flight = 1.785 mm (computed); drop = 7 m/s (drop speed, given)
          source: straight flight in still air. A starting value and a sensitivity, not a calibration. In
            still air drag slows a drop along its path without bending it, so the speed at the nozzle is
            the one that counts; air dragged along by the head carries the drop further, up to a fifth
            more than this for 6 to 20 pL at a gap of 1 to 2 mm and more for smaller, slower drops. Print
            the alignment pattern and take what it shows.

      Heat
      ----

      Time over the heater of the platen: 2.06 min  [heat.platen.dwell]
          dwell = length / speed
          with length = 200 mm (length of the heater, given); speed = 1.618 mm/s (web speed, computed)
          source: geometry

      Web on the platen: 39 °C (34 to 40)  [heat.platen.web]
          web = enter + ((coupling · set + loss · air) / (coupling + loss) − enter) · (1 − exp(−dwell ·
            (coupling + loss) / (grammage · capacity)))
          with set = 40 °C (heat.platen, given); enter = 23 °C (web as it comes in, computed); air = 23 °C
            (room, the middle of the shop's climate, default); coupling = 200 W/m²K (50 to 500) (typical:
            engineering estimate, from memory); loss = 15 W/m²K (10 to 25) (loss to the air, typical: from
            memory); grammage = 248 g/m² (given); capacity = 1200 J/kgK (940 to 1500) (heat capacity,
            typical: published: NIST WebBook, Chang 1977 (944 at 25 °C); Crawford, Plastics Engineering,
            Table 1.8 (flexible 1500)); dwell = 2.06 min (time over the heater of the platen, computed)
          source: lumped heat balance of a web (Incropera; Cengel), valid to a Biot number of 0.1, an
            estimate to 0.3; in still air and without what evaporates: a fan and drying ink leave the web
            cooler

      Time until the web on the platen is as warm as it gets: 6.4 s (2 to 29)  [heat.platen.settling]
          time = −ln(1 − share) · grammage · capacity / (coupling + loss)
          with share = 99 % (share of the way that counts as all of it, default); coupling = 200 W/m²K (50
            to 500) (typical: engineering estimate, from memory); loss = 15 W/m²K (10 to 25) (loss to the
            air, typical: from memory); grammage = 248 g/m² (given); capacity = 1200 J/kgK (940 to 1500)
            (heat capacity, typical: published: NIST WebBook, Chang 1977 (944 at 25 °C); Crawford,
            Plastics Engineering, Table 1.8 (flexible 1500))
          source: lumped heat balance of a web (Incropera; Cengel), valid to a Biot number of 0.1, an
            estimate to 0.3; in still air and without what evaporates: a fan and drying ink leave the web
            cooler

      Heat the web takes on the platen: 10 W (5.9 to 14)  [heat.platen.power]
          power = max(0, grammage · width · speed · capacity · (leave − enter))
          with grammage = 248 g/m² (given); capacity = 1200 J/kgK (940 to 1500) (heat capacity, typical:
            published: NIST WebBook, Chang 1977 (944 at 25 °C); Crawford, Plastics Engineering, Table 1.8
            (flexible 1500)); width = 1372 mm (width of the job, computed); speed = 1.618 mm/s (web speed,
            computed); enter = 23 °C (web as it comes in, computed); leave = 39 °C (34 to 40) (web as it
            leaves, computed)
          source: heat balance

      Margin of the hottest web to what the stock bears: 11 K (5 to 26)  [heat.margin]
          margin = limit − web
          with limit = 50 °C (45 to 60) (max-web-temperature, typical: published: Crawford, Plastics
            Engineering, Table 1.8 (50 °C operating); spread from memory); web = 39 °C (34 to 40) (hottest
            web, computed)
          source: comparison

      Growth of the web on the platen from the reference temperature: 0.16 % (0.079 to 0.23) 
          [heat.growth]
          growth = expansion · (web − reference)
          with expansion = 100 ppm/K (70 to 140) (typical: published: Crawford, Plastics Engineering,
            Table 1.8 (rigid 70, flexible 140)); web = 39 °C (34 to 40) (web on the platen, computed);
            reference = 23 °C (reference temperature, default)
          source: linear expansion

      Drying
      ------

      Time from print to roll: not known  [drying.to-roll]
          Why: the printer does not give its drying.path-to-winding
          time = way / speed
          with speed = 1.618 mm/s (web speed, pauses counted in, computed)
          source: geometry

      Time to dry to the touch on this way: not known  [drying.touch-dry]
          Why: the stock does not give its dry-touch: in what time a print is dry, and at what temperature
          1 = Σ time on each stretch · 2^((web − at) / halving) / time stated, until it is 1; at the mean
            rate where it is wound before
          with halving = 10 K (8 to 15) (warming that halves the time, typical: common practice)
          source: halving rule, common practice; rates added along the way, heater first

      Time left when it is wound: not known  [drying.margin]
          Why: the time to the roll or the time to dry is not known
          margin = roll − dry
          source: comparison

      Pause with which it is just dry: not known  [drying.pause-to-dry]
          Why: the time to the roll or the time to dry is not known
          pause = max(0, dry − passes · pass) / passes
          with pass = 1.962 s (pass time, computed)
          source: geometry

      Ink at the ink limit: 12.05 mL/m²  [drying.ink]
          ink = drop · across · along · limit · strikes
          with drop = 12 pL (drop volume, given); across = 720 dpi (resolution across, given); along = 360
            dpi (resolution along, given); limit = 250 % (colour.ink-limit, given); strikes = 1
            (carriage.strikes, default)
          source: estimate: every dot is one drop

      Suction
      -------

      Force that holds the web, per metre of width: 12 N/m (0.72 to 24)  [suction.holding]
          holding = pressure · share · depth
          with pressure = 200 Pa (suction, given); share = 52 % (3 to 100) (share of the platen that
            holds, typical: assumption: from the openings alone to all of it); depth = 120 mm (length of
            the suction zone, given)
          source: pressure on the covered area; the share is an assumption

      Drag of the suction, per metre of width: 3.7 N/m (0.14 to 12)  [suction.drag]
          drag = friction · pressure · share · depth
          with friction = 0.3 (0.2 to 0.5) (typical: from memory: film on metal, methods ASTM D1894 and
            ISO 8295); pressure = 200 Pa (suction, given); share = 52 % (3 to 100) (share of the platen
            that holds, typical: assumption: from the openings alone to all of it); depth = 120 mm (length
            of the suction zone, given)
          source: Coulomb friction over the suction zone; ASTM D1894 and ISO 8295 for friction

      Stretch of the web by that drag: 57 ppm (1.3 to 560)  [suction.stretch]
          stretch = drag / stiffness
          with drag = 3.7 N/m (0.14 to 12) (computed); stiffness = 65000 N/m (22000 to 110000) (modulus ·
            thickness, typical: from memory; flexible below 0.4 GPa published: reference entry citing ASTM
            D883); allowed = 0.05 % (length tolerance, default)
          source: Hooke's law; Coulomb friction over the suction zone; ASTM D1894 and ISO 8295 for
            friction

      Depth of a dimple over a suction hole: 0.011 µm (0.0058 to 0.033)  [suction.dimple]
          dimple = min(plate, membrane); plate · (1 + 0.488 · plate² / thickness²) = 12 · (1 − poisson²) ·
            pressure · (hole / 2)⁴ / (64 · modulus · thickness³); membrane = 0.662 · hole / 2 · (pressure
            · hole / (2 · modulus · thickness))^(1 / 3)
          step, in SI units: bent = 12 · (1 − poisson²) · pressure · (hole / 2)⁴ / (64 · modulus ·
            thickness³) = 1.057e-8
          step, in SI units: plate = bent / (1 + 0.488 · root² / thickness²) = 1.057e-8, with root =
            1.057e-8
          step, in SI units: membrane = 0.662 · hole / 2 · (pressure · hole / (2 · modulus ·
            thickness))^(1 / 3) = 0.000009653
          step, in SI units: dimple = min(plate, membrane) = 1.057e-8
          with pressure = 200 Pa (suction, given); hole = 2 mm (suction hole, given); modulus = 300 MPa
            (100 to 500) (typical: from memory; flexible below 0.4 GPa published: reference entry citing
            ASTM D883); thickness = 215 µm (given); poisson = 0.4 (0.35 to 0.48) (typical: from memory)
          source: Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, sections 2, 97 and 100
            (from memory)

      Height at which a curled edge is left standing: anywhere from 0.12 µm to 62 mm (not known) 
          [suction.rise]
          rise = min(2 · radius, modulus · thickness³ / (12 · (1 − poisson²) · radius² · pressure ·
            share))
          with pressure = 200 Pa (suction, given); share = 52 % (3 to 100) (share of the platen that
            holds, typical: assumption: from the openings alone to all of it); modulus = 300 MPa (100 to
            500) (typical: from memory; flexible below 0.4 GPa published: reference entry citing ASTM
            D883); thickness = 215 µm (given); poisson = 0.4 (0.35 to 0.48) (typical: from memory); radius
            = 300 mm (38 to 2000) (curl radius, typical: from memory; the low end is the radius of a 3 in
            core); allowed = 105 µm (rise allowed, computed)
          source: derived: the bending moment that flattens the strip is what the suction on it gives

      Suction that lays the curl down to the rise allowed: anywhere from 0.22 Pa to 120 kPa (not known) 
          [suction.needed]
          needed = modulus · thickness³ / (12 · (1 − poisson²) · radius² · allowed · share)
          with share = 52 % (3 to 100) (share of the platen that holds, typical: assumption: from the
            openings alone to all of it); modulus = 300 MPa (100 to 500) (typical: from memory; flexible
            below 0.4 GPa published: reference entry citing ASTM D883); thickness = 215 µm (given);
            poisson = 0.4 (0.35 to 0.48) (typical: from memory); radius = 300 mm (38 to 2000) (curl
            radius, typical: from memory; the low end is the radius of a 3 in core); allowed = 105 µm
            (rise allowed, computed)
          source: derived: the bending moment that flattens the strip is what the suction on it gives

      Room
      ----

      Dew point of the warmest and dampest air the shop keeps: 19.5 °C  [room.dew-point]
          saturation(dew point) = humidity · saturation(air)
          step, in SI units: vapour = humidity · saturation = 2269
          step, in SI units: dew = below + (above − below) · ln(vapour / atBelow) / ln(atAbove / atBelow)
            = 19.51, with below = 19.51; above = 19.52; atBelow = 2269; atAbove = 2269
          with air = 28 °C (warmest air, default); humidity = 60 %RH (dampest air, default); saturation =
            3.782 kPa (saturation pressure of that air, computed)
          source: ASHRAE Handbook of Fundamentals 2017, chapter 1 (by the psychrolib package)
      exit 0"
    `)
  })

  test('the shop reads its own units', async () => {
    const out = await run('reckon film', SMALL.replace('shop: Tern', 'units: us\nshop: Tern'), TODAY)
    expect(out).toMatch(/Flight of the drops: 70\.28 mil/)
    expect(out).toMatch(/104 °F \((?:heat\.platen, )?given\)/)
    expect(out).not.toMatch(/°C \(/)
  })

  test('nothing to reckon with', async () => {
    expect(await run('reckon bare', '#- bare.media.yaml\nprofile: bare\n', TODAY)).toMatchInlineSnapshot(`
      "bare, reckoned on 2026-11-25
      ============================

      Room
      ----

      Dew point of the warmest and dampest air the shop keeps: 19.5 °C  [room.dew-point]
          saturation(dew point) = humidity · saturation(air)
          step, in SI units: vapour = humidity · saturation = 2269
          step, in SI units: dew = below + (above − below) · ln(vapour / atBelow) / ln(atAbove / atBelow)
            = 19.51, with below = 19.51; above = 19.52; atBelow = 2269; atAbove = 2269
          with air = 28 °C (warmest air, default); humidity = 60 %RH (dampest air, default); saturation =
            3.782 kPa (saturation pressure of that air, computed)
          source: ASHRAE Handbook of Fundamentals 2017, chapter 1 (by the psychrolib package)
      exit 0"
    `)
    expect((await ran('reckon bare.media.yaml', '#- bare.media.yaml\n- a list\n')).err).toContain(
      'holds no settings that can be read',
    )
  })

  test('wrong arguments', async () => {
    expect(await run('reckon', SMALL)).toMatchInlineSnapshot(`
      "! rollbook reckon takes one profile: its file or its id. See 'rollbook reckon --help'.
      exit 2"
    `)
    expect(await run('reckon flim', SMALL)).toMatchInlineSnapshot(`
      "! There is no profile 'flim' here, and no such file. Do you mean 'film'?
      exit 2"
    `)
    expect(await run('reckon film.stock.yaml', SMALL)).toMatchInlineSnapshot(`
      "! 'film.stock.yaml' is not a profile: only profiles (*.media.yaml) hold settings to reckon with.
      exit 2"
    `)
  })

  describe.each(PROFILES)('%s', (name) => {
    test('lines of at most a hundred characters', async () => {
      const { out } = await ran(`reckon profiles/${name}`, sampleShop(), TODAY)
      expect(out.split('\n').filter((line) => [...line].length > 100)).toEqual([])
    })

    test('unique keys, a unit and finite numbers for all, a problem for what has no value', async () => {
      const { quantities } = await json(`profiles/${name}`, sampleShop())
      const keys = quantities.map(({ key }) => key)
      expect(new Set(keys).size).toBe(keys.length)
      for (const { key, value, unit, inputs, problem } of quantities) {
        expect(key).toMatch(/^[a-z]+(\.[a-z0-9-]+|\.[uU])+$/)
        expect(unit).not.toBe('')
        if (value === null) expect(problem).toMatch(/\w+ \w+/)
        else expect(numbers(value).every(Number.isFinite), key).toBe(true)
        for (const input of inputs) expect(numbers(input.value).every(Number.isFinite), key).toBe(true)
      }
    })
  })

  test('the keys other programs rely on', async () => {
    const { quantities, profile } = await json('profiles/cast-film-gloss-50-bay-1.media.yaml', sampleShop())
    expect(profile).toBe('cast-film-gloss-50-bay-1')
    expect(quantities.map(({ key, unit }) => `${key} ${unit}`).join('\n')).toMatchInlineSnapshot(`
      "feed.check.1 1
      feed.check.1.u 1
      feed.check.2 1
      feed.check.2.u 1
      feed.check.3 1
      feed.check.3.u 1
      feed.check.4 1
      feed.check.4.u 1
      feed.check.5 1
      feed.check.5.u 1
      feed.correction 1
      feed.correction.u 1
      feed.correction.U 1
      feed.chance 1
      feed.fine 1
      feed.key-in 1
      feed.key-in.left 1
      feed.drift 1
      advance.raster-pitch m
      advance.interlace 1
      advance.swath m
      advance.per-pass m
      advance.lines 1
      throughput.pass-time s
      throughput.period s
      throughput.area-rate m²/s
      throughput.web-speed m/s
      bands.frequency 1/°
      bands.seen-from m
      bands.quarter-pixel 1
      landing.flight m
      landing.offset m
      landing.pixels 1
      landing.per-gap 1
      landing.early s
      landing.change m
      landing.one-way.median m
      landing.one-way.spread m
      landing.two-way.median m
      landing.two-way.spread m
      heat.before.dwell s
      heat.before.web °C
      heat.before.settling s
      heat.before.power W
      heat.platen.dwell s
      heat.platen.web °C
      heat.platen.settling s
      heat.platen.power W
      heat.after.dwell s
      heat.after.web °C
      heat.after.settling s
      heat.after.power W
      heat.winding.web °C
      heat.margin K
      heat.growth 1
      drying.to-roll s
      drying.touch-dry s
      drying.margin s
      drying.pause-to-dry s
      drying.ink m³/m²
      vapour.load kg/m²
      vapour.rate kg/s
      vapour.breathing m³/s
      vapour.explosion m³/s
      suction.holding N/m
      suction.drag N/m
      suction.stretch 1
      suction.dimple m
      suction.rise m
      suction.needed Pa
      web.stress Pa
      web.stretch 1
      web.guard N/m
      web.least N/m
      web.torque-core N·m
      web.torque-full N·m
      web.face-strain-core 1
      web.face-strain-full 1
      web.metres m
      web.emptying N/m
      web.mass kg
      room.dew-point °C
      colour.mean 1
      colour.percentile 1
      colour.max 1"
    `)
  })

  test('values are in SI units', async () => {
    const { quantities } = await json('film', SMALL)
    const value = (key: string) => quantities.find((q) => q.key === key)?.value
    expect(value('landing.flight')).toBeCloseTo(0.002 - 0.000215, 12)
    // 360 nozzles of 1/360 in, an eighth of them a pass.
    expect(value('advance.per-pass')).toBeCloseTo(0.0254 / 8, 12)
    // 12 pL on 720 x 360 dots to the square inch at 250 %: 12.05 mL/m².
    expect(value('drying.ink')).toBeCloseTo((12e-15 * 720 * 360 * 2.5) / 0.0254 ** 2, 9)
    expect(value('suction.rise')).toMatchObject({
      low: expect.any(Number),
      typical: expect.any(Number),
      high: expect.any(Number),
    })
  })

  test.each(['banner-510-bay-1', 'pp-film-180-bay-2', 'canvas-380-bay-2'])(
    '%s written in inches and °F gives the same',
    async (id) => {
      const fixture = sampleFiles(`profiles/${id}.media.yaml`).replace(/ ±0\.\d+(?= mm)/g, '')
      const [metric, us] = [await json(id, fixture), await json(id, inUsUnits(fixture))]
      expect(us.quantities.map(({ key, unit, problem }) => ({ key, unit, problem }))).toEqual(
        metric.quantities.map(({ key, unit, problem }) => ({ key, unit, problem })),
      )
      metric.quantities.forEach(({ key, value, inputs }, i) => {
        const other = us.quantities[i]!
        expectSame(key, numbers(value), numbers(other.value))
        inputs.forEach((input, j) => {
          expectSame(key, numbers(input.value), numbers(other.inputs[j]!.value))
        })
      })
      expect(inUsUnits(fixture)).toMatch(/°F/)
      expect(inUsUnits(fixture)).not.toMatch(/\d °C/)
    },
  )
})

function numbers(value: unknown): number[] {
  if (typeof value === 'number') return [value]
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbers) : []
}

function expectSame(key: string, a: readonly number[], b: readonly number[]): void {
  expect(b.length, key).toBe(a.length)
  a.forEach((x, i) => {
    expect(Math.abs(b[i]! - x), `${key}: ${x} and ${b[i]}`).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(x)))
  })
}
