// A resolution that is not two numbers of dots per inch.
import { defineRule } from './rule.ts'
import { ALL_KINDS, reportBad } from './support/bad-quantity.ts'

export const rule = defineRule({
  code: 'bad-resolution',
  severity: 'error',
  kinds: ALL_KINDS,
  summary: 'A resolution cannot be read.',
  docs: `A resolution is dots per inch across the web by dots per inch along the feed, in this order: the feed advance of a pass is worked out from the
second. One number stands for both.`,
  check: (context) => reportBad(context, 'bad-resolution'),
  examples: [
    {
      name: 'no dots',
      text: '#- example.printer.yaml\nmodes: { draft: { resolution: $0720 x 0 dpi$0 } }\n',
      message:
        "'720 x 0 dpi' is not a resolution; write dots per inch across and along the feed, '600 x 1200 dpi', both above zero.",
    },
    {
      name: 'across by along',
      text: '#- example.printer.yaml\nmodes: { draft: { resolution: 720 x 360 dpi } }\n',
    },
  ],
})
