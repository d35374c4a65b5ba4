// Two documents of one name: which of them is meant is chance.

import { lastPart } from '../base/uri.ts'
import { ID_KEY } from '../model/facts.ts'
import type { F } from '../model/field.ts'
import { kindOfFile } from '../schema/schema.ts'
import { defineRule } from './rule.ts'
import { doubtful } from './support/references.ts'
import { listed } from './support/words.ts'

export const rule = defineRule({
  code: 'duplicate-id',
  severity: 'error',
  kinds: ['media', 'stock', 'printer'],
  summary: 'Two documents carry one name.',
  docs: `Files in different folders may be called alike, and then their documents are. A profile that names such a stock or base gets one or the
other, and a print made with the wrong one is wrong. Rename one of the files and its document.`,
  check(context) {
    const { document, shelf } = context
    const key = ID_KEY[document.kind]
    const id = (document.content as Readonly<Record<string, F<string> | undefined>> | undefined)?.[key]
    if (!id || id.value !== document.baseName || doubtful(context, id)) return
    // A document whose name is not its file's is told of there: it is that one which has to change.
    const others = shelf.withId(document.kind, id.value).filter(({ file }) => file !== document.file && nameOf(file) === id.value)
    if (others.length === 0) return
    const where = listed(others.map(({ file }) => `'${pathFrom(document.file, file)}'`))
    context.report(id.place, `'${id.value}' is also the name of ${where}. Rename one of them, file and name.`, {
      related: others.map(({ file, values }) => ({ file, span: values[key]!, message: 'The same name.' })),
    })
  },
  examples: [
    {
      name: 'the same name in two folders',
      text: 'profile: $0example$0\n#- archive/example.media.yaml\nprofile: example\n',
      message: "'example' is also the name of 'archive/example.media.yaml'. Rename one of them, file and name.",
      related: ['The same name. example'],
    },
    {
      name: 'seen from below',
      text: '#- archive/example.stock.yaml\nstock: $0example$0\n#- example.stock.yaml\nstock: example\n',
      message: "'example' is also the name of '../example.stock.yaml'. Rename one of them, file and name.",
      related: ['The same name. example'],
      testOnly: true,
    },
    { name: 'one of each', text: 'profile: example\n#- example.stock.yaml\nstock: example\n' },
    {
      name: 'a copy that kept the name is told of in the copy',
      text: 'profile: example\n#- copy.media.yaml\nprofile: example\n',
      testOnly: true,
    },
    {
      name: 'three printers, two of them in other folders',
      text: `#- a/b/bay.printer.yaml
printer: $0bay$0
#- a/c/bay.printer.yaml
printer: bay
#- bay.printer.yaml
printer: bay
`,
      message:
        "'bay' is also the name of '../c/bay.printer.yaml' and '../../bay.printer.yaml'. Rename one of them, file and name.",
      related: ['The same name. bay', 'The same name. bay'],
      testOnly: true,
    },
    {
      name: 'a document without a name',
      text: `# to come
#- archive/example.media.yaml
profile: example
`,
      testOnly: true,
    },
  ],
})

function nameOf(file: string): string {
  const base = lastPart(file)
  return base.slice(0, base.length - `.${kindOfFile(file)}.yaml`.length)
}

/** One file's path as seen from another's folder. */
function pathFrom(from: string, to: string): string {
  const here = from.split('/').slice(0, -1)
  const there = to.split('/')
  let same = 0
  while (here[same] === there[same]) same++
  return [...here.slice(same).map(() => '..'), ...there.slice(same)].join('/')
}
