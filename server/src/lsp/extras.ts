// Requests beyond the protocol, for the client's commands: the feed reckoning and explanations as Markdown, and new profiles.
import type { Connection } from 'vscode-languageserver'
import { normalUri } from '../base/uri.ts'
import { explainTopic, explainTopics, TOPIC_KINDS, type Topic } from '../features/explain.ts'
import { feedReckoningMarkdown } from '../features/feed-reckoning.ts'
import type { Analysis } from '../workspace/analysis.ts'
import { type StartWish, start, startChoices } from '../workspace/starting.ts'

export function registerExtras(connection: Connection, analysis: Analysis, load: (uri: string) => Promise<void>): void {
  connection.onRequest('rollbook/feedReckoning', async ({ uri }: { uri: string }) => {
    await load(uri)
    const context = analysis.context(normalUri(uri))
    return {
      markdown: context?.setup ? feedReckoningMarkdown(context.setup) : 'This is not a profile, so there is no feed to reckon.',
    }
  })
  connection.onRequest('rollbook/explain', ({ topic }: { topic?: string }): object =>
    topic === undefined
      ? { topics: explainTopics().map(topicItem) }
      : { markdown: explainTopic(topic) ?? `Nothing is known of '${topic}'.` },
  )
  // With a stock and a printer: the new profile. Without: what there is to choose from. `uri` is any document of the shop.
  connection.onRequest('rollbook/start', async ({ uri, stock, printer, mode, id }: StartParams): Promise<object> => {
    await load(uri)
    const at = normalUri(uri)
    if (stock === undefined || printer === undefined) return startChoices(analysis.workspace, at)
    const started = await start(analysis.workspace, at, { stock, printer, mode, id })
    if (!started.ok) return { refused: started.refused }
    const { file, text, problems, testPrints } = started
    return { id: started.id, uri: file, mode: started.mode, text, problems, testPrints }
  })
}

/** One topic for a list to choose from: what else it is called stands in the detail, so that a search finds it. */
function topicItem({ topic, kind, label, summary, also }: Topic): object {
  return { topic, label, detail: `${TOPIC_KINDS[kind]}: ${summary}${also.length ? ` (${also.join(', ')})` : ''}` }
}

type StartParams = { readonly uri: string } & Partial<StartWish>
