// Every way in which a source text can be made a little wrong: one small change each, as whoever writes the code might have made it.
import { type ParserPlugin, parse } from '@babel/parser'

export interface Mutant {
  readonly kind: string
  readonly start: number
  readonly end: number
  /** What stands there instead. */
  readonly text: string
}

type Child = 'left' | 'right' | 'test' | 'argument' | 'consequent' | 'alternate' | 'body' | 'key' | 'callee' | 'property'

/** What is read of the parser's nodes; which of it a node has, its type says. */
interface Node extends Readonly<Record<Child, Node>> {
  readonly type: string
  readonly start: number
  readonly end: number
  readonly kind: string
  readonly name: string
  readonly operator: string
  readonly value: unknown
  readonly elements: readonly Node[]
  readonly arguments: readonly Node[]
}

/** What cannot be seen from outside, or is no program: types, imports, and the examples of a rule, which are its tests. */
const PASSED_OVER = /^(?:TS(?!As|Satisfies|NonNull)|Import|ExportAll)/
const TESTS: ReadonlySet<unknown> = new Set(['examples'])

/** What an operator is mistaken for, by the kind of mistake. */
const OPERATORS: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  arithmetic: { '+': '-', '-': '+', '*': '/', '/': '*', '%': '*', '**': '*', '++': '--', '--': '++' },
  assignment: { '+=': '-=', '-=': '+=', '*=': '/=', '/=': '*=' },
  boundary: { '<': '<=', '<=': '<', '>': '>=', '>=': '>' },
  comparison: { '<': '>=', '<=': '>', '>': '<=', '>=': '<', '===': '!==', '!==': '===' },
  logic: { '&&': '||', '||': '&&' },
}

const TWINS: Readonly<Record<string, string>> = {
  min: 'max',
  max: 'min',
  floor: 'ceil',
  ceil: 'floor',
  some: 'every',
  every: 'some',
  sin: 'cos',
  cos: 'sin',
}

/** Functions that do not mind the order of what they are given. */
const COMMUTE = /\b(?:Math\.(?:min|max|hypot)|Set|Object\.is)$/

const PLUGINS: ParserPlugin[] = ['typescript']

/** All mutants of a TypeScript text, in the order of the text. Each is a text that parses; whether its types hold is not asked. */
export function mutantsOf(text: string): readonly Mutant[] {
  const found: Mutant[] = []
  const add = (kind: string, { start, end }: { start: number; end: number }, instead: string): void => {
    if (instead !== text.slice(start, end)) found.push({ kind, start, end, text: instead })
  }
  const of = ({ start, end }: Node): string => text.slice(start, end)
  walk(parse(text, { sourceType: 'module', plugins: PLUGINS }).program as unknown as Node)
  const seen = new Set<string>()
  return found
    .sort((a, b) => a.start - b.start || a.end - b.end)
    .filter((mutant) => {
      const whole = applied(text, mutant)
      return !seen.has(whole) && seen.add(whole) && parses(whole)
    })

  function walk(node: Node): void {
    if (PASSED_OVER.test(node.type)) return
    if (node.type === 'ObjectProperty' && TESTS.has(node.key.name)) return
    mutate(node)
    for (const value of Object.values(node))
      for (const child of Array.isArray(value) ? value : [value]) if (isNode(child)) walk(child)
  }

  function mutate(node: Node): void {
    const { type, left, right, test, argument, consequent, alternate, body, operator } = node
    if (type === 'BinaryExpression' || type === 'LogicalExpression' || type === 'AssignmentExpression') {
      if (node.operator === '??') {
        add('fallback', node, of(left))
        add('fallback', node, of(right))
      } else if (![left, right].some(isText)) swapOperator(left.end, right.start, operator)
    } else if (type === 'UpdateExpression') swapOperator(node.start, node.end, operator)
    else if (type === 'UnaryExpression' && /^[-!]$/.test(operator)) add('sign', node, `(${of(argument)})`)
    else if (type === 'NumericLiteral') add('constant', node, another(node.value as number))
    else if (type === 'BooleanLiteral') add('constant', node, String(!node.value))
    else if (type === 'IfStatement' || type === 'WhileStatement') {
      add('branch', test, 'false')
      if (test.type !== 'BinaryExpression' && test.type !== 'UnaryExpression') add('condition', test, `!(${of(test)})`)
    } else if (type === 'ConditionalExpression') {
      add('branch', node, `(${of(consequent)})`)
      add('branch', node, `(${of(alternate)})`)
    } else if (type === 'ExpressionStatement') add('statement', node, ';')
    else if (/Function|ObjectMethod|ClassMethod/.test(type) && body?.type === 'BlockStatement' && node.kind !== 'constructor')
      add('early return', { start: body.start + 1, end: body.start + 1 }, ' return;')
    else if (type === 'ArrayExpression') dropEach(node.elements)
    else if (type === 'MemberExpression') {
      const twin = TWINS[node.property.name]
      if (twin) add('function', node.property, twin)
    } else if (type === 'CallExpression') swapArguments(node.callee, node.arguments)
  }

  function swapOperator(from: number, to: number, operator: string): void {
    const start = text.indexOf(operator, from)
    if (start < 0 || start >= to) return
    for (const [kind, { [operator]: instead }] of Object.entries(OPERATORS))
      if (instead !== undefined) add(kind, { start, end: start + operator.length }, instead)
  }

  function dropEach(elements: readonly Node[]): void {
    for (const [index, { start, end }] of elements.entries()) {
      const next = elements[index + 1]
      add('element', { start, end: next ? next.start : end }, '')
    }
  }

  function swapArguments(callee: Node, [first, second]: readonly Node[]): void {
    if (!first || !second || COMMUTE.test(of(callee)) || shape(first) !== shape(second) || shape(first) === 'function') return
    const { start, end } = { start: first.start, end: second.end }
    add('arguments', { start, end }, `${of(second)}${text.slice(first.end, second.start)}${of(first)}`)
  }
}

export const applied = (text: string, { start, end, text: instead }: Mutant): string =>
  text.slice(0, start) + instead + text.slice(end)

/** The lines that a mutant touches, before and after, each on one line: what names it wherever in the file it stands. */
export function linesOf(text: string, { start, end, text: instead }: Mutant): { line: number; was: string; now: string } {
  const from = text.lastIndexOf('\n', start - 1) + 1
  const to = text.indexOf('\n', end) < 0 ? text.length : text.indexOf('\n', end)
  const flat = (lines: string): string => lines.replace(/\s+/g, ' ').trim()
  return {
    line: text.slice(0, start).split('\n').length,
    was: flat(text.slice(from, to)),
    now: flat(text.slice(from, start) + instead + text.slice(end, to)),
  }
}

/** A whole number up to ten becomes the next; any other is off by a hundredth, which a check against a published value sees. */
const another = (value: number): string =>
  Number.isInteger(value) && value <= 10 ? String(value + 1) : String(Number((value * 1.01).toPrecision(12)))

const isText = ({ type }: Node): boolean => type === 'StringLiteral' || type === 'TemplateLiteral'

const isNode = (value: unknown): value is Node => typeof (value as Node | undefined)?.type === 'string'

/** Arguments of different shapes are not mixed up by a person: the compiler tells. */
function shape(node: Node): string {
  if (node.type === 'SpreadElement' || /Function/.test(node.type)) return 'function'
  if (isText(node)) return 'text'
  return node.type === 'ObjectExpression' || node.type === 'ArrayExpression' ? node.type : 'value'
}

function parses(text: string): boolean {
  try {
    parse(text, { sourceType: 'module', plugins: PLUGINS })
    return true
  } catch {
    return false
  }
}
