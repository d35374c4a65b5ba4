// Requests beyond the protocol, for the client's commands: the feed reckoning and explanations as Markdown.
import type { Connection } from 'vscode-languageserver'
import { normalUri } from '../base/uri.ts'
import { explainTopic, explainTopics } from '../features/explain.ts'
import { feedReckoningMarkdown } from '../features/feed-reckoning.ts'
import type { Analysis } from '../workspace/analysis.ts'

export function registerExtras(connection: Connection, analysis: Analysis, load: (uri: string) => Promise<void>): void {
  connection.onRequest('rollbook/feedReckoning', async ({ uri }: { uri: string }) => {
    await load(uri)
    const context = analysis.context(normalUri(uri))
    return {
      markdown: context?.setup ? feedReckoningMarkdown(context.setup) : 'This is not a profile, so there is no feed to reckon.',
    }
  })
  connection.onRequest('rollbook/explain', ({ topic }: { topic?: string }): object =>
    topic === undefined ? { topics: explainTopics() } : { markdown: explainTopic(topic) ?? `Nothing is known of '${topic}'.` },
  )
}
