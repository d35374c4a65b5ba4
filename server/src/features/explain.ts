// Explanations by name, for `rollbook explain` and the editor's command: a setting, a rule, a fault or a family of material.
import { RULES } from '../rules/generated/index.ts'
import type { Rule } from '../rules/rule.ts'
import { explain, explainFamily, explainFault, explanationMarkdown, familyMarkdown, faultMarkdown } from '../schema/explain.ts'
import { type DocumentKind, keysOf, type LeafSchema, schemaAt } from '../schema/schema.ts'
import { typeWords } from './type-words.ts'

export interface Topic {
  readonly topic: string
  readonly label: string
  readonly detail: string
}

/** Everything that can be explained. */
export function explainTopics(): readonly Topic[] {
  const settings = BY_INTEREST.flatMap((kind) =>
    keysOf(kind).map((path) => ({
      topic: `${kind}:${path}`,
      label: shown(path),
      detail: `${KIND_WORDS[kind]} setting: ${schemaAt(kind, path.split('.'))?.description ?? ''}`,
    })),
  )
  const rules = RULES.map((rule) => ({ topic: rule.code, label: rule.code, detail: `Rule: ${rule.summary}` }))
  const faults = choices('media', 'observed.*.fault').map(({ value, meaning }) => ({
    topic: value,
    label: value,
    detail: `Fault: ${meaning}`,
  }))
  const families = choices('stock', 'family').map(({ value, meaning }) => ({
    topic: value,
    label: value,
    detail: `Family of material: ${meaning}`,
  }))
  return [...settings, ...rules, ...faults, ...families]
}

/** The page of a topic as Markdown: a rule's code, a fault, a family, or a setting's dotted path (with `kind:` before it where kinds share it). */
export function explainTopic(topic: string): string | undefined {
  const rule = RULES.find((r) => r.code === topic)
  if (rule) return rulePage(rule)
  const fault = explainFault(topic)
  if (fault) return `# ${topic}\n\n${faultMarkdown(fault)}`
  const family = explainFamily(topic)
  if (family) return `# ${topic}\n\n${familyMarkdown(family)}`
  return settingPages(topic)
}

export function rulePage(rule: Rule): string {
  const examples = rule.examples.filter((e) => !e.testOnly)
  const bad = examples.find((e) => e.message !== undefined)
  return [
    `# ${rule.code}`,
    rule.summary,
    rule.docs.replace(/\n/g, ' '),
    `Severity: ${rule.severity}. The shop can change it in rollbook.yaml under \`rules:\` (\`error\`, \`warning\`, \`hint\` or \`ignore\`).`,
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
  const schema = schemaAt(kind, path.split('.'))!
  const page = explain(kind, path)
  const facts = [
    `Takes: ${typeWords(schema)}`,
    ...(schema.default !== undefined ? [`default: ${schema.default}`] : []),
    ...(schema.examples.length ? [`for example: ${schema.examples.join(', ')}`] : []),
  ]
  return [`# ${shown(path)} (${KIND_WORDS[kind]})`, page ? explanationMarkdown(page) : schema.description, facts.join('; ')].join(
    '\n\n',
  )
}

/** Most questions are about a profile's own settings. */
const BY_INTEREST: readonly DocumentKind[] = ['media', 'stock', 'printer', 'shop']

const KIND_WORDS: Readonly<Record<DocumentKind, string>> = { media: 'profile', stock: 'stock', printer: 'printer', shop: 'shop' }

const shown = (path: string): string => path.replace(/\.\*/g, '')

function choices(kind: DocumentKind, path: string): readonly { value: string; meaning: string }[] {
  const schema = schemaAt(kind, path.split('.')) as LeafSchema | undefined
  return schema?.accepts.flatMap((t) => (t.type === 'choice' ? t.values : [])) ?? []
}
