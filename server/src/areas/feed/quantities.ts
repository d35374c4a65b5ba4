// The feed correction as lines of the whole reckoning: each check's, the combination, the fine picks, what is keyed in, the drift.

import { DAY } from '../../model/dates.ts'
import type { F } from '../../model/field.ts'
import type { Reckoned, ReckonedInput } from '../../model/reckoned.ts'
import type { Setup } from '../../model/setup.ts'
import type { Quantity } from '../../quantities/quantity.ts'
import { type AreaQuantities, unchecked } from '../quantity.ts'
import { feedDriftOf } from './drift.ts'
import { feedOf, resultOf } from './facts.ts'

const RATIO = 'c = (1 + applied) · commanded / length − 1'
const GUM = 'JCGM 100:2008 (GUM) 5.1.6, G.4.1'

const rows = (setup: Setup): readonly Reckoned[] => {
  const facts = feedOf(setup)
  const { reckoning, problem } = facts
  const out: Reckoned[] = []
  for (const evidence of facts.evidence) {
    if (evidence.leftOut !== undefined) continue
    const result = resultOf(facts, evidence)
    const { check } = evidence
    const key = `feed.check.${evidence.index + 1}`
    const inputs = [
      given('commanded', check.commanded),
      given('measured', check.measured),
      given('applied', check.applied),
    ].flatMap((i) => i ?? [])
    const title = `Correction that the check of ${check.date?.value ?? evidence.id} asks for`
    out.push({
      key,
      title,
      formula: RATIO,
      value: result?.implied?.correction,
      dimension: 'relative',
      inputs,
      source: 'pure scale; ISO 1:2022 for the length at reference temperature',
      ...(result?.reason !== undefined && !result.implied && { problem: { reason: result.reason } }),
    })
    if (result?.implied)
      out.push({
        key: `${key}.u`,
        title: 'Its standard uncertainty',
        formula: 'u(c) = (1 + c) · u(length) / length',
        value: result.implied.u,
        dimension: 'relative',
        inputs: [],
        source: GUM,
      })
  }
  if (problem)
    out.push({
      key: 'feed.correction',
      title: 'Feed correction the checks ask for',
      formula: RATIO,
      value: undefined,
      dimension: 'relative',
      inputs: [],
      source: GUM,
      problem: { reason: problem.reason },
    })
  const { combined, fine, wanted, keyIn } = reckoning ?? {}
  if (combined) {
    const checks: ReckonedInput[] = [{ name: 'checks', value: combined.n, dimension: 'number', origin: 'computed' }]
    out.push({
      key: 'feed.correction',
      title: 'Feed correction the checks ask for together',
      formula: 'c = 1 / mean gain − 1, weighted by 1/u²',
      value: combined.correction,
      dimension: 'relative',
      inputs: checks,
      source: GUM,
    })
    out.push({
      key: 'feed.correction.U',
      title: 'Its expanded uncertainty, 95 %',
      formula: 'U = k · u, k from Student’s t',
      value: combined.U,
      dimension: 'relative',
      inputs: [
        { name: 'k', value: combined.k, dimension: 'number', origin: 'computed' },
        { name: 'u', value: combined.u, dimension: 'relative', origin: 'computed' },
      ],
      source: 'JCGM 100:2008 (GUM) G.6.4',
    })
  }
  if (fine && fine.use !== 'unusable')
    out.push({
      key: 'feed.fine',
      title: 'Correction that the fine picks ask for',
      formula: 'c = applied + mean pick · step / advance per pass',
      value: fine.use === 'used' ? fine.correction : undefined,
      dimension: 'relative',
      inputs: [{ name: 'mean pick', value: fine.meanPick, dimension: 'number', origin: 'given' }],
      source: 'geometry of the pattern',
      ...(fine.use === 'stale' && fine.reason !== undefined && { problem: { reason: fine.reason } }),
    })
  if (wanted && keyIn) {
    const rounded: ReckonedInput[] = [
      { name: 'wanted correction', value: wanted.correction, dimension: 'relative', origin: 'computed' },
    ]
    out.push({
      key: 'feed.key-in',
      title: keyIn.entry === 'percent' ? 'Correction to key in' : 'Measured length to key in',
      formula:
        keyIn.entry === 'percent'
          ? 'the nearest step inside the printer’s range'
          : 'M = pattern · (1 + held) / (1 + wanted), to the nearest step',
      value: keyIn.value,
      dimension: keyIn.entry === 'percent' ? 'relative' : 'length',
      inputs: facts.held?.ok
        ? [
            ...rounded,
            {
              name: 'correction the machine holds',
              value: facts.held.value.correction,
              dimension: 'relative',
              origin: 'given',
            },
          ]
        : rounded,
      source: 'the printer’s document',
      ...(keyIn.reason !== undefined && { problem: { reason: keyIn.reason } }),
    })
    if (keyIn.value !== undefined)
      out.push({
        key: 'feed.key-in.left',
        title: 'Length error that rounding leaves',
        formula: '(1 + keyed in) / (1 + wanted) − 1',
        value: keyIn.left,
        dimension: 'relative',
        inputs: rounded,
        source: 'arithmetic',
      })
  }
  const drift = feedDriftOf(setup)
  if (drift)
    out.push({
      key: 'feed.drift',
      title: 'Drift of the correction in thirty days',
      formula: 'slope of the least-squares line over all checks',
      value: drift.perMonth,
      dimension: 'relative',
      inputs: [
        { name: 'checks', value: drift.n, dimension: 'number', origin: 'given' },
        {
          name: 'time between first and last',
          value: drift.drift.last - drift.drift.first || DAY,
          dimension: 'time',
          origin: 'given',
        },
      ],
      source: 'NIST/SEMATECH e-Handbook 4.1.4.1',
      ...(!drift.drift.real && { problem: { reason: 'the slope is within the scatter of the checks: no drift is shown' } }),
    })
  return out
}

const given = (name: string, field: F<Quantity> | undefined): ReckonedInput | undefined =>
  field && { name, value: field.value.si, dimension: field.value.dimension, origin: 'given' }

export const quantities: AreaQuantities = [(setup) => unchecked(rows(setup))]
