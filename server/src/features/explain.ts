// Explanations by name, for `rollbook explain` and the editor's command: a setting, a rule, a fault or a family of material.
import { RULES } from '../rules/generated/index.ts'
import type { Example, Rule } from '../rules/rule.ts'
import { explain, explainFamily, explainFault, explanationMarkdown, familyMarkdown, faultMarkdown } from '../schema/explain.ts'
import { type DocumentKind, keysOf, type LeafSchema, schemaOfKey } from '../schema/schema.ts'
import { typeWords } from './type-words.ts'

export type TopicKind = DocumentKind | 'rule' | 'fault' | 'family'

export interface Topic {
  /** What `explainTopic` takes. */
  readonly topic: string
  readonly kind: TopicKind
  readonly label: string
  /** One sentence. */
  readonly summary: string
  /** What else the trade calls it. */
  readonly also: readonly string[]
}

/** What a list of topics says a topic is. */
export const TOPIC_KINDS: Readonly<Record<TopicKind, string>> = {
  media: 'profile setting',
  stock: 'stock setting',
  printer: 'printer setting',
  shop: 'shop setting',
  rule: 'rule',
  fault: 'fault',
  family: 'family of material',
}

/** Everything that can be explained. */
export function explainTopics(): readonly Topic[] {
  const settings = BY_INTEREST.flatMap((kind) =>
    keysOf(kind).map((path): Topic => {
      const summary = schemaOfKey(kind, path)?.description ?? ''
      return { topic: `${kind}:${path}`, kind, label: shown(path), summary, also: explain(kind, path)?.also ?? [] }
    }),
  )
  const rules = RULES.map(
    (rule): Topic => ({ topic: rule.code, kind: 'rule', label: rule.code, summary: rule.summary, also: [] }),
  )
  const faults = choices('media', 'observed.*.fault').map(({ value, meaning }): Topic => {
    return { topic: value, kind: 'fault', label: value, summary: meaning, also: explainFault(value)?.also ?? [] }
  })
  const families = choices('stock', 'family').map(({ value, meaning }): Topic => {
    return { topic: value, kind: 'family', label: value, summary: meaning, also: [] }
  })
  return [...settings, ...rules, ...faults, ...families]
}

/** The page of a topic as Markdown: a rule's code, a fault, a family, or a setting's dotted path (with `kind:` before it where kinds share it). */
export function explainTopic(topic: string): string | undefined {
  const rule = RULES.find((r) => r.code === topic)
  if (rule) return rulePage(rule)
  const fault = explainFault(topic)
  if (fault) return page(topic, fault.also ?? [], faultMarkdown(fault))
  const family = explainFamily(topic)
  if (family) return page(topic, [], familyMarkdown(family))
  return settingPages(topic)
}

/** The one example that a rule's page shows; the others are its tests. */
export const shownExample = ({ examples }: Pick<Rule, 'examples'>): Example | undefined =>
  examples.find(({ testOnly, message }) => !testOnly && message !== undefined)

export function rulePage(rule: Rule): string {
  const bad = shownExample(rule)
  return [
    `# ${rule.code}`,
    rule.summary,
    rule.docs.replace(/\n/g, ' '),
    `Severity: ${rule.severity}. The shop can change it in rollbook.yaml under \`rules:\` (\`error\`, \`warning\`, \`hint\` or \`ignore\`).`,
    ...(rule.due
      ? [
          '',
          'It comes with the days alone: `rollbook due` lists it, and `rollbook check` fails by it only where `--due` is given.',
        ]
      : []),
    ...(bad ? [`## Example\n\n${fence(bad.text)}`, `> ${bad.message}`] : []),
    ...(bad?.after !== undefined ? [`After the fix:\n\n${fence(bad.after)}`] : []),
  ].join('\n\n')
}

const fence = (text: string): string => `\`\`\`yaml\n${text.replaceAll('$0', '').trimEnd()}\n\`\`\``

function settingPages(topic: string): string | undefined {
  const [prefix, rest] = topic.includes(':')
    ? [topic.slice(0, topic.indexOf(':')), topic.slice(topic.indexOf(':') + 1)]
    : [undefined, topic]
  const kinds = BY_INTEREST.filter((kind) => prefix === undefined || kind === prefix)
  const wanted = (rest ?? '').replace(/\.\*/g, '')
  const pages = kinds.flatMap((kind) =>
    keysOf(kind)
      .filter((path) => shown(path) === wanted)
      .map((path) => settingPage(kind, path)),
  )
  return pages.length ? pages.join('\n\n') : undefined
}

function settingPage(kind: DocumentKind, path: string): string {
  const schema = schemaOfKey(kind, path)!
  const explanation = explain(kind, path)
  const facts = [
    `Takes: ${typeWords(schema)}`,
    ...(schema.default !== undefined ? [`default: ${schema.default}`] : []),
    ...(schema.examples.length ? [`for example: ${schema.examples.join(', ')}`] : []),
  ]
  const text = explanation ? explanationMarkdown(explanation) : schema.description
  return `${page(`${shown(path)} (${KIND_WORDS[kind]})`, explanation?.also ?? [], text)}\n\n${facts.join('; ')}`
}

const page = (title: string, also: readonly string[], text: string): string =>
  [`# ${title}`, ...(also.length ? [`Also called: ${also.join(', ')}`] : []), text].join('\n\n')

/** The page with each name in it that has a page of its own made a link, where `address` gives one. */
export const withLinks = (page: string, address: (topic: string) => string): string =>
  page.replace(/(?<![`[])`([a-z][a-z0-9.*-]*)`(?!`)/g, (text, name: string) => {
    const topic = name.replace(/\.\*/g, '')
    return NAMES().has(topic) ? `[${text}](${address(topic)})` : text
  })

let names: ReadonlySet<string> | undefined
const NAMES = (): ReadonlySet<string> => {
  names ??= new Set(explainTopics().map(({ label }) => label))
  return names
}

/** Most questions are about a profile's own settings. */
const BY_INTEREST: readonly DocumentKind[] = ['media', 'stock', 'printer', 'shop']

const KIND_WORDS: Readonly<Record<DocumentKind, string>> = { media: 'profile', stock: 'stock', printer: 'printer', shop: 'shop' }

const shown = (path: string): string => path.replace(/\.\*/g, '')

function choices(kind: DocumentKind, path: string): readonly { value: string; meaning: string }[] {
  const schema = schemaOfKey(kind, path) as LeafSchema | undefined
  return schema?.accepts.flatMap((t) => (t.type === 'choice' ? t.values : [])) ?? []
}
