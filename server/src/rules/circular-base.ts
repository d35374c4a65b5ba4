// Profiles that build on each other in a circle: none of them ever gets its settings.
import type { Setup } from '../model/setup.ts'
import { defineRule } from './rule.ts'

export const rule = defineRule({
  code: 'circular-base',
  severity: 'error',
  kinds: ['media'],
  summary: 'A profile builds on itself, by way of its bases.',
  docs: `A base may have a base of its own, but the way has to end. In a circle there is no first profile, and what a setting is depends on where
one begins to read. Take the \`base\` out of the profile that should stand on its own.`,
  check(context) {
    const { setup, document, shelf } = context
    const { baseProblem: problem, own } = setup
    if (problem?.kind !== 'circular' || !own.base || own.base.place.file !== document.file) return
    // A profile that only leads into a circle is not at fault.
    if (shelf.document('media', problem.id)?.file !== document.file) return
    const message =
      problem.through.length <= 2
        ? `'${problem.id}' builds on itself. Take the base out, or name another profile.`
        : `This profile builds on itself: ${wayRound(setup)}. One of them has to stand on its own.`
    const elsewhere = problem.place.file !== document.file
    context.report(own.base.place, message, {
      related: elsewhere
        ? [
            {
              file: problem.place.file,
              span: problem.place.node,
              message: 'Here the circle closes.',
            },
          ]
        : [],
    })
  },
  examples: [
    {
      name: 'two that build on each other',
      text: `profile: example
base: $0everyday$0
#- everyday.media.yaml
profile: everyday
base: example
`,
      message:
        "This profile builds on itself: 'example' builds on 'everyday', which builds on 'example'. One of them has to stand on its own.",
      related: ['Here the circle closes. example'],
    },
    {
      name: 'on itself',
      text: 'profile: example\nbase: $0example$0\n',
      message: "'example' builds on itself. Take the base out, or name another profile.",
    },
    {
      name: 'one that leads into a circle',
      text: `profile: example
base: one
#- one.media.yaml
profile: one
base: two
#- two.media.yaml
profile: two
base: one
`,
      testOnly: true,
    },
    {
      name: 'a base of a base',
      text: 'profile: example\nbase: one\n#- one.media.yaml\nprofile: one\nbase: two\n#- two.media.yaml\nprofile: two\n',
    },
  ],
})

function wayRound({ baseProblem }: Setup): string {
  const [first, ...others] = baseProblem?.through ?? []
  return `'${first}' builds on ${others.map((id) => `'${id}'`).join(', which builds on ')}`
}
