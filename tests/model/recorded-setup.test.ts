// The recorded views over documents, shelf and setup: what each notes under which name, what was made of it being kept while the answer is the
// same, and made again when it is another. What they show is what `resolveSetup` shows.
import { describe, expect, test } from 'vitest'
import { Derived, Runtime, runtimeOf } from '../../server/src/base/recorder.ts'
import type { Attached } from '../../server/src/model/attached.ts'
import { LiveDocument, type RollDocument } from '../../server/src/model/document.ts'
import type { Facts } from '../../server/src/model/facts.ts'
import { Recorded, type Sources } from '../../server/src/model/recorded-setup.ts'
import { resolveSetup, type Setup } from '../../server/src/model/setup.ts'
import type { Shelf } from '../../server/src/model/shelf.ts'
import { type DocumentKind, kindOfFile, schemaOf } from '../../server/src/schema/schema.ts'

const DAY = '2026-11-25'
const factsOf = (title: string): Facts => ({ file: 'f', kind: 'media', id: 'x', values: { title } }) as unknown as Facts

/** A shelf that answers each question as told, and nothing where it is not. */
const shelfOf = (answers: Partial<Shelf>): Shelf => ({
  all: () => [],
  withId: () => [],
  document: () => undefined,
  shop: () => undefined,
  withSlot: () => [],
  measured: () => undefined,
  attached: () => undefined,
  complete: true,
  unlisted: [],
  ...answers,
})

/** What is read of the views, how often it was read anew, and what was noted. */
function watch<T>(document: RollDocument, sources: Sources, read: (recorded: Recorded) => T) {
  const recorded = new Recorded(new Runtime(), document, sources)
  let runs = 0
  const made = new Derived(
    recorded.runtime,
    'made',
    () => {
      runs++
      return read(recorded)
    },
    Object.is,
  )
  const state = () => ({ value: made.get(), runs })
  return {
    recorded,
    state,
    names: () => made.rests.map(({ name }) => name),
    next: (now: Sources = sources) => {
      recorded.advance(now)
      return state()
    },
  }
}

const sources = (shelf: Partial<Shelf>, more: Partial<Sources> = {}): Sources => ({
  setup: undefined,
  shelf: shelfOf(shelf),
  today: DAY,
  ...more,
})

const PROFILE = new LiveDocument('p.media.yaml', 'media', 'profile: p\n')
const FILE: Attached = { state: 'unread', why: 'missing', reason: 'there is no such file' }

describe('a question to the shelf', () => {
  test.each<
    [question: string, ask: (shelf: Shelf) => unknown, first: Partial<Shelf>, same: Partial<Shelf>, other: Partial<Shelf>]
  >([
    [
      'all of kind stock',
      (shelf) => shelf.all('stock'),
      { all: (kind) => (kind === 'stock' ? [factsOf('a')] : []) },
      { all: () => new Set([factsOf('a')]) },
      { all: () => [factsOf('a'), factsOf('b')] },
    ],
    [
      'stock named x',
      (shelf) => shelf.withId('stock', 'x'),
      { withId: (kind, id) => (kind === 'stock' && id === 'x' ? [factsOf('a')] : []) },
      { withId: () => [factsOf('a')] },
      { withId: () => [factsOf('b')] },
    ],
    [
      'slot 4 of q',
      (shelf) => shelf.withSlot('q', '4'),
      { withSlot: (printer, slot) => (printer === 'q' && slot === '4' ? [factsOf('a')] : []) },
      { withSlot: () => [factsOf('a')] },
      { withSlot: () => [] },
    ],
    [
      'file c.icc of p.media.yaml',
      (shelf) => shelf.attached('p.media.yaml', 'c.icc'),
      { attached: (from, path) => (from === 'p.media.yaml' && path === 'c.icc' ? FILE : undefined) },
      { attached: () => FILE },
      { attached: () => ({ ...FILE }) },
    ],
    ['whether all is read', (shelf) => shelf.complete, { complete: false }, { complete: false }, { complete: true }],
    ['folders not listed', (shelf) => shelf.unlisted, { unlisted: ['a'] }, { unlisted: ['a'] }, { unlisted: ['a', 'b'] }],
  ])('is noted as %s, and asked once a revision', (question, ask, first, same, other) => {
    const { state, names, next, recorded } = watch(PROFILE, sources(first), (of) => ask(of.shelf))
    const { value } = state()
    const asked = ask(shelfOf(first))
    expect(value).toEqual(asked)
    expect(names()).toEqual([question])
    expect(ask(recorded.shelf)).toBe(value)
    expect(next(sources(same))).toEqual({ value, runs: 1 })
    expect(next(sources(other))).toEqual({ value: ask(shelfOf(other)), runs: 2 })
  })

  test.each<[question: string, ask: (shelf: Shelf) => RollDocument | undefined, answer: (d: RollDocument) => Partial<Shelf>]>([
    [
      'document media p',
      (shelf) => shelf.document('media', 'p'),
      (found) => ({ document: ((kind: string, id: string) => (kind === 'media' && id === 'p' ? found : undefined)) as never }),
    ],
    ['document shop', (shelf) => shelf.shop(), (found) => ({ shop: () => found as RollDocument<'shop'> })],
  ])('for a document gives its view: %s', (question, ask, answer) => {
    const other = new LiveDocument('other.yaml', 'media', '')
    const { state, names, next, recorded } = watch(PROFILE, sources(answer(PROFILE)), (of) => ask(of.shelf))
    expect(state().value).toBe(recorded.document)
    expect(names()).toEqual([question])
    expect(next(sources(answer(PROFILE))).runs).toBe(1)
    expect(next(sources(answer(other)))).toEqual({ value: recorded.of(other), runs: 2 })
    expect(next(sources({}))).toEqual({ value: undefined, runs: 3 })
  })

  test('for the day is noted too', () => {
    const { state, names, next } = watch(PROFILE, sources({}), (of) => `${of.today} ${of.setup.today}`)
    expect(state().value).toBe(`${DAY} ${DAY}`)
    expect(names()).toEqual(['today'])
    expect(next().runs).toBe(1)
    expect(next(sources({}, { today: '2026-11-26' }))).toEqual({ value: '2026-11-26 2026-11-26', runs: 2 })
  })
})

describe('a document', () => {
  const reading = <T>(text: string, read: (document: RollDocument) => T) => {
    const raw = new LiveDocument('p.media.yaml', 'media', text)
    const watched = watch(raw, sources({}), (of) => read(of.document))
    return {
      ...watched,
      raw,
      next: (now: string) => {
        raw.update(now)
        return watched.next()
      },
    }
  }

  test('is of the file, kind, schema and name that it shows', () => {
    const { document } = reading('', () => 0).recorded
    expect(document).toMatchObject({ file: 'p.media.yaml', kind: 'media', baseName: 'p' })
    expect(document.schema).toBe(schemaOf('media'))
    expect(runtimeOf(document)).toBeInstanceOf(Runtime)
  })

  test.each<[name: string, read: (document: RollDocument) => unknown]>([
    ['text', (of) => of.text],
    ['tree', (of) => of.tree],
    ['aliasesExceeded', (of) => [of.aliasesExceeded]],
    ['structure', (of) => of.structure()],
  ])('has a %s that is another with every text', (_, read) => {
    const { state, names, next, raw } = reading('titel: x\n', read)
    expect(state().value).toEqual(read(raw))
    expect(names()).toEqual(['media text'])
    expect(next('titel: x\n').runs).toBe(1)
    const again = next('titel: x\n# note\nlot: y\n')
    expect(again.runs).toBe(2)
    expect(again.value).toEqual(read(raw))
  })

  test('has a content that is one while there is any, and what is read of it is noted by itself', () => {
    const { state, names, next, recorded } = reading('title: x\n', (of) => of.content)
    const { value } = state()
    expect(names()).toEqual(['media'])
    expect(next('title: y\n')).toEqual({ value, runs: 1 })
    expect((recorded.document as RollDocument<'media'>).content?.title?.value).toBe('y')
    expect(next('- no mapping\n')).toEqual({ value: undefined, runs: 2 })
    expect(next('title: z\n').value).toBe(value)
  })

  test('has mistakes that are its own', () => {
    const { state, names, next, raw, recorded } = reading('heat: {platen: 40 °C}\n', (of) => of.read())
    expect(state().value).toEqual({ value: recorded.document.content, bad: [] })
    expect(names()).toEqual(['media', 'media mistakes'])
    expect(next('heat: {platen: 41 °C}\n').runs).toBe(1)
    const again = next('heat: {platen: 40 mm}\n')
    expect(again.runs).toBe(2)
    expect(raw.read().bad).toHaveLength(1)
    expect(again.value.bad).toEqual(raw.read().bad)
  })
})

describe('a setup', () => {
  const TEXTS = {
    'p.media.yaml': 'profile: p\nbase: b\nstock: s\nmode: fine\ncolour:\n  icc: p.icc\n',
    'b.media.yaml': 'profile: b\nprinter: q\n',
    's.stock.yaml': 'stock: s\nthickness: 80 µm\n',
    'q.printer.yaml': 'printer: q\nmodes:\n  fine: {passes: 8}\n  draft: {passes: 2}\n',
    'rollbook.yaml': 'shop: Tern Quay Print Works\nunits: us\n',
  }

  /** A shop of the documents above, with other texts of some of them; '' takes one away. */
  function shop(read: (setup: Setup) => unknown) {
    const documents = new Map<string, LiveDocument>()
    const put = (texts: Readonly<Record<string, string>>): Sources => {
      for (const [file, text] of Object.entries(texts)) {
        if (text === '') documents.delete(file)
        else if (documents.has(file)) documents.get(file)!.update(text)
        else documents.set(file, new LiveDocument(file, kindOfFile(file)!, text))
      }
      const shelf = shelfOf({
        document: ((kind: DocumentKind, id: string) => documents.get(`${id}.${kind}.yaml`)) as Shelf['document'],
        shop: () => documents.get('rollbook.yaml') as RollDocument<'shop'> | undefined,
        attached: (from, path) => (from === 'p.media.yaml' && path === 'p.icc' ? FILE : undefined),
      })
      const profile = documents.get('p.media.yaml') as LiveDocument<'media'>
      return { setup: resolveSetup(profile, shelf, DAY), shelf, today: DAY }
    }
    const first = put(TEXTS)
    const watched = watch(documents.get('p.media.yaml')!, first, (of) => read(of.setup))
    return { ...watched, documents, next: (texts: Readonly<Record<string, string>>) => watched.next(put(texts)) }
  }

  const stays = { 'p.media.yaml': `# a note\n${TEXTS['p.media.yaml']}title: another\n` }

  test.each<
    [
      name: string,
      read: (setup: Setup) => unknown,
      noted: string,
      value: unknown,
      change: Readonly<Record<string, string>>,
      now: unknown,
    ]
  >([
    ['the file', (setup) => setup.file, '', 'p.media.yaml', {}, 'p.media.yaml'],
    [
      'the bases',
      (setup) => setup.bases,
      'bases',
      [expect.objectContaining({ file: 'b.media.yaml' })],
      { 'p.media.yaml': 'profile: p\n' },
      [],
    ],
    [
      'the end of the bases',
      (setup) => setup.baseProblem,
      'end of the chain of bases',
      undefined,
      { 'b.media.yaml': 'base: p\n' },
      expect.objectContaining({ kind: 'circular', through: ['p', 'b', 'p'] }),
    ],
    [
      'what merges are open',
      (setup) => setup.unsettled,
      'open merges',
      [],
      { 's.stock.yaml': 'stock: s\n<<<<<<< HEAD\nthickness: 1 mm\n=======\nthickness: 2 mm\n>>>>>>> night\n' },
      ['s.stock.yaml'],
    ],
    [
      'the stock',
      (setup) => setup.stock,
      'stock',
      expect.objectContaining({ thickness: expect.anything() }),
      { 's.stock.yaml': '' },
      undefined,
    ],
    ['the printer', (setup) => setup.printer, 'printer', expect.anything(), { 'b.media.yaml': 'profile: b\n' }, undefined],
    [
      'the mode',
      (setup) => setup.mode,
      'mode',
      expect.objectContaining({ passes: expect.objectContaining({ value: 8 }) }),
      { 'p.media.yaml': TEXTS['p.media.yaml'].replace('fine', 'draft') },
      expect.objectContaining({ passes: expect.objectContaining({ value: 2 }) }),
    ],
    [
      'the shop',
      (setup) => setup.shop,
      'shop',
      expect.objectContaining({ units: 'us' }),
      { 'rollbook.yaml': '' },
      expect.objectContaining({ units: 'metric' }),
    ],
    [
      'the material',
      (setup) => setup.material,
      'material',
      expect.objectContaining({ thickness: 80e-6 }),
      { 's.stock.yaml': '' },
      expect.objectContaining({ thickness: undefined }),
    ],
    [
      'the colour files',
      (setup) => setup.colourFiles,
      'colour files',
      expect.objectContaining({ icc: expect.objectContaining({ attached: FILE }) }),
      { 'p.media.yaml': TEXTS['p.media.yaml'].replace('p.icc', 'other.icc') },
      expect.objectContaining({ icc: expect.objectContaining({ attached: undefined }) }),
    ],
  ])('has %s, kept while nothing that it rests on is another', (_, read, noted, value, change, now) => {
    const { state, names, next } = shop(read)
    const first = state()
    expect(first.value).toEqual(value)
    expect(names()).toEqual(noted ? [noted] : [])
    const again = next(stays)
    expect(again.runs).toBe(1)
    expect(again.value).toBe(first.value)
    const other = next({ ...TEXTS, ...change })
    expect(other.value).toEqual(now)
    expect(other.runs).toBe(noted ? 2 : 1)
  })

  test('has the profile as it prints, and as it is written', () => {
    const { recorded, next } = shop(() => 0)
    expect(runtimeOf(recorded.setup)).toBe(recorded.runtime)
    expect([recorded.setup.profile.printer?.value, recorded.setup.own.printer?.value]).toEqual(['q', undefined])
    next({ 'b.media.yaml': 'profile: b\nprinter: other\n' })
    expect(recorded.setup.profile.printer?.value).toBe('other')
    expect(recorded.setup.profile.$).toBeDefined()
  })

  test('is empty where its text is no mapping', () => {
    const { recorded, next } = shop(() => 0)
    next({ 'p.media.yaml': '- a list\n' })
    const { profile, own, bases, baseProblem, stock, printer, mode } = recorded.setup
    expect([profile.title, own.title, bases, baseProblem, stock, printer, mode]).toEqual([
      undefined,
      undefined,
      [],
      undefined,
      undefined,
      undefined,
      undefined,
    ])
  })

  test('has a material and a shop that are the same objects while they show the newest', () => {
    const { recorded, next, state } = shop((setup) => [setup.material, setup.shop])
    const first = state()
    const { material, shop: rollbook } = recorded.setup
    const again = next({ 's.stock.yaml': 'stock: s\nthickness: 90 µm\n', 'rollbook.yaml': 'units: metric\n' })
    expect(again).toEqual({ value: first.value, runs: 1 })
    expect([recorded.setup.material, recorded.setup.shop]).toEqual([material, rollbook])
    expect(recorded.setup.material).toBe(material)
    expect([material.thickness, rollbook.units]).toEqual([90e-6, 'metric'])
    next({ 'rollbook.yaml': '' })
    const { shop: none } = recorded.setup
    next({ 'rollbook.yaml': '- no mapping\n' })
    expect(recorded.setup.shop).toBe(none)
  })
})
