// A document whose name is not its file's: whoever looks for it by name opens another file, or none.

import { isUnsaved, lastPart } from '../base/uri.ts'
import { ID_KEY } from '../model/facts.ts'
import type { F } from '../model/field.ts'
import type { DocumentKind } from '../schema/schema.ts'
import { idFrom, isId } from '../schema/structure.ts'
import { defineRule } from './rule.ts'
import { writeValue } from './support/fixes.ts'
import { doubtful } from './support/references.ts'

const NAMES: Readonly<Record<DocumentKind, string>> = { media: 'profile', stock: 'stock', printer: 'printer', shop: 'shop' }

export const rule = defineRule({
  code: 'id-unlike-file',
  severity: 'error',
  kinds: ['media', 'stock', 'printer'],
  summary: "A document's name is not the name of its file.",
  docs: `A document is named like its file, so that a name leads to one file and back. Most often a file was copied and the name inside was
forgotten: then two documents carry one name, and which of them a profile means is chance. Other documents refer to the name inside: when
it changes, they follow with it.`,
  check(context) {
    const { document, shelf } = context
    if (isUnsaved(document.file)) return
    const key = ID_KEY[document.kind]
    const id = (document.content as Readonly<Record<string, F<string> | undefined>> | undefined)?.[key]
    if (!id || !isId(id.value) || id.value === document.baseName || doubtful(context, id)) return
    const file = lastPart(document.file)
    if (!isId(document.baseName)) {
      const better = idFrom(document.baseName) ?? id.value
      const message = `This file is called '${file}', which no document can be named like; rename it to '${file.replace(document.baseName, better)}'.`
      context.report(id.place, message)
      return
    }
    const twin = shelf.withId(document.kind, id.value).find((facts) => facts.file !== document.file)
    const message = `This file is ${file}, so the ${NAMES[document.kind]} in it is named '${document.baseName}', not '${id.value}'.`
    context.report(id.place, message, {
      fixes: () => [writeValue(id.place, document.baseName, true)],
      related: twin ? [{ file: twin.file, span: twin.values[key]!, message: 'This document has the name already.' }] : [],
    })
  },
  examples: [
    {
      name: 'a copied file',
      text: 'profile: $0cast-film$0\n#- cast-film.media.yaml\nprofile: cast-film\n',
      message: "This file is example.media.yaml, so the profile in it is named 'example', not 'cast-film'.",
      after: 'profile: example\n',
      fixes: ["Write 'example' [preferred]"],
      related: ['This document has the name already. cast-film'],
    },
    {
      name: 'a file with a name that no document can have',
      text: '#- My_Film.stock.yaml\nstock: $0my-film$0\n',
      message:
        "This file is called 'My_Film.stock.yaml', which no document can be named like; rename it to 'my-film.stock.yaml'.",
    },
    { name: 'named like its file', text: 'profile: example\n' },
    { name: 'a name that is no name is told by another rule', text: 'profile: Cast Film\n', testOnly: true },
    {
      name: 'a printer',
      text: `#- bay-1.printer.yaml
printer: $0bay-2$0
`,
      message: "This file is bay-1.printer.yaml, so the printer in it is named 'bay-1', not 'bay-2'.",
      after: 'printer: bay-1\n',
      fixes: ["Write 'bay-1' [preferred]"],
      testOnly: true,
    },
    {
      name: 'a file whose name says nothing',
      text: `#- -.stock.yaml
stock: $0my-film$0
`,
      message: "This file is called '-.stock.yaml', which no document can be named like; rename it to 'my-film.stock.yaml'.",
      testOnly: true,
    },
  ],
})
