// The web is moved so slowly between passes that the carriage waits for it: often the mean speed of the web was written down instead.
import { shown } from '../../../model/shown.ts'
import { defineRule } from '../../../rules/rule.ts'
import { endPassed } from '../../../rules/support/ends.ts'
import { toldByBase } from '../../../rules/support/told-by-base.ts'
import { throughputOf } from '../../advance/facts.ts'
import { FILM, MACHINE } from '../../machine/examples.ts'
import { webOf } from '../facts.ts'

export const rule = defineRule({
  code: 'web-speed-unlike',
  severity: 'hint',
  risk: 'look',
  kinds: ['media'],
  summary: 'The web is moved more slowly than the carriage turns.',
  docs: `\`web.speed\` is how fast the web is moved on between two passes, not how fast it creeps through the machine on average. When the step takes longer
than the turn of the carriage, every pass waits for it. A number near the average is mostly a mix-up of the two. Ignore it for a stock that slips or flutters
when it is moved faster.`,
  check({ setup, report }) {
    const { step, plan, pass } = throughputOf(setup)
    const field = setup.profile.web?.speed
    if (!field || !step || !plan.ok || !pass.ok || step.takes <= step.has || toldByBase(setup, field, setup.profile.mode)) return
    const speed = field.value.si
    const { speedRange } = webOf(setup)
    // Outside what the printer does, web-speed-outside says so.
    if (speedRange && endPassed(speed, speedRange, 'speed') !== undefined) return
    const mean = pass.value.webSpeed
    const mixed =
      speed < 2 * mean
        ? ` On average the web creeps at ${shown(setup, mean, 'speed', 2)} here; what is set is the speed of each step.`
        : ''
    report(
      field.place,
      `At ${shown(setup, speed, 'speed')} the step of ${shown(setup, plan.value.advance, 'length', 4)} takes ${shown(setup, step.takes, 'time', 2)}, and the carriage has turned in ` +
        `${shown(setup, step.has, 'time', 2)}: every pass waits for the web.${mixed}`,
    )
  },
  examples: [
    {
      name: 'the mean speed written down',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
web: {speed: $02 mm/s$0}
${MACHINE}${FILM}`,
      message:
        'At 2 mm/s the step of 3.175 mm takes 1.6 s, and the carriage has turned in 0.35 s: every pass waits for the web. On average the web creeps at 1.6 mm/s here; what is set is the speed of each step.',
    },
    {
      name: 'one way, with the way back to move in',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: one-way
web: {speed: 2 mm/s}
${MACHINE}${FILM}`,
      testOnly: true,
    },
    {
      name: 'a usual speed',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
web: {speed: 60 mm/s}
${MACHINE}${FILM}`,
    },
    {
      name: 'slow, but faster than the mean',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
web: {speed: $04 mm/s$0}
${MACHINE}${FILM}`,
      message:
        'At 4 mm/s the step of 3.175 mm takes 0.79 s, and the carriage has turned in 0.35 s: every pass waits for the web.',
      testOnly: true,
    },
    {
      name: 'slower than the printer moves, which web-speed-outside tells',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
web: {speed: 1.5 mm/s}
${MACHINE}${FILM}`,
      testOnly: true,
    },
    {
      name: 'as quick as the carriage turns',
      text: `#- e.media.yaml
profile: e
stock: s
printer: p
mode: standard
web: {speed: 9.5 mm/s}
${MACHINE}${FILM}`,
      testOnly: true,
    },
  ],
})
