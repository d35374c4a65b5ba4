// What to watch at the machine, for the sheet on the wall: hot and moving parts, vapour, what the stock stands, what may hurt in these settings, the shop's
// cautions of printer and stock, and whose word comes first. It rests on the documents alone, so that no rule that a shop ignores makes it shorter.
import { heatOf } from '../../areas/heat/facts.ts'
import { cautionsOf } from '../../model/cautions.ts'
import { writtenText } from '../../model/setting.ts'
import type { Setup } from '../../model/setup.ts'
import { RULES } from '../../rules/generated/index.ts'
import type { Finding } from '../../rules/rule.ts'

/** Stands last on every sheet. */
export const OWN_DOCUMENTS_FIRST =
  'The machine’s and the material’s own safety documents, local codes and licensed practice come first. Nothing here says that a guard may be opened or bridged.'

const HARMFUL: ReadonlySet<string> = new Set(RULES.filter(({ risk }) => risk === 'harm').map(({ code }) => code))

/** `findings`: with those of all rules about harm, also ignored ones. `told`: what the sheet says of them elsewhere already. */
export function watchLines(setup: Setup, findings: readonly Finding[], told: readonly string[]): readonly string[] {
  const harm = findings.filter(({ code, severity }) => HARMFUL.has(code) && severity !== 'hint').map(({ message }) => message)
  return [
    hotLine(setup),
    'Moving: carriage, web, take-up. Keep hands, hair and sleeves away; stop the machine, as its own instructions say, before you reach in.',
    inkLine(setup),
    ...stockLines(setup),
    ...[...new Set(harm)].filter((message) => !told.includes(message)),
    ...cautionsOf(setup),
    OWN_DOCUMENTS_FIRST,
  ]
}

function hotLine(setup: Setup): string {
  const zones = heatOf(setup).zones
  if (zones.length === 0)
    return setup.printer
      ? 'Hot: the printer’s document tells of no heater. What gets hot all the same its own documents say.'
      : 'Hot: nothing is known of the printer’s heaters. Take every bar the web runs over to be hot.'
  const told = zones.map(({ zone, set }) => (set ? `${zone} ${writtenText(set)}` : `${zone}, not set`))
  return `Hot: heaters ${told.join(', ')}. They burn, also a good while after they are switched off.`
}

function inkLine({ printer }: Setup): string {
  const unknown = printer?.ink ? '' : ' What it gives off the printer’s document does not say.'
  return `Ink: ventilate, and keep ignition sources and static away; its safety data sheet comes first.${unknown}`
}

function stockLines({ stock }: Setup): readonly string[] {
  if (!stock) return ['Nothing is known of what this stock stands: raise no heat and no tension by this sheet.']
  const most = stock['max-web-temperature']
  const softens = stock['softens-at']
  if (!most && !softens)
    return ['Nobody wrote down how hot this stock may get: its maker’s data sheet says, before a heater is raised.']
  const parts = [most && `stands ${writtenText(most)} at most`, softens && `turns soft at ${writtenText(softens)}`]
  return [`Stock: the web ${parts.filter((part) => part !== undefined).join(' and ')}.`]
}
