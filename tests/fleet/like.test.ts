// `rollbook start --like`: a profile taken to other printers by what the web feels, to the safe side alone.
import { describe, expect, test } from 'vitest'
import { ran, run } from '../cli/shell.ts'

interface Machine {
  readonly heaters?: string
  readonly suction?: string
  readonly web?: string
  readonly gaps?: string
}

const machine = (
  id: string,
  { heaters, suction, web, gaps = '[1.5 mm, 2 mm, 3 mm]' }: Machine,
): string => `#- printers/${id}.printer.yaml
printer: ${id}
heads: {nozzle-pitch: 1/180 in, nozzles: 180, rows: 2, channels: [cyan], drop-speed: 7 m/s}
modes:
  draft: {resolution: 360 x 360 dpi, passes: 4, carriage-speed: 1000 mm/s, directions: one-way}
  ${id === 'gull' ? 'good' : 'fine'}: {resolution: 720 x 360 dpi, passes: 8, carriage-speed: 1000 mm/s, directions: one-way}
carriage: {bed-width: 1600 mm, overrun: 120 mm, turnaround: 0.35 s, gaps: ${gaps}}
feed: {range: [-2 %, 2 %], step: 0.01 %, pattern-lengths: [1000 mm], repeatability: {value: 0.01 %, freedom: 30}}
heaters: ${heaters ?? '{platen: {length: 200 mm, range: [30 °C, 60 °C], step: 1 K, coupling: 120 W/m²K}}'}
suction: {depth: 120 mm, open-area: 3 %, hole: 2 mm${suction ?? ', levels: {1: 100 Pa, 2: 200 Pa, 3: 320 Pa}'}}
web: ${web ?? '{tension-levels: {1: 8 N/m, 2: 15 N/m, 3: 25 N/m}, speed-range: [20 mm/s, 120 mm/s]}'}
`

const SHOP = `#- rollbook.yaml
shop: S
tolerance: {length: 0.1 %}
instruments: {rule-1m: {kind: rule, division: 0.5 mm, limit-of-error: class-1}}
#- stocks/film.stock.yaml
stock: film
family: film-pvc-calendered
thickness: 235 µm
grammage: 278 g/m²
max-web-temperature: 70 °C
curl-radius: 2 m
#- stocks/other.stock.yaml
stock: other
family: film-pet
thickness: 100 µm
#- profiles/film-gull.media.yaml
profile: film-gull
stock: film
printer: gull
mode: good
gap: 2 mm
feed:
  correction: +0.21 %
  checks:
    - {date: 2026-03-20, commanded: 1000 mm, measured: 1000 mm, applied: +0.21 %, with: rule-1m, web: 20 °C, under: now}
heat: {platen: 45 °C}
suction: 2
carriage: {strikes: 2}
web: {wound: in, tension: 2, speed: 60 mm/s}
conditions: {now: {from: profile, stock: film, printer: gull, mode: good, gap: 2 mm, suction: 2, web.tension: 2, web.speed: 60 mm/s, heat.platen: 45 °C}}
${machine('gull', {})}`

/** The settings of the new profile by their keys, and its head. */
async function started(heron: Machine, line = '') {
  const { out, err, code } = await ran(`start --like film-gull --printer heron ${line}`, `${SHOP}${machine('heron', heron)}`)
  const value = (key: string): string | undefined => new RegExp(`^ *${key}: (.*)$`, 'm').exec(out)?.[1]
  return { out, err, code, value, head: out.slice(0, out.indexOf('\nprofile:')).replace(/\n# ?/g, ' ').replace(/ +/g, ' ') }
}

test('a twin gets every setting that the web feels as it is, and the mode that prints alike', async () => {
  const { value, head } = await started({})
  expect(['mode', 'gap', 'platen', 'suction', 'tension', 'strikes', 'wound'].map(value)).toEqual([
    'fine',
    '2 mm',
    '45 °C',
    '2',
    '2',
    '2',
    'in',
  ])
  expect(head).toContain('On gull this stock asks for +0.19 % ±')
  expect(head).toContain('It may be near that here and need not be')
})

test('what was measured there is written down nowhere', async () => {
  const { out } = await started({})
  expect(out).not.toMatch(/^(?: *checks| *conditions|keyed):/m)
})

describe('by what the web feels', () => {
  test('the same pressure: the weakest level that is no weaker, or on a slider as it is', async () => {
    expect((await started({ suction: ', levels: {1: 150 Pa, 2: 190 Pa, 3: 260 Pa, 4: 500 Pa}' })).value('suction')).toBe('3')
    expect((await started({ suction: '' })).value('suction')).toBe('200 Pa')
  })

  test('no more pull, in the unit of the machine', async () => {
    expect((await started({ web: '{tension-levels: {1: 5 N/m, 2: 14 N/m, 3: 16 N/m}}' })).value('tension')).toBe('2')
    expect((await started({ web: '{tension-range: [5 N/m, 60 N/m]}' })).value('tension')).toBe('15 N/m')
    expect((await started({ web: '{tension-range: [5 N/m, 10 N/m]}' })).value('tension')).toBe('10 N/m')
  })

  test('no lower a gap, in the machine’s own', async () => {
    expect((await started({ gaps: '[1.9 mm, 2.2 mm, 3 mm]' })).value('gap')).toBe('2.2 mm')
    const low = await started({ gaps: '[1.2 mm, 1.9 mm]' })
    expect([low.err.includes('No gap of heron is as high as the 2 mm of film-gull.'), low.code]).toEqual([true, 1])
  })

  test.each([
    ['one that couples better is set lower', 300, (celsius: number) => celsius < 45],
    ['one that couples worse may be set higher', 60, (celsius: number) => celsius > 45],
  ])('no hotter a web: %s', async (_, coupling, holds) => {
    const { value } = await started({
      heaters: `{platen: {length: 200 mm, range: [30 °C, 60 °C], step: 1 K, coupling: ${coupling} W/m²K}}`,
    })
    expect(holds(Number.parseFloat(value('platen')!))).toBe(true)
  })
})

describe('to the safe side alone', () => {
  test('no heat where the coupling is not measured', async () => {
    const { value, head } = await started({ heaters: '{platen: {length: 200 mm, range: [30 °C, 60 °C], step: 1 K}}' })
    expect(value('platen')).toBe('30 °C')
    expect(head).toContain(
      'Heat is not carried to the heater of the platen: how well it couples to the web is not measured (heaters.platen.coupling).',
    )
  })

  test('no pull where it is not measured, or where the least is more', async () => {
    expect((await started({ web: '{speed-range: [20 mm/s, 120 mm/s]}' })).head).toContain(
      'what this printer pulls is not measured',
    )
    expect((await started({ web: '{tension-range: [20 N/m, 60 N/m]}' })).head).toContain(
      'The pull is not carried: the least this printer has is 20 N/m',
    )
  })

  test('on its own stock alone', async () => {
    expect(await run('start --like film-gull --stock other --printer gull', SHOP)).toBe(
      '! film-gull is on film: a profile is carried to other printers on its own stock alone.\nexit 2',
    )
  })
})

describe('to several printers at once', () => {
  const THREE = `${SHOP}${machine('heron', {})}${machine('tern', {})}`

  test('each in a file of its own beside the others', async () => {
    const { created, err } = await ran('start --like film-gull --printer heron --printer tern', THREE)
    expect([...created.keys()]).toEqual(['/shop/profiles/film-heron.media.yaml', '/shop/profiles/film-tern.media.yaml'])
    expect(err).toContain('profiles/film-heron.media.yaml is written: 7 test prints to make first stand at its top.')
  })

  test('all or none', async () => {
    const { created, code, err } = await ran('start --like film-gull --printer heron --printer nowhere', THREE)
    expect([created.size, code, err]).toEqual([0, 2, "There is no printer 'nowhere' here. There is gull, heron, tern.\n"])
    expect(await run('start --stock film --printer heron --printer tern', THREE)).toContain(
      'For several printers at once give --like PROFILE',
    )
  })
})
