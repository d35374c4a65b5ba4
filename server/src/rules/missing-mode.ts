// A mode that the printer does not have: passes and resolution are unknown, and with them the advance of every pass.
import { nearest } from '../base/nearest.ts'
import type { F } from '../model/field.ts'
import { isId } from '../schema/structure.ts'
import { defineRule, type RuleContext } from './rule.ts'
import { writeValue } from './support/fixes.ts'
import { doubtful } from './support/references.ts'
import { listed } from './support/words.ts'

export const rule = defineRule({
  code: 'missing-mode',
  severity: 'error',
  kinds: ['media'],
  summary: 'A print mode is not one of the printer.',
  docs: `The mode tells how many passes lay down each part of the print and how fine; the feed advance, the drying time and the speed follow from
it. A mode that the printer's document does not list tells nothing. Look for a slip in the name, or for a mode of another printer.`,
  check(context) {
    const { setup } = context
    const { own, profile } = setup
    if (own.mode) reportMode(context, own.mode, own.mode)
    // Another printer under a mode that comes from the base.
    else if (own.printer && profile.mode) reportMode(context, profile.mode, own.printer)
  },
  examples: [
    {
      name: 'a mode of another printer',
      text: `printer: bay-1
mode: $0banner-6-pass$0
#- bay-1.printer.yaml
printer: bay-1
modes: { banner-4-pass: { resolution: 720 x 360 dpi, passes: 4 } }
`,
      message: "'bay-1' has no mode 'banner-6-pass'; did you mean 'banner-4-pass'?",
      after: 'printer: bay-1\nmode: banner-4-pass\n',
      fixes: ["Write 'banner-4-pass'"],
    },
    {
      name: 'nothing like it',
      text: `printer: bay-1
mode: $0quick$0
#- bay-1.printer.yaml
printer: bay-1
modes: { banner-4-pass: { resolution: 720 x 360 dpi, passes: 4 }, fine: { resolution: 720 x 720 dpi, passes: 16 } }
`,
      message: "'bay-1' has no mode 'quick'; it has 'banner-4-pass' and 'fine'.",
    },
    {
      name: 'another printer than the base has',
      text: `base: everyday
printer: $0bay-2$0
#- everyday.media.yaml
profile: everyday
printer: bay-1
mode: banner-4-pass
#- bay-2.printer.yaml
printer: bay-2
modes: { fine: { resolution: 720 x 720 dpi, passes: 16 } }
`,
      message: "'bay-2' has no mode 'banner-4-pass', which comes from the base; it has 'fine'.",
      testOnly: true,
    },
    {
      name: 'a mode of the printer',
      text: `printer: bay-1
mode: fine
#- bay-1.printer.yaml
printer: bay-1
modes: { fine: { resolution: 720 x 720 dpi, passes: 16 } }
`,
    },
    { name: 'a printer that is not there is told by another rule', text: 'printer: bay-1\nmode: fine\n', testOnly: true },
    {
      name: 'six modes are listed',
      text: `printer: bay-1
mode: $0photo$0
#- bay-1.printer.yaml
printer: bay-1
modes: { m-1: {passes: 1}, m-2: {passes: 2}, m-3: {passes: 3}, m-4: {passes: 4}, m-5: {passes: 5}, m-6: {passes: 6} }
`,
      message: "'bay-1' has no mode 'photo'; it has 'm-1', 'm-2', 'm-3', 'm-4', 'm-5' and 'm-6'.",
      testOnly: true,
    },
    {
      name: 'more are not',
      text: `printer: bay-1
mode: $0photo$0
#- bay-1.printer.yaml
printer: bay-1
modes: { m-1: {passes: 1}, m-2: {passes: 2}, m-3: {passes: 3}, m-4: {passes: 4}, m-5: {passes: 5}, m-6: {passes: 6}, m-7: {passes: 7} }
`,
      message: "'bay-1' has no mode 'photo'.",
      testOnly: true,
    },
    {
      name: 'a name that is no name is told by another rule',
      text: `printer: bay-1
mode: Fine 2
#- bay-1.printer.yaml
printer: bay-1
modes: { m-1: {passes: 1}, m-2: {passes: 2} }
`,
      testOnly: true,
    },
  ],
})

/** More modes than these are not listed. */
const MAX_NAMED = 6

function reportMode(context: RuleContext<'media'>, mode: F<string>, at: F<string>): void {
  const { printer, profile } = context.setup
  const modes = [...(printer?.modes?.entries.keys() ?? [])]
  if (modes.length === 0 || modes.includes(mode.value) || !isId(mode.value) || doubtful(context, at)) return
  const inherited = at !== mode
  const near = inherited ? undefined : nearest(mode.value, modes)
  const has = modes.length <= MAX_NAMED ? `; it has ${listed(modes.map((m) => `'${m}'`))}.` : '.'
  const message = `'${profile.printer?.value}' has no mode '${mode.value}'${inherited ? ', which comes from the base' : ''}`
  context.report(at.place, near === undefined ? message + has : `${message}; did you mean '${near}'?`, {
    fixes: () => (near === undefined ? [] : [writeValue(mode.place, near)]),
  })
}
