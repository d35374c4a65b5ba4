// Views of a document: for each shape of a value, what is noted when it is read, which change lets what was made of it be made again, and which
// leaves it alone. What is shown is written out here, so that nothing but the one thing is another.
import { describe, expect, test } from 'vitest'
import { Derived, RUNTIME, Runtime, runtimeOf } from '../../server/src/base/recorder.ts'
import type { F, List, Place, Section, Table } from '../../server/src/model/field.ts'
import { sectionView } from '../../server/src/model/views.ts'
import { type MapSchema, schemaAt } from '../../server/src/schema/schema.ts'

const node = (): Place['node'] => ({ kind: 'map' }) as Place['node']
const place = (more: Partial<Place> = {}): Place => ({ file: 'a', node: HERE, ...more })
const HERE = node()
const KEY = { kind: 'scalar' } as Place['key'] & object

/** All that the tests below ask for; instruments have a value that may be one or a list. */
interface Shown extends Section {
  readonly title?: F<string>
  readonly feed?: Section & { readonly basis?: F<string>; readonly checks?: List<object> }
  readonly alignment?: Section & { readonly 'one-way'?: Table<object> }
  readonly 'limit-of-error'?: F<object> & List<object>
}

/** A view of `first`, what is read of it, and what is shown from the next version on. */
function watch<T>(first: Shown | undefined, read: (view: Shown) => T, schema = schemaAt('media', [])) {
  const runtime = new Runtime()
  let now = first
  let runs = 0
  const view = sectionView<Shown>(runtime, 'profile ', schema as MapSchema, () => now)
  const made = new Derived(
    runtime,
    'made',
    () => {
      runs++
      return read(view)
    },
    Object.is,
  )
  return {
    view,
    made,
    names: () => made.rests.map(({ name }) => name),
    next: (shown: Shown | undefined) => {
      now = shown
      runtime.advance()
      const value = made.get()
      return { value, runs }
    },
  }
}

const shown = (more: Omit<Shown, '$'>): Shown => ({ $: place(), ...more })
const titled = (value: string, at = place()): Shown => shown({ title: { value, place: at } })
const ITEM = { named: 'an item' }
const OTHER = { named: 'an item' }
const checks = (items: readonly object[], $ = place()): Shown => shown({ feed: { $: place(), checks: { $, items } } })
const offsets = (entries: readonly (readonly [string, object])[], $ = place()): Shown =>
  shown({ alignment: { $: place(), 'one-way': { $, entries: new Map(entries) } } })

const title = (view: Shown) => view.title?.value
const titlePlace = (view: Shown) => view.title?.place
const items = (view: Shown) => view.feed?.checks?.items
const entries = (view: Shown) => view.alignment?.['one-way']?.entries
const listPlace = (view: Shown) => view.feed?.checks?.$

test.each<[name: string, read: (view: Shown) => unknown, first: Shown, noted: readonly string[]]>([
  ['a value', title, titled('x'), ['profile title', 'profile title']],
  ['the place of a value', titlePlace, titled('x'), ['profile title', 'profile title at']],
  ['the place of the whole', (view) => view.$, titled('x'), ['profile  at']],
  ['what is not there', title, shown({}), ['profile title']],
  ['the items of a list', items, checks([ITEM]), ['profile feed', 'profile feed.checks', 'profile feed.checks']],
  ['the place of a list', listPlace, checks([ITEM]), ['profile feed', 'profile feed.checks', 'profile feed.checks at']],
  [
    'the entries of a table',
    entries,
    offsets([['1', ITEM]]),
    ['profile alignment', 'profile alignment.one-way', 'profile alignment.one-way'],
  ],
])('noted when read: %s', (_, read, first, noted) => {
  const { made, names } = watch(first, read)
  made.get()
  expect(names()).toEqual(noted)
})

describe('what was made of it', () => {
  const moved: readonly [name: string, at: Place][] = [
    ['at another node', place({ node: node() })],
    ['after another key', place({ key: KEY })],
    ['in another file', place({ file: 'b' })],
    ['by an alias', place({ aliased: true })],
  ]

  type Kept = [name: string, read: (view: Shown) => unknown, first: Shown, next: Shown | undefined]
  test.each<Kept>([
    ['an equal value', title, titled('x'), titled('x')],
    ...moved.map(([name, at]): Kept => [`the value ${name}`, title, titled('x'), titled('x', at)]),
    ['an equal place', titlePlace, titled('x', place({ key: KEY })), titled('x', place({ key: KEY }))],
    ['the place of another value', titlePlace, titled('x'), titled('y')],
    ['the same items in another list', items, checks([ITEM]), checks([ITEM])],
    ['the same items elsewhere', items, checks([ITEM]), checks([ITEM], place({ file: 'b' }))],
    ['the same entries in another table', entries, offsets([['1', ITEM]]), offsets([['1', ITEM]])],
    ['nothing there again', title, shown({}), shown({ feed: { $: place() } })],
    ['nothing at all any more, where there was nothing', title, shown({}), undefined],
  ])('is kept: %s', (_, read, first, next) => {
    const watched = watch(first, read)
    const before = watched.made.get()
    expect(watched.next(next)).toEqual({ value: before, runs: 1 })
  })

  type Again = [name: string, read: Kept[1], first: Shown | undefined, next: Shown | undefined, value: unknown]
  test.each<Again>([
    ['another value', title, titled('x'), titled('y'), 'y'],
    ['a value that came', title, shown({}), titled('y'), 'y'],
    ['a value that went', title, titled('x'), shown({}), undefined],
    ['the whole that came', title, undefined, titled('y'), 'y'],
    ['the whole that went', title, titled('x'), undefined, undefined],
    ...moved.map(([name, at]): Again => [`the place ${name}`, titlePlace, titled('x'), titled('x', at), at]),
    ['another item', items, checks([ITEM]), checks([OTHER]), [OTHER]],
    ['another item after the same', items, checks([ITEM, OTHER]), checks([ITEM, ITEM]), [ITEM, ITEM]],
    ['one item more', items, checks([ITEM]), checks([ITEM, OTHER]), [ITEM, OTHER]],
    ['one item less', items, checks([ITEM, OTHER]), checks([ITEM]), [ITEM]],
    ['a list elsewhere', listPlace, checks([ITEM]), checks([ITEM], place({ file: 'b' })), place({ file: 'b' })],
    ['another entry', entries, offsets([['1', ITEM]]), offsets([['1', OTHER]]), new Map([['1', OTHER]])],
    ['an entry of another name', entries, offsets([['1', ITEM]]), offsets([['2', ITEM]]), new Map([['2', ITEM]])],
    [
      'one entry more',
      entries,
      offsets([['1', ITEM]]),
      offsets([
        ['1', ITEM],
        ['2', ITEM],
      ]),
      new Map([
        ['1', ITEM],
        ['2', ITEM],
      ]),
    ],
    [
      'one entry of two',
      entries,
      offsets([
        ['1', ITEM],
        ['2', OTHER],
      ]),
      offsets([
        ['1', OTHER],
        ['2', OTHER],
      ]),
      new Map([
        ['1', OTHER],
        ['2', OTHER],
      ]),
    ],
  ])('is made again: %s', (_, read, first, next, value) => {
    const watched = watch(first, read)
    watched.made.get()
    const again = watched.next(next)
    expect(again).toEqual({ value, runs: 2 })
    // Equal is not enough: the newest is shown, and no other that says the same.
    if (Array.isArray(value)) expect((again.value as unknown[]).every((item, i) => item === value[i])).toBe(true)
    if (value instanceof Map) for (const [key, entry] of value) expect((again.value as typeof value).get(key)).toBe(entry)
  })
})

describe('a view', () => {
  test('stays the same while it shows the newest', () => {
    const { view, next } = watch(titled('x'), title)
    const [field] = [view.title]
    next(titled('y'))
    expect(view.title).toBe(field)
    expect(field!.value).toBe('y')
    next(shown({}))
    expect(view.title).toBeUndefined()
    next(titled('z'))
    expect(view.title).toBe(field)
  })

  test('has the keys of its schema, which are listed as those of a document are', () => {
    const { view } = watch(titled('x'), title)
    const keys: string[] = []
    for (const key in view) keys.push(key)
    expect(keys).toEqual(expect.arrayContaining([...(schemaAt('media', []) as MapSchema).properties.keys()]))
    expect(Object.getPrototypeOf(watch(undefined, title).view)).toBe(Object.getPrototypeOf(view))
  })

  test('leads to its runtime, whatever its shape', () => {
    const { view } = watch({ ...checks([ITEM]), ...offsets([]), ...titled('x') }, title)
    for (const of of [view, view.title, view.feed, view.feed!.checks, view.alignment!['one-way']])
      expect(runtimeOf(of!)).toBe((view as unknown as { [RUNTIME]: Runtime })[RUNTIME])
  })

  test('that is held when what it shows is gone is empty', () => {
    const { view, next } = watch({ ...checks([ITEM]), ...offsets([['1', ITEM]]), ...titled('x') }, title)
    const { title: field, feed, alignment } = view
    const [list, table] = [feed!.checks!, alignment!['one-way']!]
    expect([list.items, [...table.entries.keys()], feed!.$]).toEqual([[ITEM], ['1'], place()])
    next(undefined)
    expect([list.items, table.entries, feed!.$, field!.value, field!.place, list.$]).toEqual([
      [],
      new Map(),
      undefined,
      undefined,
      undefined,
      undefined,
    ])
  })

  test('is one for each shape that a value has had: one, or a list', () => {
    const single = shown({ 'limit-of-error': { value: ITEM, place: place() } as never })
    const several = shown({ 'limit-of-error': { items: [ITEM], $: place() } as never })
    const { view, next, made } = watch(single, (of) => of['limit-of-error'], schemaAt('shop', ['instruments', '*']) as MapSchema)
    const one = made.get()!
    expect(one.value).toBe(ITEM)
    const { value: list } = next(several)
    expect(list!.items).toEqual([ITEM])
    expect(list).not.toBe(one)
    expect(next(single)).toEqual({ value: one, runs: 3 })
    expect(view['limit-of-error']).toBe(one)
  })
})
