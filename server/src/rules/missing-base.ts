// A base that is not there: every setting the profile does not give itself is missing.
import { defineRule } from './rule.ts'
import { reportMissing } from './support/references.ts'

export const rule = defineRule({
  code: 'missing-base',
  severity: 'error',
  kinds: ['media'],
  summary: 'A profile builds on one that is not there.',
  docs: `Every setting that a profile does not give is taken from its base. Without the base it is missing, and whoever keys the profile in keeps
what the machine happened to have. Look for a slip in the name, or for a base that was renamed.`,
  check: (context) => reportMissing(context, 'media', context.setup.own.base),
  examples: [
    {
      name: 'a slip in the name',
      text: `profile: example
base: $0everday$0
#- everyday.media.yaml
profile: everyday
`,
      message: "There is no profile 'everday' in this shop; did you mean 'everyday'?",
      after: 'profile: example\nbase: everyday\n',
      fixes: ["Write 'everyday'"],
    },
    { name: 'a profile of this shop', text: 'profile: example\nbase: everyday\n#- everyday.media.yaml\nprofile: everyday\n' },
  ],
})
