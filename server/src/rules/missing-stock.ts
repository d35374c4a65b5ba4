// A stock that is not there: heat limits, thickness and curl cannot be known, so nothing is checked against them.
import { MAX_TEXT } from '../syntax/parse.ts'
import { defineRule } from './rule.ts'
import { reportMissing } from './support/references.ts'

export const rule = defineRule({
  code: 'missing-stock',
  severity: 'error',
  kinds: ['media'],
  summary: 'A profile names a stock that is not there.',
  docs: `What the stock bears (heat, pull, its thickness under the heads) stands in its own document. Without it nothing can be checked against it. Look
for a slip in the name; or write the stock's document, which needs its family and its thickness only.`,
  check: (context) => reportMissing(context, 'stock', context.setup.own.stock),
  examples: [
    {
      name: 'a slip in the name',
      text: `stock: $0banner-501$0
#- banner-510.stock.yaml
stock: banner-510
family: banner-pvc
thickness: 390 µm
`,
      message: "There is no stock 'banner-501' in this shop; did you mean 'banner-510'?",
      after: 'stock: banner-510\n',
      fixes: ["Write 'banner-510'"],
    },
    {
      name: 'nothing like it',
      text: 'stock: $0somewhere-else$0\n',
      message: "There is no stock 'somewhere-else' in this shop.",
    },
    {
      name: 'a file whose document has another name',
      text: 'stock: $0banner-510$0\n#- banner-510.stock.yaml\nstock: banner-501\n',
      message: "There is no stock 'banner-510': banner-510.stock.yaml names the stock in it 'banner-501'.",
      testOnly: true,
    },
    {
      name: 'a document too large to be read',
      text: `stock: $0banner-510$0\n#- banner-510.stock.yaml\nstock: banner-510\nnotes: ${'x'.repeat(MAX_TEXT)}\n`,
      message: "The document of stock 'banner-510', banner-510.stock.yaml, cannot be read.",
      testOnly: true,
    },
    { name: 'a stock of this shop', text: 'stock: banner-510\n#- banner-510.stock.yaml\nstock: banner-510\n' },
    { name: 'a name that is no name is told by another rule', text: 'stock: Some Thing\n', testOnly: true },
  ],
})
