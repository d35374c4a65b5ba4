// What the JSON of a review holds, as a JSON Schema (2020-12): `rollbook review --schema` prints it.
import { FORMAT } from './json.ts'

type Schema = Readonly<Record<string, unknown>>

const text: Schema = { type: 'string' }
const number: Schema = { type: 'number' }
const count: Schema = { type: 'integer', minimum: 0 }
const flag: Schema = { type: 'boolean' }
const list = (items: Schema): Schema => ({ type: 'array', items })
const word = (...values: readonly string[]): Schema => ({ enum: values })
const ref = (name: string): Schema => ({ $ref: `#/$defs/${name}` })
const orNull = (schema: Schema): Schema => ({ anyOf: [schema, { type: 'null' }] })

/** Keys that end in '?' may be left out. New keys may be added. */
function object(keys: Readonly<Record<string, Schema>>): Schema {
  const names = Object.keys(keys)
  return {
    type: 'object',
    properties: Object.fromEntries(names.map((name) => [name.replace('?', ''), keys[name]])),
    required: names.filter((name) => !name.endsWith('?')),
  }
}

const CHANGE = {
  what: word('setting', 'evidence', 'state', 'words'),
  path: text,
  'before?': ref('written'),
  'after?': ref('written'),
  'size?': text,
  level: ref('level'),
}

export const REVIEW_SCHEMA: Schema = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  title: 'rollbook review --format json',
  description: 'What a change does to prints. Numbers are in SI units; texts are for people.',
  ...object({
    version: text,
    format: { const: FORMAT },
    before: text,
    after: text,
    date: { type: 'string', pattern: '^\\d{4}-\\d{2}-\\d{2}$' },
    totals: object({ compared: count, changed: count, untouched: count, notCompared: count }),
    documents: list(
      object({
        document: ref('document'),
        how: word('added', 'removed', 'changed', 'same'),
        file: text,
        'fileBefore?': text,
        changes: list(ref('change')),
        form: object({
          rewritten: list(object({ path: text, before: text, after: text })),
          order: flag,
          comments: flag,
          layout: flag,
        }),
        reaches: list(text),
      }),
    ),
    profiles: list(
      object({
        profile: text,
        file: text,
        how: word('added', 'removed', 'both'),
        causes: list(ref('cause')),
        inherited: list(object({ ...CHANGE, cause: ref('cause') })),
        consequences: list(ref('consequence')),
        standings: list(object({ kind: text, 'before?': ref('word'), 'after?': ref('word'), opens: flag, todo: list(text) })),
        states: list(object({ state: text, text })),
      }),
    ),
    findings: list(
      object({
        document: ref('document'),
        file: text,
        line: count,
        code: text,
        severity: word('error', 'warning', 'hint'),
        level: ref('level'),
        due: flag,
        message: text,
        'accepted?': object({ until: text, reason: text }),
        fingerprint: text,
        course: word('begins', 'ends', 'stays'),
      }),
    ),
    keyIn: list(
      object({
        profile: text,
        printer: text,
        'slot?': text,
        path: text,
        'from?': text,
        to: text,
        'where?': text,
        there: flag,
        level: ref('level'),
      }),
    ),
    notCompared: list(text),
  }),
  $defs: {
    document: object({ kind: word('shop', 'stock', 'printer', 'media'), id: text }),
    level: word('harm', 'length', 'look', 'record'),
    cause: object({ document: ref('document'), 'path?': text }),
    written: object({ text, 'real?': text, 'si?': number, line: count, 'from?': ref('document') }),
    change: object(CHANGE),
    range: object({ low: number, typical: number, high: number }),
    value: { anyOf: [number, ref('range'), { type: 'null' }] },
    reckoning: object({
      value: ref('value'),
      text,
      formula: text,
      inputs: list(
        object({
          name: text,
          symbol: text,
          value: ref('value'),
          unit: text,
          origin: word('given', 'inherited', 'typical', 'default', 'computed'),
          'source?': text,
        }),
      ),
      'steps?': list(object({ formula: text, 'with?': { type: 'object', additionalProperties: number }, value: number })),
      source: text,
      'validity?': text,
      'problem?': text,
    }),
    consequence: object({
      key: text,
      title: text,
      unit: text,
      before: orNull(ref('reckoning')),
      after: orNull(ref('reckoning')),
      difference: orNull(object({ low: number, typical: number, high: number, text, shared: flag })),
      slight: flag,
      causes: list(ref('cause')),
      level: ref('level'),
      fingerprint: text,
    }),
    word: object({ word: word('unknown', 'doubtful', 'off', 'carried', 'proven'), text, sentences: list(text) }),
  },
}
