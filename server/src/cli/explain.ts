// `rollbook explain`: what a setting does, why a rule speaks up, what a fault points to, how a family of materials behaves.
import { nearest } from '../base/nearest.ts'
import { explainTopic, explainTopics, type Topic } from '../features/explain.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import { type Options, seeHelp } from './options.ts'
import { renderMarkdown, styleOf } from './terminal.ts'

/** Topics offered for a name that is none. */
const MOST_OFFERED = 6

export function explain(cli: CliHost, options: Options): number {
  const [topic, ...others] = options.positionals
  if (others.length > 0) throw new CannotRun(`rollbook explain takes one topic at a time.${seeHelp('explain')}`)
  if (topic === undefined) {
    cli.out(listing(explainTopics()))
    return EXIT.clean
  }
  const page = explainTopic(topic)
  if (page === undefined) throw new CannotRun(unknown(topic))
  // A file or another program gets the Markdown as it is.
  cli.out(`${cli.isTty ? renderMarkdown(page, styleOf(cli)) : page}\n`)
  return EXIT.clean
}

function listing(topics: readonly Topic[]): string {
  const groups = new Map<string, string[]>()
  for (const { label, detail } of topics) {
    const colon = detail.indexOf(':')
    const group = GROUPS[detail.slice(0, colon)] ?? detail.slice(0, colon)
    const list = groups.get(group) ?? []
    groups.set(group, list)
    list.push(`  ${label.padEnd(32)} ${firstSentence(detail.slice(colon + 2))}`.trimEnd())
  }
  return [...groups].map(([group, list]) => `${group}\n${list.join('\n')}\n`).join('\n')
}

const GROUPS: Readonly<Record<string, string>> = {
  'profile setting': 'Settings of a profile (*.media.yaml)',
  'stock setting': 'Settings of a stock (*.stock.yaml)',
  'printer setting': 'Settings of a printer (*.printer.yaml)',
  'shop setting': 'Settings of the shop (rollbook.yaml)',
  Rule: 'Rules',
  Fault: 'Faults',
  'Family of material': 'Families of material',
}

const firstSentence = (text: string): string => /^.*?\.(?=\s|$)/.exec(text)?.[0] ?? text

function unknown(topic: string): string {
  const offered = nearTopics(topic, [...new Set(explainTopics().map((t) => t.label))])
  const hint =
    offered.length === 0 ? " 'rollbook explain' lists what there is." : ` Do you mean ${offered.map((t) => `'${t}'`).join(', ')}?`
  return `There is nothing to explain under '${topic}'.${hint}`
}

/** Settings by their last words, the name most like it, then names that hold the word. */
function nearTopics(topic: string, labels: readonly string[]): readonly string[] {
  const wanted = topic.toLowerCase()
  const lasts = labels.map((label) => label.slice(label.lastIndexOf('.') + 1))
  const like = nearest(topic, [...labels, ...lasts])
  const found = [
    ...labels.filter((label) => label.endsWith(`.${wanted}`)),
    ...labels.filter((label, i) => label === like || lasts[i] === like),
    ...labels.filter((label) => wanted.length >= 3 && label.includes(wanted)),
  ]
  return [...new Set(found)].slice(0, MOST_OFFERED)
}
