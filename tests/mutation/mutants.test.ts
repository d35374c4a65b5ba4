// The mutator: every mutant of a text, as the line becomes. What is no program, and what are a rule's tests, is left alone.
import { expect, test } from 'vitest'
import { linesOf, mutantsOf } from './mutants.ts'

const mutants = (text: string): readonly string[] => mutantsOf(text).map((m) => `${m.kind}: ${linesOf(text, m).now}`)

test('operators, boundaries, constants and conditions', () => {
  expect(mutants('const a = (b: number): boolean => !(b <= 0.5) && b + 3 > -c')).toEqual([
    'sign: const a = (b: number): boolean => (b <= 0.5) && b + 3 > -c',
    'boundary: const a = (b: number): boolean => !(b < 0.5) && b + 3 > -c',
    'comparison: const a = (b: number): boolean => !(b > 0.5) && b + 3 > -c',
    'constant: const a = (b: number): boolean => !(b <= 0.505) && b + 3 > -c',
    'logic: const a = (b: number): boolean => !(b <= 0.5) || b + 3 > -c',
    'arithmetic: const a = (b: number): boolean => !(b <= 0.5) && b - 3 > -c',
    'constant: const a = (b: number): boolean => !(b <= 0.5) && b + 4 > -c',
    'boundary: const a = (b: number): boolean => !(b <= 0.5) && b + 3 >= -c',
    'comparison: const a = (b: number): boolean => !(b <= 0.5) && b + 3 <= -c',
    'sign: const a = (b: number): boolean => !(b <= 0.5) && b + 3 > (c)',
  ])
})

test('branches, statements and early returns', () => {
  expect(mutants('function f(a) {\n  if (a.b) g(a)\n  return a ? a.c : a.d ?? 1\n}')).toEqual([
    'early return: function f(a) { return;',
    'branch: if (false) g(a)',
    'condition: if (!(a.b)) g(a)',
    'statement: if (a.b) ;',
    'branch: return (a.c)',
    'branch: return (a.d ?? 1)',
    'fallback: return a ? a.c : a.d',
    'fallback: return a ? a.c : 1',
    'constant: return a ? a.c : a.d ?? 2',
  ])
})

test('elements, arguments and functions that are mistaken for one another', () => {
  expect(mutants("f(['key', x], Math.min(a, b))\nf(a.b, () => 1, 'text')\nf(x, y)")).toEqual([
    'statement: ;',
    'element: f([x], Math.min(a, b))',
    "element: f(['key', ], Math.min(a, b))",
    "function: f(['key', x], Math.max(a, b))",
    'statement: ;',
    "constant: f(a.b, () => 2, 'text')",
    'statement: ;',
    'arguments: f(y, x)',
  ])
})

test('types, imports, joined texts and the examples of a rule stay', () => {
  expect(
    mutants("import { a } from 'a'\ntype A = -1 | [2, 3]\nconst b = 'x' + c as A\nconst rule = { examples: [1 + 1] }"),
  ).toEqual([])
})
