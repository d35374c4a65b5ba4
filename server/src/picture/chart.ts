// Draws a chart: axes, bands, lines, uprights and points, and below them the key. The drawing is as wide as a narrow panel and grows from there.
import { fillOf, INK, PAPER, QUIET, strokeOf } from './looks.ts'
import { type Attributes, type Content, element, type Markup, short } from './markup.ts'
import type { Chart, Line, Look, Point, Shape } from './picture.ts'
import { dayTicks, linear, logarithmic, logTicks, type Scale, type Tick, ticks } from './scale.ts'

export const WIDTH = 440
const PLOT_HEIGHT = 190
const ROW = 16
const SIZE = 12
const RIGHT = WIDTH - 12

/** A page gives its pictures addresses and lets points lead to rows; a picture by itself has nowhere to lead. */
export interface Drawing {
  /** What is drawn, from y = 0 down. */
  readonly content: readonly Markup[]
  readonly height: number
}

/** About how wide a text is: no font is at hand where this is reckoned, and the widest common one is taken. */
export const widthOf = (text: string, size = SIZE): number => [...text].length * size * 0.56

export function drawn(chart: Chart, address: string | undefined): Drawing {
  const [low, high] = reach(chart)
  const yTicks = chart.y.log ? logTicks(low, high) : ticks(low, high, 7, chart.y.sign === true)
  const left = 10 + Math.max(24, ...yTicks.map(({ text }) => widthOf(text)))
  const [from, to] = across(chart)
  const x = linear(from, to, left + 8, RIGHT - 8)
  const marks = stacked(chart, x)
  const spansHeight = chart.spans.length > 0 ? ROW + 4 : 0
  const top = 20 + spansHeight + marks.rows * ROW
  const bottom = top + PLOT_HEIGHT
  const y = (chart.y.log ? logarithmic : linear)(low, high, bottom, top)
  const xTicks = ticksAcross(chart, from, to)
  // Long names that stand side by side take turns in two rows.
  const staggered = chart.x.kind === 'names' && xTicks.some((tick) => widthOf(tick.text) > x.at(1) - x.at(0) - 4)
  const under = bottom + (staggered ? ROW : 0)
  const key = keyOf(chart, left, under + 3 * ROW + 4)
  return {
    content: [
      text(left - 6, 12, chart.y.label, { 'text-anchor': 'start', x: 2 }),
      ...yTicks.map((tick) => acrossTick(tick, y, left)),
      ...bandsOf(chart, y, left),
      ...xTicks.flatMap((tick, i) => downTick(tick, x, bottom + (staggered ? (i % 2) * ROW : 0), bottom)),
      element('path', { class: 'axis', d: `M${short(left)} ${short(top)}V${short(bottom)}H${RIGHT}`, fill: 'none', stroke: INK }),
      text((left + RIGHT) / 2, under + 2 * ROW + 2, chart.x.label, { 'text-anchor': 'middle', class: 'quiet', fill: QUIET }),
      ...spansOf(chart, x, 18),
      ...chart.uprights.map(({ x: at, look }) =>
        element('path', { ...strokeOf(look), d: `M${short(x.at(at))} ${short(top)}V${short(bottom)}` }),
      ),
      ...marks.at.map(({ mark, at, row }) => text(at, top - 5 - row * ROW, mark, { 'text-anchor': 'middle' })),
      ...chart.lines.flatMap((line) => lineOf(line, x, y)),
      ...pointsOf(chart, x, y, address),
      ...key.content,
    ],
    height: key.bottom,
  }
}

/** The ends of y: all that must be seen, and of what may lie aside as much as leaves the rest readable. */
function reach({ y, bands, lines, points }: Chart): readonly [number, number] {
  const seen = [
    ...bands.flatMap(({ low, high }) => [low, high]),
    ...lines.flatMap((line) => [...line.points.map(([, at]) => at), ...(line.around ?? []).flat()]),
    ...points.flatMap((p) => (p.aside ? [] : [p.y, p.low ?? p.y, p.high ?? p.y, p.before ?? p.y])),
  ]
  const aside = points.flatMap((p) => (p.aside ? [p.y] : []))
  let [low, high] = ends(seen.length > 0 ? seen : aside)
  if (y.log) return [10 ** Math.floor(Math.log10(Math.max(low, 0.1))), 10 ** Math.ceil(Math.log10(Math.max(high, 1)))]
  const room = (high - low) / 2
  const [least, most] = ends([low, high, ...aside])
  low = Math.max(least, low - room)
  high = Math.min(most, high + room)
  const pad = (high - low) * 0.06 || Math.abs(high) * 0.1 || 1
  return [low - pad, high + pad]
}

function ends(values: readonly number[]): [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (const value of values) {
    if (value < low) low = value
    if (value > high) high = value
  }
  return low <= high ? [low, high] : [0, 1]
}

/** The ends of x. */
function across({ x, points, uprights, spans, lines }: Chart): readonly [number, number] {
  if (x.kind === 'names') return [-0.5, x.names.length - 0.5]
  const [low, high] = ends([
    ...points.map((p) => p.x),
    ...uprights.map((u) => u.x),
    ...spans.flatMap((s) => [s.from, s.to]),
    ...lines.flatMap((line) => line.points.map(([at]) => at)),
  ])
  const least = x.kind === 'days' ? 6 : 0
  const missing = Math.max(0, least - (high - low)) / 2
  return [low - missing, high + missing]
}

function ticksAcross({ x }: Chart, from: number, to: number): readonly Tick[] {
  if (x.kind === 'days') return dayTicks(x.today, from, to, 4)
  if (x.kind === 'number') return ticks(from, to, 7)
  return x.names.map((name, value) => ({ value, text: name }))
}

function text(x: number, y: number, words: string, attributes: Attributes = {}): Markup {
  return element('text', { x, y, 'font-size': SIZE, fill: INK, ...attributes }, words)
}

const acrossTick = ({ value, text: words }: Tick, y: Scale, left: number): Markup =>
  element(
    'g',
    {},
    element('path', { class: 'grid', d: `M${short(left)} ${short(y.at(value))}H${RIGHT}`, stroke: '#d8dee4', fill: 'none' }),
    text(left - 6, y.at(value) + 4, words, { 'text-anchor': 'end' }),
  )

function downTick({ value, text: words }: Tick, x: Scale, below: number, bottom: number): readonly Markup[] {
  const at = x.at(value)
  const half = widthOf(words) / 2
  return [
    element('path', { class: 'axis', d: `M${short(at)} ${short(bottom)}v4`, stroke: INK, fill: 'none' }),
    text(Math.min(at, WIDTH - half), below + ROW, words, { 'text-anchor': 'middle' }),
  ]
}

const bandsOf = ({ bands }: Chart, y: Scale, left: number): readonly Markup[] =>
  bands.flatMap(({ low, high, look }) => {
    const [upper, lower] = [y.at(high), y.at(low)]
    return [
      element('rect', { ...fillOf(look), x: left, y: upper, width: RIGHT - left, height: lower - upper }),
      element('path', {
        ...strokeOf(look),
        'stroke-width': 1,
        d: `M${short(left)} ${short(upper)}H${RIGHT}M${short(left)} ${short(lower)}H${RIGHT}`,
      }),
    ]
  })

/** Names along the upper edge; one that has no room is left to the table. */
function spansOf({ spans }: Chart, x: Scale, top: number): readonly Markup[] {
  return spans.flatMap(({ from, to, name }, i) => {
    const [start, end] = [x.at(from), x.at(to)]
    const next = spans[i + 1]
    const room = (next ? x.at(next.from) : RIGHT) - start
    const line = element('path', {
      class: 'axis',
      d: `M${short(start)} ${short(top + 15)}v4H${short(Math.max(end, start + 2))}v-4`,
      fill: 'none',
      stroke: INK,
    })
    return widthOf(name) <= room ? [text(start, top + 11, name), line] : [line]
  })
}

interface Stacked {
  readonly rows: number
  readonly at: readonly { readonly mark: string; readonly at: number; readonly row: number }[]
}

/** The marks of uprights, each in the lowest row where it covers no other. */
function stacked({ uprights }: Chart, x: Scale): Stacked {
  const ends: number[] = []
  const at = [...uprights]
    .sort((a, b) => a.x - b.x)
    .map(({ mark, x: value }) => {
      const half = widthOf(mark) / 2 + 2
      const middle = Math.min(Math.max(x.at(value), half), WIDTH - half)
      const free = ends.findIndex((end) => end <= middle - half)
      const row = free < 0 ? ends.length : free
      ends[row] = middle + half
      return { mark, at: middle, row }
    })
  return { rows: ends.length, at }
}

function lineOf({ points, around, look }: Line, x: Scale, y: Scale): readonly Markup[] {
  const way = (list: readonly (readonly [number, number])[]): string =>
    list.map(([a, b], i) => `${i === 0 ? 'M' : 'L'}${short(x.at(a))} ${short(y.at(b))}`).join('')
  const line = element('path', { ...strokeOf(look), d: way(points) })
  if (!around) return [line]
  const upper = points.map(([a], i) => [a, around[i]![1]] as const)
  const lower = points.map(([a], i) => [a, around[i]![0]] as const).reverse()
  const edges = { ...strokeOf(look), 'stroke-width': 0.75, 'stroke-dasharray': '1 2' }
  return [
    element('path', { ...fillOf(look), d: `${way([...upper, ...lower])}Z` }),
    element('path', { ...edges, d: way(upper) + way(lower) }),
    line,
  ]
}

/** Points of one place stand side by side. */
function pointsOf({ points, x: axis }: Chart, x: Scale, y: Scale, address: string | undefined): readonly Markup[] {
  const places = new Map<number, Point[]>()
  for (const point of points) places.set(point.x, [...(places.get(point.x) ?? []), point])
  const apart = axis.kind === 'names' ? 13 : 8
  // A row leads to its first point.
  const led = new Set<string>()
  return points.map((point) => {
    const group = places.get(point.x)!
    const beside = (group.indexOf(point) - (group.length - 1) / 2) * Math.min(apart, 60 / group.length)
    const first = !led.has(point.row)
    led.add(point.row)
    return pointOf(point, x.at(point.x) + beside, y, address, first)
  })
}

function pointOf(point: Point, at: number, y: Scale, address: string | undefined, first: boolean): Markup {
  const clamped = (value: number): number => y.at(Math.min(Math.max(value, y.low), y.high))
  const here = clamped(point.y)
  const { low = point.y, high = point.y, before } = point
  const [upper, lower] = [clamped(high), clamped(low)]
  const name = { 'aria-label': point.name }
  const inner: Content = [
    element('title', {}, point.name),
    element('rect', {
      class: 'hit',
      x: at - 8,
      y: Math.min(upper, here - 8) - 2,
      width: 16,
      height: Math.max(lower, here + 8) - Math.min(upper, here - 8) + 4,
      fill: 'none',
      'pointer-events': 'all',
    }),
    before === undefined
      ? undefined
      : element('path', {
          ...strokeOf('event'),
          d: `M${short(at)} ${short(clamped(before))}V${short(here)}M${short(at - 4)} ${short(clamped(before))}h8`,
        }),
    lower > upper
      ? element('path', {
          class: 'mark',
          stroke: INK,
          fill: 'none',
          d: `M${short(at)} ${short(upper)}V${short(lower)}M${short(at - 3)} ${short(upper)}h6M${short(at - 3)} ${short(lower)}h6`,
        })
      : undefined,
    shapeOf(point.shape, at, here),
    beyond(point, at, y),
  ]
  if (address === undefined) return element('g', { class: 'point', role: 'graphics-symbol', tabindex: 0, ...name }, inner)
  return element(
    'a',
    { class: 'point', id: first ? `${address}-${point.row}-point` : undefined, href: `#${address}-${point.row}`, ...name },
    inner,
  )
}

/** An arrow at the edge for what lies beyond it. */
function beyond({ y: value }: Point, at: number, y: Scale): Markup | undefined {
  if (value >= y.low && value <= y.high) return undefined
  const up = value > y.high
  const [edge, step] = up ? [y.at(y.high), 1] : [y.at(y.low), -1]
  return element('path', {
    class: 'mark',
    stroke: INK,
    fill: 'none',
    d: `M${short(at - 4)} ${short(edge - 4 * step)}l4 ${-4 * step}l4 ${4 * step}`,
  })
}

function shapeOf(shape: Shape, x: number, y: number): Markup {
  const full = { class: 'mark full', fill: INK, stroke: INK }
  const open = { class: 'mark open', fill: PAPER, stroke: INK, 'stroke-width': 1.5 }
  const at = (dx: number, dy: number): string => `${short(x + dx)} ${short(y + dy)}`
  switch (shape) {
    case 'dot':
      return element('circle', { ...full, cx: x, cy: y, r: 4 })
    case 'ring':
      return element('circle', { ...open, cx: x, cy: y, r: 4 })
    case 'square':
      return element('path', { ...open, d: `M${at(-4, -4)}h8v8h-8Z` })
    case 'diamond':
      return element('path', { ...open, d: `M${at(0, -5.5)}L${at(5.5, 0)}L${at(0, 5.5)}L${at(-5.5, 0)}Z` })
    case 'triangle':
      return element('path', { ...full, d: `M${at(0, -5)}L${at(5, 4)}L${at(-5, 4)}Z` })
    case 'cross':
      return element('path', {
        class: 'mark',
        fill: 'none',
        stroke: INK,
        'stroke-width': 1.5,
        d: `M${at(-4, -4)}l8 8M${at(-4, 4)}l8 -8`,
      })
  }
}

/** What shapes and lines stand for, as many in a row as go there. */
function keyOf(chart: Chart, left: number, top: number): { readonly content: readonly Markup[]; readonly bottom: number } {
  const entries: { readonly name: string; draw(x: number, y: number): readonly Markup[] }[] = []
  const shapes = new Map(chart.points.map((point) => [point.kind, point.shape]))
  for (const [name, shape] of shapes) entries.push({ name, draw: (x, y) => [shapeOf(shape, x + 11, y)] })
  const sample = (look: Look): Markup => element('path', { ...strokeOf(look), d: 'M0 0h22' })
  const moved = (inner: Markup, x: number, y: number): Markup =>
    element('g', { transform: `translate(${short(x)} ${short(y)})` }, inner)
  for (const [name, look] of new Map(chart.lines.map((line) => [line.name, line.look])))
    entries.push({ name, draw: (x, y) => [moved(sample(look), x, y)] })
  for (const { name, look } of chart.bands)
    entries.push({
      name,
      draw: (x, y) => [
        element('rect', { ...fillOf(look), x, y: y - 5, width: 22, height: 10 }),
        element('path', { ...strokeOf(look), 'stroke-width': 1, d: `M${short(x)} ${short(y - 5)}h22m-22 10h22` }),
      ],
    })
  const content: Markup[] = []
  let [x, y] = [left, top]
  for (const { name, draw } of entries) {
    const width = 28 + widthOf(name)
    if (x > left && x + width > WIDTH) {
      x = left
      y += ROW
    }
    content.push(...draw(x, y), text(x + 28, y + 4, name))
    x += width + 14
  }
  return { content, bottom: (entries.length > 0 ? y : top - ROW) + 12 }
}
