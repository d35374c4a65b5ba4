// Texts that are meant to hurt: too large, too deep, too often repeated, or named like what a program keeps for itself.

const PROFILE = 'profile: example\nstock: film\nprinter: bay-1\nmode: standard\n'

const CHECK = '{date: 2026-03-30, commanded: 2000 mm, measured: 1996.0 mm, applied: +0.05 %}'

const OWN_NAMES = ['__proto__', 'constructor', 'toString', 'hasOwnProperty', 'valueOf', 'prototype', 'length', 'then'] as const

const lines = (count: number, line: (i: number) => string): string => Array.from({ length: count }, (_, i) => line(i)).join('')

/** A megabyte of one sign after another. */
export const megabytes: readonly string[] = [
  ...[
    '}',
    ']',
    ',',
    '[]',
    '{}',
    '"',
    "'",
    '& ',
    '&a ',
    '!a ',
    '*a ',
    ': ',
    '? ',
    '- ',
    '{',
    '[',
    '{a: ',
    'a: b: ',
    '`',
    '\t',
    '\r',
  ],
  ...[
    '%\n',
    '-\n',
    '?\n',
    '...\n',
    '---\n',
    '#\n',
    '\t\n',
    'a\n',
    'a:\n',
    'a: [\n',
    'a: "\n',
    'a: @\n',
    '- "a\n',
    '<<: *a\n',
    'x: &a\n',
    '""\n',
    '|\n',
  ],
].map((sign) => sign.repeat(Math.floor(1_048_576 / sign.length)))

/** By name, each made when asked for. */
export const hostile: Readonly<Record<string, () => string>> = {
  'five megabytes of checks': () => `${PROFILE}feed:\n  checks:\n${`    - ${CHECK}\n`.repeat(60_000)}`,
  'a year of hourly checks': () => `${PROFILE}feed:\n  correction: +0.05 %\n  checks:\n${lines(8760, () => `    - ${CHECK}\n`)}`,
  'eight thousand merge keys': () =>
    `${PROFILE}x-base: &b ${CHECK}\nfeed:\n  checks:\n${lines(8000, (i) => `    - {<<: *b, lot: L${i}}\n`)}`,
  'merges of merges': () =>
    `${PROFILE}x-0: &a0 {k0: 1}\n${lines(2000, (i) => `x-${i + 1}: &a${i + 1} {<<: *a${i}, k${i + 1}: 1}\n`)}heat: *a2000\n`,
  'nine times nine aliases': () =>
    `${PROFILE}x-0: &a0 [x, x, x, x, x, x, x, x, x]\n${lines(9, (i) => `x-${i + 1}: &a${i + 1} [${`*a${i}, `.repeat(8)}*a${i}]\n`)}notes: *a9\nfeed: {checks: *a9}\n`,
  'ten thousand aliases': () => `${PROFILE}x-c: &c ${CHECK}\nfeed:\n  checks:\n${'    - *c\n'.repeat(10_000)}`,
  'an alias of itself': () => `${PROFILE}feed: &f\n  checks: [*f, *f]\n  fine: *f\n`,
  'a chain of aliases': () => `${PROFILE}x-0: &a0 1\n${lines(3000, (i) => `x-${i + 1}: &a${i + 1} [*a${i}]\n`)}`,
  'fifty thousand open brackets': () => `${PROFILE}notes: ${'['.repeat(50_000)}`,
  'fifty thousand brackets closed': () => `${PROFILE}notes: ${'['.repeat(50_000)}${']'.repeat(50_000)}\n`,
  'ten thousand nested mappings': () => `${PROFILE}notes: ${'{a: '.repeat(10_000)}1${'}'.repeat(10_000)}\n`,
  'two thousand levels of indentation': () => `${PROFILE}notes:\n${lines(1200, (i) => `${' '.repeat(i + 1)}a:\n`)}`,
  'five thousand dashes in a row': () => `${PROFILE}notes:\n  ${'- '.repeat(5000)}x\n`,
  'one line of a megabyte': () => `${PROFILE}notes: ${'word '.repeat(200_000)}\n`,
  'one word of a megabyte': () => `${PROFILE}title: ${'x'.repeat(1_000_000)}\n`,
  'one number of a hundred thousand digits': () => `${PROFILE}gap: ${'9'.repeat(100_000)} mm\n`,
  'one list of a hundred thousand items on a line': () => `${PROFILE}notes: [${'1, '.repeat(100_000)}1]\n`,
  'ninety thousand lines of comments': () => `${'# a comment\n'.repeat(90_000)}${PROFILE}`,
  'ninety thousand blank lines': () => `${PROFILE}${'\n'.repeat(90_000)}gap: 2 mm\n`,
  'ninety thousand carriage returns': () => `${PROFILE}${'\r'.repeat(90_000)}gap: 2 mm\n`,
  'ninety thousand anchors': () => `${PROFILE}${lines(90_000, (i) => `x-${i}: &a${i} 1\n`)}`,
  'ninety thousand keys that are not there': () => '?\n'.repeat(90_000),
  'fifty thousand unknown keys': () => `${PROFILE}${lines(50_000, (i) => `key-${i}: 1\n`)}`,
  'fifty thousand times the same key': () => `${PROFILE}${'gap: 2 mm\n'.repeat(50_000)}`,
  'fifty thousand lines without a colon': () => `${PROFILE}${'half typed\n'.repeat(50_000)}`,
  'ten thousand documents': () => '---\na: 1\n'.repeat(10_000),
  'ten thousand conflicts': () => `${PROFILE}${'<<<<<<< a\ngap: 1 mm\n=======\ngap: 2 mm\n>>>>>>> b\n'.repeat(10_000)}`,
  'ten thousand openings of a conflict': () => `${PROFILE}${'<<<<<<< a\n'.repeat(10_000)}`,
  'an open quote before everything': () => `x: "${PROFILE.repeat(5000)}`,
  'twenty thousand quotes': () => `${PROFILE}${`title: "a' b\n`.repeat(20_000)}`,
  'nothing but control characters': () => '\u0000\u0001\u0007\u001b'.repeat(20_000),
  'halves of characters': () => `${PROFILE}title: "\ud800 \udc00"\n\udfff: \ud83d\nfeed: {checks: [{lot: \ud800}]}\n`,
  'tabs in front of everything': () => PROFILE.replaceAll(/^/gm, '\t').repeat(2000),
  'names that a program keeps for itself': () => {
    const own = OWN_NAMES.map((name) => `${name}: 1`).join(', ')
    const deep = (name: string): string => `${name}:\n  __proto__: {constructor: 1}\n  constructor: [1]\n  toString: 1\n`
    return `${PROFILE}${OWN_NAMES.map((name) => `${name}: {a: 1}\n`).join('')}${deep('feed')}${deep('heat')}alignment: {one-way: {${own}}}\nkeyed: [{${own}}]\nobserved: [{${own}}, __proto__, constructor]\nbase: constructor\n`
  },
  'a bracket storm': () => `${PROFILE}${'feed: {checks: [{a: [}, ]]\n'.repeat(5000)}`,
}
