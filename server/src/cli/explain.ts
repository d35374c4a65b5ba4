// `rollbook explain`: what a setting does, why a rule speaks up, what a fault points to, how a family of materials behaves.
import { explainTopic, explainTopics, TOPIC_KINDS, type Topic, type TopicKind } from '../features/explain.ts'
import { type FoundTopics, findTopics, nearestTopic } from '../features/find-topics.ts'
import { GROUPS } from './explain-groups.ts'
import { handbookHtml } from './handbook.ts'
import { CannotRun, type CliHost, EXIT } from './host.ts'
import type { Options } from './options.ts'
import { put } from './picture.ts'
import { renderMarkdown, styleOf } from './terminal.ts'

/** More topics than this in answer to a few words help nobody: the first are the likeliest. */
const MAX_OFFERED = 12

export async function explain(cli: CliHost, options: Options): Promise<number> {
  const words = options.positionals.join(' ').trim()
  const handbook = options.word('handbook')
  if (handbook !== undefined && (words !== '' || options.has('all')))
    throw new CannotRun('--handbook writes every page there is, and takes no words and no --all.')
  if (handbook !== undefined) await put(cli, handbook, handbookHtml())
  else if (options.has('all')) cli.out(listing(explainTopics()))
  else cli.out(`${forReader(cli, words === '' ? overview() : answer(words))}\n`)
  return EXIT.clean
}

/** A file or another program gets the Markdown as it is. */
const forReader = (cli: CliHost, page: string): string => (cli.isTty ? renderMarkdown(page, styleOf(cli)) : page)

/** The page of what is named, or what the words may mean. */
function answer(words: string): string {
  const named = explainTopic(words) ?? explainTopic(words.replaceAll(' ', '-'))
  if (named !== undefined) return named
  const found = findTopics(words)
  const { called, others } = found
  const names = new Set((called.length > 0 ? called : others).map(({ label }) => label))
  const [only] = names
  const page = names.size === 1 && only !== undefined ? explainTopic(only) : undefined
  if (page !== undefined) return page
  if (called.length + others.length === 0) throw new CannotRun(unknown(words))
  return choice(words, found)
}

function choice(words: string, { called, others }: FoundTopics): string {
  const offered = [...called, ...others].slice(0, MAX_OFFERED)
  const more = called.length + others.length - offered.length
  return [
    `# What '${words}' may mean`,
    offered.map((topic) => `- \`${nameOf(topic)}\` (${TOPIC_KINDS[topic.kind]}): ${firstSentence(topic.summary)}`).join('\n'),
    ...(more > 0 ? [`and ${more} more: name it more closely.`] : []),
    `\`rollbook explain ${nameOf(offered[0]!)}\` shows the page of the first.`,
  ].join('\n\n')
}

/** What names a topic alone: with the kind of document where several have a setting of the name. */
function nameOf({ topic, kind, label }: Topic): string {
  const isSetting = kind !== 'rule' && kind !== 'fault' && kind !== 'family'
  const alone = explainTopics().filter((other) => other.label === label).length === 1
  return !isSetting || alone ? label : topic.replaceAll('.*', '')
}

function unknown(words: string): string {
  const near = nearestTopic(words)
  return `There is nothing to explain under '${words}'.${near === undefined ? " 'rollbook explain' tells what there is." : ` Do you mean '${near}'?`}`
}

/** What there is to ask for, on one screen. */
function overview(): string {
  const topics = explainTopics()
  const names = (kind: TopicKind): string =>
    topics
      .filter((topic) => topic.kind === kind && !topic.label.includes('.'))
      .map(({ label }) => label)
      .join(', ')
  const rules = topics.filter(({ kind }) => kind === 'rule').length
  return [
    '# What can be explained',
    'Ask with the name of a setting, a rule or a fault, or with the words of the trade: `rollbook explain suction`, `rollbook explain vacuum`, `rollbook explain ghosting`, `rollbook explain bands-light`.',
    [
      `- **A profile** (*.media.yaml): ${names('media')}`,
      `- **A stock** (*.stock.yaml): ${names('stock')}`,
      `- **A printer** (*.printer.yaml): ${names('printer')}`,
      `- **The shop** (rollbook.yaml): ${names('shop')}`,
      `- **Faults on a print:** ${names('fault')}`,
      `- **Families of material:** ${names('family')}`,
      `- **Rules:** ${rules}, each named behind its finding, as in \`rollbook explain feed-correction\``,
    ].join('\n'),
    'Keys below a section are named with a dot: `feed.correction`, `heat.after`. `rollbook explain --all` lists every one, a line each.',
  ].join('\n\n')
}

function listing(topics: readonly Topic[]): string {
  const groups = Object.entries(GROUPS).map(([kind, title]) => {
    const lines = topics
      .filter((topic) => topic.kind === kind)
      .map(({ label, summary }) => `  ${label.padEnd(32)} ${firstSentence(summary)}`.trimEnd())
    return `${title}\n${lines.join('\n')}\n`
  })
  return groups.join('\n')
}

const firstSentence = (text: string): string => /^.*?\.(?=\s|$)/.exec(text)?.[0] ?? text
