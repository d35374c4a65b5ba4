// A document as it is read through a recorder: the same typed sections and fields, by the schema, and each value that is looked at is noted. A
// view stays the same object from one version of its document to the next and always shows the newest, so what was made of a value can be
// held, and is made again only when the value is another. The items of lists and the entries of tables are handed out as they are, and noted
// as one: one changed check is a changed list.
import { equalValues } from '../base/equal.ts'
import { Input, RUNTIME, type Runtime } from '../base/recorder.ts'
import type { MapSchema, SchemaNode } from '../schema/schema.ts'
import type { F, List, Place, Section, Table } from './field.ts'

/** The newest of what a view shows; undefined while it is not there. */
type Source<T> = () => T | undefined

/** A view of a mapping whose keys the schema names; typed as what it shows. */
export function sectionView<T extends Section>(runtime: Runtime, name: string, schema: MapSchema, source: Source<T>): T {
  return new (classOf(schema))(runtime, name, source) as unknown as T
}

type ViewClass = new (runtime: Runtime, name: string, source: Source<Section>) => SectionView

const classes = new WeakMap<MapSchema, ViewClass>()

/** One class a mapping of the schema, with a getter a key. */
function classOf(schema: MapSchema): ViewClass {
  let made = classes.get(schema)
  if (!made) {
    made = class extends SectionView {}
    for (const [key, property] of schema.properties)
      Object.defineProperty(made.prototype, key, {
        enumerable: true,
        get(this: SectionView) {
          return this.child(key, property)
        },
      })
    classes.set(schema, made)
  }
  return made
}

/** What is below a key: nothing, or one view for each shape that it had so far. */
type Child = Input<object | undefined>

class View<T> {
  readonly [RUNTIME]: Runtime
  readonly #name: string
  readonly #source: Source<T>

  constructor(runtime: Runtime, name: string, source: Source<T>) {
    this[RUNTIME] = runtime
    this.#name = name
    this.#source = source
  }

  protected input<V>(key: string, pick: (now: T) => V, same?: (before: V, now: V) => boolean): Input<V | undefined> {
    const source = this.#source
    return new Input<V | undefined>(
      this[RUNTIME],
      `${this.#name}${key}`,
      () => {
        const now = source()
        return now === undefined ? undefined : pick(now)
      },
      same && ((before, now) => before === now || (before !== undefined && now !== undefined && same(before, now))),
    )
  }

  protected below(key: string): string {
    return this.#name.endsWith(' ') ? `${this.#name}${key}` : `${this.#name}.${key}`
  }

  protected get now(): T | undefined {
    return this.#source()
  }
}

class PlacedView<T extends Section> extends View<T> {
  #place: Input<Place | undefined> | undefined

  get $(): Place | undefined {
    this.#place ??= this.input(' at', ({ $ }) => $, samePlace)
    return this.#place.get()
  }
}

class SectionView extends PlacedView<Section> {
  readonly #children = new Map<string, Child>()

  child(key: string, schema: SchemaNode): object | undefined {
    let child = this.#children.get(key)
    if (!child) {
      child = this.#makeChild(key, schema)
      this.#children.set(key, child)
    }
    return child.get()
  }

  #makeChild(key: string, schema: SchemaNode): Child {
    const name = this.below(key)
    const runtime = this[RUNTIME]
    const source = (): unknown => (this.now as Readonly<Record<string, unknown>> | undefined)?.[key]
    const views = new Map<string, object>()
    return new Input<object | undefined>(runtime, name, () => {
      const raw = source()
      if (raw === undefined) return undefined
      const shape = shapeOf(raw as object, schema)
      let view = views.get(shape)
      if (!view) {
        view = viewOf(shape, runtime, name, schema, source)
        views.set(shape, view)
      }
      return view
    })
  }
}

type Shape = 'field' | 'list' | 'table' | 'section'

function shapeOf(raw: object, schema: SchemaNode): Shape {
  if (schema.kind === 'map') return 'section'
  if (schema.kind === 'table') return 'table'
  return schema.kind === 'list' && 'items' in raw ? 'list' : 'field'
}

function viewOf(shape: Shape, runtime: Runtime, name: string, schema: SchemaNode, source: Source<unknown>): object {
  if (shape === 'section') return sectionView(runtime, name, schema as MapSchema, source as Source<Section>)
  if (shape === 'table') return new TableView(runtime, name, source as Source<Table<unknown>>)
  return shape === 'list'
    ? new ListView(runtime, name, source as Source<List<unknown>>)
    : new FieldView(runtime, name, source as Source<F<unknown>>)
}

/** A value by what it says, and apart from it where it stands: most of what is made of a value does not ask for its place. */
class FieldView extends View<F<unknown>> {
  #value: Input<unknown> | undefined
  #place: Input<Place | undefined> | undefined
  #called: Input<string | undefined> | undefined

  get value(): unknown {
    this.#value ??= this.input('', ({ value }) => value, equalValues)
    return this.#value.get()
  }

  get place(): Place | undefined {
    this.#place ??= this.input(' at', ({ place }) => place, samePlace)
    return this.#place.get()
  }

  get called(): string | undefined {
    this.#called ??= this.input(' called', ({ called }) => called)
    return this.#called.get()
  }
}

class ListView extends PlacedView<List<unknown>> {
  #items: Input<readonly unknown[] | undefined> | undefined

  get items(): readonly unknown[] {
    this.#items ??= this.input('', ({ items }) => items, sameItems)
    return this.#items.get() ?? []
  }
}

const NO_ENTRIES: ReadonlyMap<string, unknown> = new Map()

class TableView extends PlacedView<Table<unknown>> {
  #entries: Input<ReadonlyMap<string, unknown> | undefined> | undefined

  get entries(): ReadonlyMap<string, unknown> {
    this.#entries ??= this.input('', ({ entries }) => entries, sameEntries)
    return this.#entries.get() ?? NO_ENTRIES
  }
}

export const samePlace = (a: Place | undefined, b: Place | undefined): boolean =>
  a === b || (a !== undefined && a.node === b?.node && a.key === b.key && a.file === b.file && a.aliased === b.aliased)

/** Items are kept from version to version while their text is the same. */
export const sameItems = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((item, i) => item === b[i])

const sameEntries = (a: ReadonlyMap<string, unknown>, b: ReadonlyMap<string, unknown>): boolean =>
  a.size === b.size && sameItems([...a.keys()], [...b.keys()]) && [...a].every(([key, value]) => b.get(key) === value)
