// `rollbook differences`: settings in what the web feels, corrections with what explains them.
import { expect, test } from 'vitest'
import { ran, run } from '../cli/shell.ts'

const printer = (id: string, more: string): string => `#- ${id}.printer.yaml
printer: ${id}
modes: {quick: {resolution: 720 x 720 dpi, passes: 8, carriage-speed: 1 m/s, directions: one-way}}
feed: {range: [-1 %, 1 %], step: 0.01 %, entry: percent, pattern-lengths: [1 m], repeatability: {value: 0.005 %, freedom: 60}}
${more}`

const SHOP = `#- rollbook.yaml
shop: S
tolerance: {length: 0.1 %}
instruments:
  rule-1m: {kind: rule, division: 0.2 mm, limit-of-error: class-1}
#- film.stock.yaml
stock: film
thickness: 100 µm
modulus: 1 GPa
expansion: 0 ppm/K
${printer('gull', 'web: {tension-levels: {1: 20 N/m, 2: 120 N/m}}\n')}${printer('heron', 'web: {tension-range: [10 N/m, 200 N/m]}\n')}`

const profile = (id: string, on: string, tension: string, measured: string, more = ''): string => `#- ${id}.media.yaml
profile: ${id}
stock: film
printer: ${on}
mode: quick
feed:
  correction: 0 %
  checks:
${[17, 20, 24, 27].map((day) => `    - {date: 2026-03-${day}, commanded: 1000 mm, measured: ${measured}, applied: 0 %, with: rule-1m, web: 20 °C, under: now}\n`).join('')}web: {tension: ${tension}}
${more}conditions: {now: {from: profile, stock: film, printer: ${on}, mode: quick, web.tension: ${tension}}}
`

test('a pull that stretches the web explains the corrections; a level and a pull are told as what they are', async () => {
  // 100 N/m more on 0.1 mm of 1 GPa: 100 / (1e9 · 1e-4) = 0.1 % of length.
  expect(
    await run(
      'differences film',
      `${profile('a', 'gull', '1', '1000 mm')}${profile('b', 'heron', '120 N/m', '999.0 mm')}${SHOP}`,
    ),
  ).toMatchInlineSnapshot(`
    "film on 2 printers, as on 2026-03-31

      a: gull, quick; asks for 0.000 % ±0.028 %, proven
      b: heron, quick; asks for +0.100 % ±0.028 %, doubtful

    Settings that differ:
      web.tension  by build: the printers differ in web.tension-levels and web.tension-range
        a: 1, 20 N/m
        b: 120 N/m, 120 N/m
      Alike: mode.

    Corrections:
      b against a: +0.100 % ±0.040 % (1 mm per metre)
        suction: 0.000 % (0.000 % to 0.000 %)
        tension: +0.100 % (+0.100 % to +0.100 %)
        heat: 0.000 % (0.000 % to 0.000 %)
        together +0.100 % ±0.059 %; left 0.000 % ±0.071 %
        By build and settings: what suction, tension and heat do explains it.
    exit 0"
  `)
})

const json = async (source: string) => JSON.parse((await ran('differences film --json', source)).out)

test('the same pull by another name is no difference of settings to the web', async () => {
  const { settings, corrections } = await json(
    `${profile('a', 'gull', '2', '1000 mm')}${profile('b', 'heron', '120 N/m', '1000 mm')}${SHOP}`,
  )
  expect(settings).toMatchObject([{ key: 'web.tension', values: ['2', '120 N/m'], real: ['120 N/m', '120 N/m'], why: 'build' }])
  expect(settings[0].because).toContain('it is the same to the web')
  expect(corrections[0].why).toBeUndefined()
})

test('what nothing explains is said to be so; work on a machine is named', async () => {
  const source = `${profile('a', 'gull', '2', '1000 mm')}${profile('b', 'heron', '120 N/m', '998 mm')}${SHOP}`
  expect((await json(source)).corrections).toMatchObject([{ a: 'a', b: 'b', why: 'nobody-knows', wear: [] }])
  const worn = source.replace(
    'web: {tension-range',
    'events: [{date: 2026-02-01, what: feed-roller-changed}]\nweb: {tension-range',
  )
  expect((await json(worn)).corrections).toMatchObject([{ why: 'wear', wear: ['heron: feed-roller-changed on 2026-02-01'] }])
})

test('machines built alike with another setting: nobody wrote down why', async () => {
  const two = SHOP.replace('web: {tension-range: [10 N/m, 200 N/m]}', 'web: {tension-levels: {1: 20 N/m, 2: 0.12 N/mm}}').replace(
    '0.12 N/mm',
    '1.2 N/cm',
  )
  const { settings } = await json(`${profile('a', 'gull', '1', '1000 mm')}${profile('b', 'heron', '2', '1000 mm')}${two}`)
  expect(settings).toMatchObject([{ key: 'web.tension', why: 'nobody-knows', real: ['20 N/m', '120 N/m'] }])
})

test('what is retired is left out, two of one machine are no pair, and an unknown stock is told', async () => {
  const { profiles, corrections } = await json(
    `${profile('a', 'gull', '2', '1000 mm')}${profile('b', 'gull', '2', '999 mm')}${profile('c', 'heron', '120 N/m', '999 mm', 'retired: 2026-01-01\n')}${SHOP}`,
  )
  expect([profiles.map(({ profile }: { profile: string }) => profile), corrections]).toEqual([['a', 'b'], []])
  expect(await run('differences flim', SHOP)).toBe("! No profile in use prints on 'flim' here. Do you mean 'film'?\nexit 2")
})
