// What is used instead of a retired stock or profile is not there, or is the very same.
import { defineRule } from './rule.ts'
import { reportMissing } from './support/references.ts'

export const rule = defineRule({
  code: 'missing-replacement',
  severity: 'error',
  kinds: ['media', 'stock'],
  summary: 'A stock or a profile is said to be replaced by one that is not there.',
  docs: `Whoever finds an old name on a job is sent to what is used now, and finds nothing. Look for a slip in the name, or write the document of what
replaces it first.`,
  check(context) {
    const { document, shelf, report } = context
    const content = document.content as Pick<NonNullable<typeof document.content>, 'replaced-by'> | undefined
    const by = content?.['replaced-by']
    if (!by) return
    const own =
      document.kind === 'stock' ? (content as { stock?: typeof by }).stock : (content as { profile?: typeof by }).profile
    if (own?.value === by.value) report(by.place, `'${by.value}' cannot be replaced by itself.`)
    // Named is enough: nothing is taken from it, so it is not read for this.
    else if (shelf.withId(document.kind, by.value).length === 0) reportMissing(context, document.kind, by)
  },
  examples: [
    {
      name: 'a slip in the name',
      text: `#- banner-440.stock.yaml
stock: banner-440
retired: 2026-02-01
replaced-by: $0baner-510$0
#- banner-510.stock.yaml
stock: banner-510
`,
      message: "There is no stock 'baner-510' in this shop; did you mean 'banner-510'?",
      after: `stock: banner-440
retired: 2026-02-01
replaced-by: banner-510
`,
      fixes: ["Write 'banner-510'"],
    },
    {
      name: 'a profile that is not there',
      text: 'profile: e\nreplaced-by: $0somewhere-else$0\n',
      message: "There is no profile 'somewhere-else' in this shop.",
    },
    {
      name: 'by itself',
      text: '#- e.media.yaml\nprofile: e\nreplaced-by: $0e$0\n',
      message: "'e' cannot be replaced by itself.",
    },
    { name: 'a profile of this shop', text: 'profile: e\nreplaced-by: f\n#- f.media.yaml\nprofile: f\n' },
  ],
})
