// The recorder against an evaluator that keeps nothing: random graphs whose nodes choose what they read by what they read, under random edits.
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { equalValues } from '../../server/src/base/equal.ts'
import {
  CycleError,
  Derived,
  Input,
  noteDate,
  type Readable,
  RUNTIME,
  Runtime,
  recorded,
  recordedItem,
  shareUndated,
  unrecorded,
  withDate,
} from '../../server/src/base/recorder.ts'
import { runs } from '../support/counts.ts'

/** A node reads its first source, and by whether that is even the one or the other of the next two. */
interface Plan {
  readonly first: number
  readonly even: number
  readonly odd: number
  /** Its value is taken modulo this: the smaller, the more often a change ends here. */
  readonly modulo: number
}

const INPUTS = 4

const plan = fc.record({ first: fc.nat(99), even: fc.nat(99), odd: fc.nat(99), modulo: fc.integer({ min: 1, max: 7 }) })

/** Of the inputs and the nodes before this one. */
const source = (at: number, pick: number): number => pick % (INPUTS + at)

function fresh(plans: readonly Plan[], inputs: readonly number[]): readonly number[] {
  const values = [...inputs]
  for (const [at, { first, even, odd, modulo }] of plans.entries()) {
    const one = values[source(at, first)]!
    if (modulo === 7 && one === 3) values.push(-1)
    else values.push((one + values[source(at, one % 2 === 0 ? even : odd)]!) % modulo)
  }
  return values.slice(INPUTS)
}

function graph(plans: readonly Plan[], inputs: number[]) {
  const runtime = new Runtime()
  const runs: number[] = plans.map(() => 0)
  const readables: Readable<number>[] = inputs.map((_, i) => new Input(runtime, `input ${i}`, () => inputs[i]!))
  const nodes = plans.map(({ first, even, odd, modulo }, at) => {
    const node = new Derived(runtime, `node ${at}`, () => {
      runs[at]!++
      const one = readables[source(at, first)]!.get()
      if (modulo === 7 && one === 3) throw new Error('three')
      return (one + readables[source(at, one % 2 === 0 ? even : odd)]!.get()) % modulo
    })
    readables.push({ get: () => answerOf(node) } as unknown as Readable<number>)
    return node
  })
  return { runtime, runs, nodes }
}

/** What throws counts as -1, so that the evaluator that keeps nothing can say the same. */
function answerOf(node: Derived<number>): number {
  try {
    return node.get()
  } catch {
    return -1
  }
}

test('a recorded graph always says what one says that is computed anew, and runs no node whose reads are equal', () => {
  fc.assert(
    fc.property(
      fc.array(plan, { minLength: 1, maxLength: 12 }),
      fc.array(fc.nat(9), { minLength: INPUTS, maxLength: INPUTS }),
      fc.array(fc.record({ which: fc.nat(INPUTS - 1), value: fc.nat(9), ask: fc.array(fc.nat(99), { maxLength: 4 }) }), {
        maxLength: 12,
      }),
      (plans, start, edits) => {
        const inputs = [...start]
        const { runtime, runs, nodes } = graph(plans, inputs)
        for (const { which, value, ask } of edits) {
          inputs[which] = value
          runtime.advance()
          for (const pick of ask) {
            const at = pick % nodes.length
            expect(answerOf(nodes[at]!)).toBe(fresh(plans, inputs)[at])
          }
        }
        const all = fresh(plans, inputs)
        expect(nodes.map(answerOf)).toEqual(all)
        const before = [...runs]
        runtime.advance()
        expect(nodes.map(answerOf)).toEqual(all)
        expect(runs).toEqual(before)
      },
    ),
    { numRuns: runs(500) },
  )
})

describe('a recorder', () => {
  test('stops where a value comes out equal', () => {
    const runtime = new Runtime()
    let text = 'a'
    const log: string[] = []
    const input = new Input(runtime, 'text', () => text)
    const length = new Derived(runtime, 'length', () => {
      log.push('length')
      return { of: input.get().length }
    })
    const twice = new Derived(runtime, 'twice', () => {
      log.push('twice')
      return length.get().of * 2
    })
    expect(twice.get()).toBe(2)
    const kept = length.get()
    text = 'b'
    runtime.advance()
    expect(twice.get()).toBe(2)
    expect(log).toEqual(['twice', 'length', 'length'])
    expect(length.get()).toBe(kept)
    expect(twice.rests.map(({ name }) => name)).toEqual(['length'])
  })

  test('does not ask for what an earlier read decided', () => {
    const runtime = new Runtime()
    let there = true
    const presence = new Input(runtime, 'presence', () => there)
    const inside = new Input(runtime, 'inside', () => {
      if (!there) throw new Error('asked for what is gone')
      return 1
    })
    const sum = new Derived(runtime, 'sum', () => (presence.get() ? inside.get() : 0))
    expect(sum.get()).toBe(1)
    there = false
    runtime.advance()
    expect(sum.get()).toBe(0)
  })

  test('refuses a circle, and is well again without it', () => {
    const runtime = new Runtime()
    let circular = true
    const choice = new Input(runtime, 'choice', () => circular)
    const a: Derived<number> = new Derived(runtime, 'a', () => (choice.get() ? b.get() : 1))
    const b: Derived<number> = new Derived(runtime, 'b', () => a.get() + 1)
    expect(() => a.get()).toThrow(CycleError)
    circular = false
    runtime.advance()
    expect([a.get(), b.get()]).toEqual([1, 2])
  })

  test('leaves a log out of the record', () => {
    const runtime = new Runtime()
    const input = new Input(runtime, 'input', () => 1)
    const node = new Derived(runtime, 'node', () => unrecorded(() => input.get()))
    node.get()
    expect(node.rests).toEqual([])
  })

  test('makes of a plain object once, and of one with a runtime as often as it has to', () => {
    let runs = 0
    const double = recorded('double', (of: { readonly n: number }) => {
      runs++
      return of.n * 2
    })
    const plain = { n: 2 }
    expect([double(plain), double(plain), runs]).toEqual([4, 4, 1])
    const runtime = new Runtime()
    let n = 3
    const input = new Input(runtime, 'n', () => n)
    const live = {
      [RUNTIME]: runtime,
      get n() {
        return input.get()
      },
    }
    expect([double(live), double(live), runs]).toEqual([6, 6, 2])
    n = 4
    runtime.advance()
    expect([double(live), runs]).toEqual([8, 3])
  })

  test('asks for an input, and of what was read, once a revision', () => {
    const log: string[] = []
    class Logged<T> extends Input<T> {
      override refresh(): void {
        log.push('refreshed')
        super.refresh()
      }
    }
    const runtime = new Runtime()
    const input = new Logged(
      runtime,
      'input',
      () => log.push('fetched'),
      () => true,
    )
    const node = new Derived(runtime, 'node', () => input.get())
    expect([node.get(), node.get()]).toEqual([2, 2])
    expect(log.splice(0)).toEqual(['refreshed', 'fetched'])
    runtime.advance()
    expect([node.get(), node.get(), input.get()]).toEqual([2, 2, 2])
    expect(log).toEqual(['refreshed', 'fetched', 'refreshed'])
  })

  test('notes once what is read twice, in each run anew', () => {
    const runtime = new Runtime()
    let n = 1
    const input = new Input(runtime, 'n', () => n)
    const node = new Derived(runtime, 'twice', () => input.get() + input.get())
    for (n of [1, 2, 3]) {
      expect(node.get()).toBe(2 * n)
      expect(node.rests).toEqual([input])
      runtime.advance()
    }
  })

  test('compares the value before with the one of now', () => {
    const runtime = new Runtime()
    let n = 5
    const falls = (before: number, now: number) => now < before
    const input = new Input(runtime, 'n', () => n, falls)
    const node = new Derived(runtime, 'same', () => plain.get(), falls)
    const plain = new Input(runtime, 'n', () => n)
    const seen = [5, 4, 6].map((now) => {
      n = now
      runtime.advance()
      return [input.get(), node.get()]
    })
    expect(seen).toEqual([
      [5, 5],
      [5, 5],
      [6, 6],
    ])
  })

  test('refuses a circle that closes over what was kept', () => {
    const runtime = new Runtime()
    let circular = false
    const choice = new Input(runtime, 'choice', () => circular)
    const b: Derived<number> = new Derived(runtime, 'b', () => (choice.get() ? a.get() : 1))
    const a: Derived<number> = new Derived(runtime, 'a', () => b.get() + 1)
    expect(a.get()).toBe(2)
    circular = true
    runtime.advance()
    expect(() => b.get()).toThrow(new CycleError('b needs itself'))
  })

  test('makes of an item what belongs to it and to its whole', () => {
    let runs = 0
    const sum = recordedItem('sum', (of: { readonly n: number }, item: { readonly m: number }) => {
      runs++
      return 10 * of.n + item.m
    })
    const [one, two] = [{ m: 1 }, { m: 2 }]
    expect([sum({ n: 1 }, one), sum({ n: 1 }, one), runs]).toEqual([11, 11, 2])
    const runtime = new Runtime()
    let n = 3
    const input = new Input(runtime, 'n', () => n)
    const live = () => ({
      [RUNTIME]: runtime,
      get n() {
        return input.get()
      },
    })
    const [first, second] = [live(), live()]
    runs = 0
    expect([sum(first, one), sum(first, one), sum(first, two), sum(second, one), runs]).toEqual([31, 31, 32, 31, 3])
    n = 4
    runtime.advance()
    expect([sum(first, one), sum(first, one), runs]).toEqual([41, 41, 4])
  })
})

describe('the day', () => {
  const dated = recorded('dated', (of: { readonly n: number }) => {
    noteDate()
    return of.n
  })
  const outer = recorded('outer', (of: { readonly n: number }) => dated(of))
  const undated = recorded('undated', ({ n }: { readonly n: number }) => ({ n }))

  test('is noted by whoever asks for it, for what is kept too', () => {
    const of = { n: 1 }
    for (const _ of [1, 2]) {
      expect(withDate(() => outer(of))).toEqual({ value: 1, dated: true })
      expect(withDate(() => undated(of))).toEqual({ value: { n: 1 }, dated: false })
    }
  })

  test('is noted of the whole whatever part asked for it, and of no part that did not', () => {
    const parts = withDate(() => [withDate(() => 0), withDate(noteDate), withDate(() => 0)].map((part) => part.dated))
    expect(parts).toEqual({ value: [false, true, false], dated: true })
    expect(withDate(() => withDate(() => 0)).dated).toBe(false)
  })

  test('lets another version share what does not hang on it', () => {
    const [from, to] = [{ n: 1 }, { n: 2 }]
    const made = undated(from)
    dated(from)
    shareUndated(from, to)
    expect(undated(to)).toBe(made)
    expect(dated(to)).toBe(2)
    expect(() => shareUndated({}, to)).not.toThrow()
  })
})

test.each([
  [1, 1, true],
  [Number.NaN, Number.NaN, true],
  [0, -0, false],
  [{ a: [1, { b: 2 }] }, { a: [1, { b: 2 }] }, true],
  [{ a: undefined }, { b: undefined }, false],
  [{ a: 1 }, { a: 1, b: 2 }, false],
  [{ a: 1, b: 2 }, { a: 1, b: 3 }, false],
  [[1, 2], [1], false],
  [[1, 2], [1, 3], false],
  [[1], { 0: 1 }, false],
  [new Map([['a', [1]]]), new Map([['a', [1]]]), true],
  [
    new Map([
      ['a', 1],
      ['b', 2],
    ]),
    new Map([
      ['b', 2],
      ['a', 1],
    ]),
    false,
  ],
  [
    new Map([
      ['a', 1],
      ['b', 2],
    ]),
    new Map([
      ['a', 1],
      ['b', 3],
    ]),
    false,
  ],
  [new Set([1]), new Set([1]), true],
  [new Set([1]), new Set([2]), false],
  [new Date(0), new Date(0), false],
  [null, {}, false],
  [undefined, {}, false],
  [{}, undefined, false],
  [{}, [], false],
  [() => 1, () => 1, false],
])('%j and %j are equal: %s', (a, b, equal) => {
  expect(equalValues(a, b)).toBe(equal)
})

test('two things that are made of one item are kept apart', () => {
  const whole = { [RUNTIME]: new Runtime() }
  const item = { n: 3 }
  const twice = recordedItem('twice', (_, { n }: { readonly n: number }) => n * 2)
  const square = recordedItem('square', (_, { n }: { readonly n: number }) => n * n)
  expect([twice(whole, item), square(whole, item), twice(whole, item)]).toEqual([6, 9, 6])
})
