// Reads are recorded: while something is computed, the runtime notes what it read, and it is computed again only when one of those changed in
// value. Red and green, as incremental compilers do it: a result whose reads are unchanged stands; one that is computed again and comes out
// equal leaves all that rests on it alone. Nothing here knows a document.
import { equalValues } from './equal.ts'

/** Links what is read through a runtime to it. An object without it is plain: what is made of it is made once and never asked for again. */
export const RUNTIME: unique symbol = Symbol('runtime')

/** One set of inputs and all that is computed of them. Inputs are asked for anew after `advance`, each once. */
export class Runtime {
  revision = 1

  advance(): void {
    this.revision++
  }
}

/** Two quantities that each need the other. */
export class CycleError extends Error {}

interface Reader {
  note(read: Readable<unknown>): void
}

/** What is being computed at the moment, if anything is. */
let reader: Reader | undefined

/** Runs `work` as if nobody asked: for what a computation must not rest on, such as a log. */
export function unrecorded<T>(work: () => T): T {
  const before = reader
  reader = undefined
  try {
    return work()
  } finally {
    reader = before
  }
}

/** Something with a value that may be read while another is computed. */
export abstract class Readable<T> {
  /** The revisions at which the value became what it is, and was last found to be so. Zero: never asked for. */
  changedAt = 0
  checkedAt = 0
  /** Who noted it last, and in which run: so that reading one thing twice is noted once. */
  notedBy: Reader | undefined
  notedIn = 0

  constructor(
    readonly runtime: Runtime,
    /** For a person: 'printer drying.pause-range', 'rule gap-below-thickness'. */
    readonly name: string,
  ) {}

  get(): T {
    // Noted first: who fails for want of it rests on it too.
    reader?.note(this)
    this.refresh()
    return this.result()
  }

  /** Makes sure that `changedAt` is true of this revision. */
  abstract refresh(): void
  protected abstract result(): T
}

/** A fact from outside. */
export class Input<T> extends Readable<T> {
  private value!: T

  constructor(
    runtime: Runtime,
    name: string,
    private readonly fetch: () => T,
    private readonly same: (before: T, now: T) => boolean = Object.is,
  ) {
    super(runtime, name)
  }

  refresh(): void {
    const { revision } = this.runtime
    if (this.checkedAt === revision) return
    const now = this.fetch()
    if (this.checkedAt === 0 || !this.same(this.value, now)) {
      this.value = now
      this.changedAt = revision
    }
    this.checkedAt = revision
  }

  protected result(): T {
    return this.value
  }
}

/** What is computed, with the record of what it read. */
export class Derived<T> extends Readable<T> {
  private outcome: { readonly value: T } | { readonly error: unknown } | undefined
  private reads: Readable<unknown>[] = []
  private running = false
  private run = 0

  constructor(
    runtime: Runtime,
    name: string,
    private readonly compute: () => T,
    private readonly same: (before: T, now: T) => boolean = equalValues,
  ) {
    super(runtime, name)
  }

  /** What the value of now rests on, in the order it was read. */
  get rests(): readonly Readable<unknown>[] {
    return this.reads
  }

  note(read: Readable<unknown>): void {
    if (read.notedBy === this && read.notedIn === this.run) return
    read.notedBy = this
    read.notedIn = this.run
    this.reads.push(read)
  }

  refresh(): void {
    const { revision } = this.runtime
    if (this.checkedAt === revision) return
    if (this.running) throw new CycleError(`${this.name} needs itself`)
    if (this.checkedAt === 0 || !this.stands()) this.computeAgain()
    this.checkedAt = revision
  }

  /** In the order they were read: a read that an earlier one decided is only asked for while that one is unchanged. */
  private stands(): boolean {
    try {
      for (const read of this.reads) {
        read.refresh()
        if (read.changedAt > this.checkedAt) return false
      }
      return true
    } catch {
      return false
    }
  }

  private computeAgain(): void {
    const before = reader
    reader = this
    this.running = true
    this.run++
    this.reads = []
    let now: typeof this.outcome
    try {
      now = { value: this.compute() }
    } catch (error) {
      now = { error }
    } finally {
      this.running = false
      reader = before
    }
    const was = this.outcome
    if (was && 'value' in was && 'value' in now && unrecorded(() => this.same(was.value, (now as { value: T }).value))) return
    this.outcome = now
    this.changedAt = this.runtime.revision
  }

  protected result(): T {
    const outcome = this.outcome!
    if ('error' in outcome) throw outcome.error
    return outcome.value
  }
}

/** The names of all inputs that a value rests on, through whatever was computed between, in the order they were first read. */
export function inputsOf(read: Readable<unknown>): readonly string[] {
  const seen = new Set<Readable<unknown>>()
  const names = new Set<string>()
  const visit = (one: Readable<unknown>): void => {
    if (seen.has(one)) return
    seen.add(one)
    if (one instanceof Input) names.add(one.name)
    else if (one instanceof Derived) one.rests.forEach(visit)
  }
  visit(read)
  return [...names]
}

export const runtimeOf = (of: object): Runtime | undefined => (of as { readonly [RUNTIME]?: Runtime })[RUNTIME]

interface Memo<T> {
  get(): T
}

/** A plain object is one version of a text and no more: what is made of it is made once. */
class Made<T> implements Memo<T> {
  constructor(
    private readonly value: T,
    readonly isDated: boolean,
  ) {}

  get(): T {
    if (this.isDated) readsDate = true
    return this.value
  }
}

/** All that is kept, by the object it was made of and what makes it. */
const memos = new WeakMap<object, Map<unknown, Memo<unknown>>>()

/** A function of one object that is computed once for it; through a runtime again, when what it read has changed. */
export function recorded<A extends object, T>(name: string, compute: (of: A) => T): (of: A) => T {
  return (of) => {
    const made = madeOf(of)
    let memo = made.get(compute) as Memo<T> | undefined
    if (!memo) {
      const runtime = runtimeOf(of)
      memo = runtime ? new Derived(runtime, name, () => compute(of)) : make(() => compute(of))
      made.set(compute, memo)
    }
    return memo.get()
  }
}

/** The same for an item together with what it belongs to: a check of a setup. The item is one version of its text, and never changes. */
export function recordedItem<A extends object, I extends object, T>(
  name: string,
  compute: (of: A, item: I) => T,
): (of: A, item: I) => T {
  // Held by the item, which goes when its text is another.
  const kept = new WeakMap<I, WeakMap<A, Memo<T>>>()
  return (of, item) => {
    const runtime = runtimeOf(of)
    if (!runtime) return compute(of, item)
    let made = kept.get(item)
    if (!made) {
      made = new WeakMap()
      kept.set(item, made)
    }
    let memo = made.get(of)
    if (!memo) {
      memo = new Derived(runtime, name, () => compute(of, item))
      made.set(of, memo)
    }
    return memo.get()
  }
}

function madeOf(of: object): Map<unknown, Memo<unknown>> {
  let made = memos.get(of)
  if (!made) {
    made = new Map()
    memos.set(of, made)
  }
  return made
}

/** Whether what is being made of plain objects asked for the day. */
let readsDate = false

/** For whoever gives out the day. */
export const noteDate = (): void => {
  readsDate = true
}

/** What `work` gives, and whether it would on every other day. */
export function withDate<T>(work: () => T): { readonly value: T; readonly dated: boolean } {
  const before = readsDate
  readsDate = false
  try {
    const value = work()
    return { value, dated: readsDate }
  } finally {
    readsDate ||= before
  }
}

function make<T>(compute: () => T): Memo<T> {
  const { value, dated } = withDate(compute)
  return new Made(value, dated)
}

/** Takes over what was made of another version of a plain object that differs from it in its day alone. */
export function shareUndated(from: object, to: object): void {
  const made = madeOf(to)
  for (const [by, memo] of memos.get(from) ?? []) if (memo instanceof Made && !memo.isDated) made.set(by, memo)
}
