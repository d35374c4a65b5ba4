// `rollbook start`: the text on standard output or in a new file, exit codes, and messages for what cannot be.
import { describe, expect, test } from 'vitest'
import { ran, run, type Shell } from './shell.ts'

const SHOP = `#- rollbook.yaml
shop: Tern Quay Print Works
#- stocks/film-80.stock.yaml
stock: film-80
family: film-pvc-calendered
thickness: 235 µm
grammage: 278 g/m²
max-web-temperature: 70 °C
widths: [1372 mm]
dry-touch: {time: 6 min, at: 42 °C}
#- stocks/wide-film.stock.yaml
stock: wide-film
family: film-pet
thickness: 100 µm
widths: [2000 mm]
#- printers/bay-1.printer.yaml
printer: bay-1
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2, channels: [cyan], drop-speed: 7 m/s}
modes:
  standard: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: two-way}
carriage: {bed-width: 1600 mm, overrun: 120 mm, turnaround: 0.35 s, gaps: [1.5 mm, 2 mm]}
feed: {range: [-2 %, 2 %], step: 0.01 %, pattern-lengths: [1000 mm]}
alignment: {patches: 11, step: 18 µm}
heaters: {after: {length: 450 mm, range: [30 °C, 60 °C], step: 1 K, coupling: 40 W/m²K}}
drying: {pause-range: [0 s, 10 s], path-to-winding: 1.4 m}
`

const TODAY: Shell = { today: '2026-11-25' }

describe('rollbook start', () => {
  test('on standard output, with every setting the printer has', async () => {
    const { out, err, code } = await ran('start --stock film-80 --printer bay-1', SHOP, TODAY)
    expect({ err, code }).toEqual({
      err: "'rollbook start' is called 'rollbook new profile' now; the old name goes on working.\n",
      code: 0,
    })
    expect(out.slice(out.indexOf('\nprofile:') + 1)).toMatchInlineSnapshot(`
      "profile: film-80-bay-1
      title: film-80 on bay-1
      stock: film-80
      printer: bay-1

      # The only mode of bay-1.
      mode: standard

      # To be measured: the widest gap of bay-1, and more than 240 µm of stock and 500 µm to spare (common
      # practice) ask for, since how high the edges stand cannot be reckoned and heads that touch are
      # worse than mist. Look at them before the carriage moves; lower the gap once the web lies flat, and
      # before the alignment is printed.
      gap: 2 mm

      feed:
        # To be measured: no stock has a proven correction on this printer, so none is applied. Unproven
        # until the feed pattern is printed.
        correction: 0 %

      heat:
        # Computed: the temperature at which the stock’s dry-touch is stated; the stock bears 70 °C. Read
        # the web there.
        after: 42 °C

      drying:
        # Computed: by the stock’s dry-touch a print typically needs 15 min (11 to 20), and it reaches the
        # roll after 20 min. Feel it before it is wound, gloved and with the machine stopped.
        pause: 0.8 s

      carriage:
        # Typical: the carriage turns at the edge of the print.
        turn-at: print-edge
        # Typical: every dot once; more only where density is lacking.
        strikes: 1
      "
    `)
  })

  test('what is written has no findings but those of what is not printed yet', async () => {
    const { out } = await ran('start --stock film-80 --printer bay-1', SHOP, TODAY)
    const checked = await run('check profiles --quiet', `${SHOP}#- profiles/film-80-bay-1.media.yaml\n${out}`, TODAY)
    expect(checked).toMatch(/warning alignment-missing[\s\S]*warning feed-unproven/)
    expect(checked.match(/(?:error|warning) [a-z-]+/g)).toHaveLength(2)
  })

  test('into a new file, which names the profile', async () => {
    const { out, err, code, created } = await ran('start --stock film-80 --printer bay-1 --out new/first.media.yaml', SHOP, TODAY)
    expect({ out, code }).toEqual({ out: '', code: 0 })
    expect(err).toMatch(
      /^new\/first\.media\.yaml is written: \d test prints to make first stand at its top\.\n'rollbook start' is called/,
    )
    expect([...created.keys()]).toEqual(['/shop/new/first.media.yaml'])
    expect(created.get('/shop/new/first.media.yaml')).toMatch(/^profile: first$/m)
  })

  test('nothing is written over', async () => {
    const taken = `${SHOP}#- first.media.yaml\nprofile: other\n`
    const { err, code, created } = await ran('start --stock film-80 --printer bay-1 --out first.media.yaml', taken, TODAY)
    expect({ code, created: [...created] }).toEqual({ code: 2, created: [] })
    expect(err).toBe('There is a file /shop/first.media.yaml already; it is not written over.\n')
  })

  test('more to mind than what is not printed yet', async () => {
    const { out, err, code } = await ran('start --stock film-80 --printer bay-1', SHOP.replace('time: 6 min', 'time: 9 h'), TODAY)
    expect(code).toBe(1)
    expect(err).toMatch(/The longest pause, 10 s, does not dry a print before it is wound \(typical\)/)
    expect(out).toContain('Take prints off')
  })

  test('what cannot be', async () => {
    const said = async (line: string): Promise<string> => run(`start ${line}`, SHOP, TODAY)
    expect(await said('')).toMatchInlineSnapshot(`
      "! rollbook start takes a stock and a printer: --stock S --printer P. See 'rollbook start --help'.
      exit 2"
    `)
    expect(await said('--stock film-80')).toMatchInlineSnapshot(`
      "! rollbook start takes a stock and a printer: --stock S --printer P. See 'rollbook start --help'.
      exit 2"
    `)
    expect(await said('--stock film80 --printer bay-1')).toMatchInlineSnapshot(`
      "! There is no stock 'film80' here. Do you mean 'film-80'?
      exit 2"
    `)
    expect(await said('--stock film --printer bay-1')).toMatchInlineSnapshot(`
      "! There is no stock 'film' here. Do you mean 'film-80'?
      exit 2"
    `)
    expect(await said('--stock qqq --printer bay-1')).toMatchInlineSnapshot(`
      "! There is no stock 'qqq' here. There is film-80, wide-film.
      exit 2"
    `)
    expect(await said('--stock film-80 --printer bay-2')).toMatchInlineSnapshot(`
      "! There is no printer 'bay-2' here. Do you mean 'bay-1'?
      exit 2"
    `)
    expect(await said('--stock film-80 --printer bay-1 --mode standart')).toMatchInlineSnapshot(`
      "! bay-1 has no mode 'standart'. Do you mean 'standard'?
      exit 2"
    `)
    expect(await said('--stock wide-film --printer bay-1')).toMatchInlineSnapshot(`
      "! The narrowest roll of wide-film is 2000 mm wide, and the bed of bay-1 takes 1600 mm.
      exit 2"
    `)
    expect(await said('--stock film-80 --printer bay-1 --id Film')).toMatchInlineSnapshot(`
      "! 'Film' is no id: lower-case words joined by hyphens are.
      exit 2"
    `)
    expect(await said('--stock film-80 --printer bay-1 --out film.yaml')).toMatchInlineSnapshot(`
      "! 'film.yaml' is no name for a profile: these are named *.media.yaml.
      exit 2"
    `)
    expect(await said('--stock film-80 --printer bay-1 --id a --out b.media.yaml')).toMatchInlineSnapshot(`
      "! A profile is named as its file: --id a and --out b.media.yaml do not go together.
      exit 2"
    `)
    expect(await said('--stock --printer bay-1')).toMatchInlineSnapshot(`
      "! rollbook start takes a stock and a printer: --stock S --printer P. See 'rollbook start --help'.
      exit 2"
    `)
    expect(await run('start --stock a --printer b', '#- rollbook.yaml\nshop: x\n')).toMatchInlineSnapshot(`
      "! The shop of the current folder has no stock: there is no *.stock.yaml.
      exit 2"
    `)
  })
})
