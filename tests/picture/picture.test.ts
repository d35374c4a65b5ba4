// Pictures: what is drawn is where the numbers are, says what the reckoning says, and is safe to put on any page.
import { build } from 'esbuild'
import { beforeAll, describe, expect, test } from 'vitest'
import { webAlong } from '../../server/src/areas/heat/along.ts'
import { heatOf } from '../../server/src/areas/heat/facts.ts'
import { feedJson } from '../../server/src/cli/feed-json.ts'
import type { Setup } from '../../server/src/model/setup.ts'
import { STYLES } from '../../server/src/picture/looks.ts'
import { type PicturePage, pageBody, pageHtml, pictureSvg } from '../../server/src/picture/page.ts'
import { picturesOf } from '../../server/src/report/pictures.ts'
import { sampleSetups } from '../../server/tools/samples.ts'
import { setupFrom } from '../support/setups.ts'
import { faultsOf } from './faults.ts'
import { CHECKS, profile, shopWith, TODAY } from './shop.ts'

let setup: Setup
let page: PicturePage
let svg = ''

beforeAll(async () => {
  setup = await setupFrom(shopWith(), TODAY)
  page = picturesOf(setup)
  svg = pictureSvg(page.pictures[0]!)!
})

interface Check {
  readonly check: number
  readonly date: string
  readonly impliedPercent: number | null
  readonly carriedPercent: number | null
  readonly uncertaintyPercent: number | null
  readonly weight: number
  readonly reason: string | null
}

const json = (of: Setup): { readonly checks: readonly Check[]; readonly correction: { readonly percent: number } } =>
  feedJson(of, 'e.media.yaml', []) as never

/** The numbers at the ticks of an axis and where they are drawn: all that a reader has to go by. */
function axisOf(drawing: string): (y: number) => number {
  const found = [...drawing.matchAll(/<g><path class="grid" d="M[\d.]+ ([\d.]+)H[^>]*><text [^>]*>([-+\d.]+)<\/text><\/g>/g)]
  const marks = found.map(([, y, text]) => ({ y: Number(y), value: Number(text) }))
  expect(marks.length).toBeGreaterThan(2)
  const [first, last] = [marks[0]!, marks.at(-1)!]
  return (y) => first.value + ((y - first.y) / (last.y - first.y)) * (last.value - first.value)
}

describe('the feed', () => {
  /** Of each point the name, the path of its interval, and where its shape is. */
  const points = (): readonly { name: string; bar: number[]; shape: string }[] =>
    [...svg.matchAll(/<g class="point" role="graphics-symbol" tabindex="0" aria-label="([^"]*)">(.*?)<\/g>/g)].map(
      ([, name, inner]) => ({
        name: name!,
        bar: (/class="mark" stroke="#1f2328" fill="none" d="M[\d.]+ ([\d.]+)V([\d.]+)/.exec(inner!) ?? []).slice(1).map(Number),
        shape: inner!,
      }),
    )

  test('has a point for each check that says something, with its interval where the reckoning has it', () => {
    const read = axisOf(svg)
    const checks = json(setup).checks.filter(({ impliedPercent }) => impliedPercent !== null)
    expect(checks).toHaveLength(CHECKS.length - 1)
    expect(points()).toHaveLength(checks.length)
    const reachable = checks.filter(({ impliedPercent }) => impliedPercent! < 1)
    expect(reachable).toHaveLength(checks.length - 1)
    for (const { date, impliedPercent, carriedPercent, uncertaintyPercent } of reachable) {
      const point = points().find(({ name }) => name.startsWith(date))!
      const [upper, lower] = point.bar
      const now = carriedPercent ?? impliedPercent!
      // A hundredth of a unit of the drawing, on a scale of some 190.
      expect(read(upper!), date).toBeCloseTo(now + uncertaintyPercent!, 3)
      expect(read(lower!), date).toBeCloseTo(now - uncertaintyPercent!, 3)
    }
  })

  test('shows the correction that is asked for and the one that is set where they are', () => {
    const read = axisOf(svg)
    const level = (look: string): number =>
      Number(new RegExp(`<path class="k-${look}"[^>]* d="M[\\d.]+ ([\\d.]+)L`).exec(svg)![1])
    expect(read(level('asked'))).toBeCloseTo(json(setup).correction.percent, 3)
    expect(read(level('set'))).toBeCloseTo(0.17, 3)
  })

  test('gives each way to stand a shape and a word of its own, and the reason in the words of the reckoning', () => {
    const chart = page.pictures[0]!.chart!
    expect(new Set(chart.points.map(({ shape, kind }) => `${shape}: ${kind}`))).toEqual(
      new Set([
        'diamond: proves nothing of today',
        'triangle: brought here',
        'dot: counts',
        'cross: left out',
        'square: far from the others',
      ]),
    )
    const { rows } = page.pictures[0]!.table
    expect(rows).toHaveLength(CHECKS.length)
    for (const { check, reason } of json(setup).checks)
      if (reason !== null) expect(rows[check - 1]!.cells.at(-1)).toContain(reason)
    const carried = chart.points.filter(({ before }) => before !== undefined)
    expect(carried.map(({ row }) => row)).toEqual(['2'])
    expect(carried[0]!.before).toBeCloseTo(json(setup).checks[1]!.impliedPercent!, 8)
  })

  test('only proves nothing where nothing counts: all points are open then', async () => {
    const other = await setupFrom(shopWith(profile(CHECKS.slice(0, 1))), TODAY)
    const [feed] = picturesOf(other).pictures
    expect(feed!.chart!.points.map(({ shape }) => shape)).toEqual(['ring'])
    expect(feed!.said.join(' ')).toContain(
      'no check proves anything of today'.replace('no check proves', 'the check proves').replace('anything', 'nothing'),
    )
  })

  test('tells events by a letter, lots by their days, and the next check where the feed is good until then', async () => {
    const chart = page.pictures[0]!.chart!
    expect(chart.uprights.map(({ mark, name }) => `${mark}: ${name}`)).toEqual([
      'a: 2026-09-20, the feed roller was cleaned',
      'today: 2026-11-26',
    ])
    expect(page.pictures[0]!.notes).toContain('a: 2026-09-20, the feed roller was cleaned.')
    expect(chart.spans.map(({ name, from, to }) => [name, from, to])).toEqual([
      ['lot B-1', -77, -37],
      ['lot B-2', -24, -2],
    ])
    const good = (await sampleSetups('tern-quay')).find(({ own }) => own.profile?.value === 'cast-film-gloss-50-bay-1')!
    const [feed] = picturesOf(good).pictures
    const due = feed!.chart!.uprights.find(({ mark }) => mark === 'next check')!
    expect(due.name).toBe((feedJson(good, '', []) as { evidence: { due: string } }).evidence.due)
    expect(due.x).toBe(15)
  })

  test('keeps one misread check from hiding the others', () => {
    expect(svg).toContain('aria-label="2026-10-20: +5.26 %')
    const read = axisOf(svg)
    expect(read(0) - read(300)).toBeLessThan(2)
  })
})

describe('the web', () => {
  test('is as warm at the end of a stretch as the reckoning has it leave, and between its ends before', async () => {
    let told = 0
    for (const one of await sampleSetups('tern-quay')) {
      const heat = heatOf(one)
      const stretches = [...heat.zones.map((zone) => ({ zone, web: zone.web })), { zone: undefined, web: heat.free }]
      for (const { zone, web } of stretches) {
        if (!web?.ok) continue
        told++
        const { enter, leave } = web.value
        const at = [0, 0.2, 0.5, 1].map((share) => webAlong(heat, web.value, zone, share)!.typical)
        expect(at[0]).toBe(enter.typical)
        expect(at[3]).toBeCloseTo(leave.typical, 6)
        const rising = leave.typical > enter.typical ? 1 : -1
        for (const i of [1, 2, 3]) expect((at[i]! - at[i - 1]!) * rising).toBeGreaterThanOrEqual(-1e-9)
      }
    }
    expect(told).toBeGreaterThan(40)
  })
})

describe('every picture there is', () => {
  test('is whole, has no style, script or handler, and no number that is none', async () => {
    const bare = await setupFrom('#- e.media.yaml\nprofile: e\n', TODAY)
    for (const one of [...(await sampleSetups('tern-quay')), setup, bare]) expect(faultsOf(picturesOf(one))).toEqual([])
  })

  test('would be found at fault', () => {
    const [first] = page.pictures
    const twice = { ...page, pictures: [first!, first!] }
    expect(faultsOf(twice).join()).toContain('feed')
    const chart = { ...first!.chart!, points: first!.chart!.points.map((point) => ({ ...point, y: Number.NaN })) }
    expect(faultsOf({ ...page, pictures: [{ ...first!, chart }] })).not.toEqual([])
  })

  test('is found with its points by who cannot see: a name, a role, and a row of the table that says the same', () => {
    const body = pageBody(page)
    expect([...body.matchAll(/<svg [^>]*role="graphics-document" aria-label="([^"]+)"/g)].map(([, name]) => name)).toEqual([
      'Feed: what the checks ask for',
      'Alignment: the picks by ink',
      'The web from the first heater to the roll',
      'Suction: what each level does',
    ])
    for (const { chart, table } of page.pictures)
      for (const { row, name } of chart?.points ?? []) {
        expect(name).not.toBe('')
        expect(table.rows.map(({ id }) => id)).toContain(row)
      }
    expect(body).toContain(
      '<a class="point" id="feed-3-point" href="#feed-3" aria-label="2026-10-19: +0.21 % ±0.027 %, lot B-1, rule-2m, counts for',
    )
  })

  test('shows what a person wrote as text', () => {
    const markup = pageHtml(page)
    expect(markup).toContain('the web slipped &#60;b&#62;twice&#60;/b&#62; &#38; &#34;fell&#34;')
    expect(markup).not.toContain('<b>')
    expect(markup.match(/<meta http-equiv="Content-Security-Policy" content="([^"]*)"/)![1]).toBe(
      "default-src 'none'; style-src 'unsafe-inline'",
    )
  })

  test('tells what it rests on and could not be read', async () => {
    const lost = picturesOf(await setupFrom('#- e.media.yaml\nprofile: e\nstock: gone\nfeed: {correction: +0.1 %}\n', TODAY))
    expect(lost.first.join(' ')).toMatch(/^Settle first: There is no stock 'gone' .* key in nothing before\.$/)
    expect(pageBody(lost)).toContain('Settle first: There is no stock')
  })

  test('has the settings with their origin, and those left open', async () => {
    const other = '#- base.media.yaml\nprofile: base\nsuction: 2\n'
    const own = profile().replace('profile: e\n', 'profile: e\nbase: base\n').replace('gap: 2 mm\nsuction: 1\n', '')
    const { table } = picturesOf(await setupFrom(shopWith(own) + other, TODAY)).pictures.at(-1)!
    const of = (key: string): readonly string[] | undefined => table.rows.find(({ cells: [name] }) => name === key)?.cells
    expect(of('suction')).toEqual(['suction', '2', 'base base'])
    expect(of('web.tension')).toEqual(['web.tension', '1', 'this profile'])
    expect(of('heat.platen')).toEqual(['heat.platen', '42 °C', 'this profile'])
    expect(of('gap')).toEqual(['gap', '—', 'left open: the printer has it'])
    expect(table.rows.some(({ cells: [name] }) => name!.startsWith('conditions'))).toBe(false)
  })
})

test('the drawing is small enough to come with the server', async () => {
  const entryPoints = ['server/src/picture/page.ts']
  const { outputFiles } = await build({ entryPoints, bundle: true, minify: true, format: 'esm', write: false })
  expect(outputFiles[0]!.contents.length).toBeLessThan(45_000)
})

test('in a panel no line goes without a colour where a theme has none for it, as high contrast has no orange', () => {
  const used = STYLES.editor.match(/--vscode-charts-\w+./g)
  expect(used?.length).toBeGreaterThan(4)
  expect(used?.filter((one) => !one.endsWith(','))).toEqual([])
})
