// A page that sends somebody to the machine says how to stay whole there: to stop it, to stay outside its guards, or to take the print off.
import { describe, expect, test } from 'vitest'
import { RULES } from '../../server/src/rules/generated/index.ts'
import { EXPLAIN_FILES, readSections } from '../../server/tools/explain.ts'

/** Words that send somebody to where the machine prints, heats, moves or winds. */
const SENDS: readonly RegExp[] = [
  /nozzle test/i,
  /\bloupe\b/i,
  /\b(?:re)?print(?:ing)?(?! (?:room|mode|zone|head|face))\b[^.;:]*\b(?:pattern|strip|check|piece|text|metre)\b/i,
  /\brepeat(?:ing)?\b[^.;:]*\b(?:alignment|check|pattern|one)\b/i,
  /\bgood rule\b|\bwith a rule\b|\b(?:add|before) a length check\b/i,
  /\b(?:measure|read)\b[^.;:]*\bweb\b/i,
  /\btouch (?:the (?!feed)|it\b|a )/i,
  /\b(?:gloved|bare) (?:finger|hand)/i,
  /\blift (?:the|an|its) /i,
  /\bwatch (?:the|it|them|both|while)\b/i,
  /\blook (?:how|at|where|whether)\b[^.;:]*\b(?:edges?|web|hangs)\b/i,
  /\brun a metre\b/i,
  /\btake up (?:slack|the loop)\b/i,
  /\bwhile (?:it|the machine) (?:prints|runs)\b/i,
]

/** What keeps hands, hair and eyes away from what moves and is hot. */
const CARES =
  /safety documents|machine's (?:own )?documents|guards?\b|hands? (?:clear|off|out)|at rest|\bstop\b|stopped|switch(?:ed)? (?:it )?off|power(?:ed)? down|locked off|never hold|stand clear|stay clear|live machine|(?:off|not on) the machine|nobody holds|by hand (?:under|while)|lie relaxed/i

const pages: readonly (readonly [page: string, text: string])[] = [
  ...EXPLAIN_FILES.flatMap((file) =>
    readSections(file).map(({ name, what, parts }) => {
      const told = [...parts].filter(([label]) => label !== 'Source' && label !== 'Settings').map(([, text]) => text)
      return [`${file} ${name}`, [what, ...told].join('\n')] as const
    }),
  ),
  ...RULES.map(({ code, docs, examples }) => {
    // A message that sends somebody there counts as much as the page.
    const messages = examples.flatMap(({ message, testOnly }) => (message === undefined || testOnly ? [] : [message]))
    return [`rule ${code}`, [docs, ...messages].join('\n')] as const
  }),
]

const sendsBy = (text: string): string | undefined =>
  SENDS.map((words) => words.exec(text)?.[0]).find((found) => found !== undefined)

describe('pages that send somebody to the machine', () => {
  test('are found', () => {
    const sent = pages.filter(([, text]) => sendsBy(text) !== undefined).map(([page]) => page)
    expect(sent).toEqual(
      expect.arrayContaining([
        ...['bands-light', 'bands-dark', 'grain', 'double-edges', 'length-short', 'colour-shift'].map(
          (fault) => `faults ${fault}`,
        ),
        'media alignment',
        'media feed.fine',
        'stock dry-touch.time',
        'rule alignment-missing',
        'rule suction-may-not-hold',
      ]),
    )
    expect(sent.length).toBeGreaterThan(50)
    expect(sent.length).toBeLessThan(pages.length / 2)
  })

  test.each(pages.filter(([, text]) => sendsBy(text) !== undefined))('%s has a caution', (_, text) => {
    expect(CARES.test(text), `'${sendsBy(text)}' without a caution`).toBe(true)
  })
})
