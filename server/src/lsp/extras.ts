// Requests beyond the protocol, for the client's commands: the feed reckoning and explanations as Markdown, and new profiles.
import type { Connection, Position } from 'vscode-languageserver'
import { feedReckoningMarkdown } from '../areas/feed/reckoning.ts'
import { explainTopic, explainTopics, TOPIC_KINDS, type Topic, withLinks } from '../features/explain.ts'
import type { Analysis } from '../workspace/analysis.ts'
import { type StartWish, start, startChoices } from '../workspace/starting.ts'
import type { Positions } from './documents.ts'

export interface Surroundings {
  readonly analysis: Analysis
  /** The one name of a document here. */
  readonly fileOf: (uri: string) => string
  readonly load: (file: string) => Promise<void>
  readonly positions: (file: string) => Positions
  /** Where the client's own pages of explanation are, if it has any. */
  readonly explanationPage: () => string | undefined
}

export function registerExtras(
  connection: Connection,
  { analysis, fileOf, load, positions, explanationPage }: Surroundings,
): void {
  connection.onRequest('rollbook/feedReckoning', async ({ uri }: { uri: string }) => {
    const file = fileOf(uri)
    await load(file)
    const context = analysis.context(file)
    return {
      markdown: context?.setup ? feedReckoningMarkdown(context.setup) : 'This is not a profile, so there is no feed to reckon.',
    }
  })
  // With a topic: its page, of the kind of document that is meant where there are several. Without: what there is to choose from, and which of it the cursor stands on.
  connection.onRequest('rollbook/explain', async ({ topic, kind, uri, position }: ExplainParams): Promise<object> => {
    if (topic !== undefined) {
      const page = (kind && explainTopic(`${kind}:${topic}`)) ?? explainTopic(topic) ?? `Nothing is known of '${topic}'.`
      // The pages stand beside one another, so that a link needs no more than a name.
      return { markdown: explanationPage() === undefined ? page : withLinks(page, (name) => `${name}.md`) }
    }
    const topics = explainTopics().map(topicItem)
    if (uri === undefined || position === undefined) return { topics, here: [] }
    const file = fileOf(uri)
    await load(file)
    return { topics, here: analysis.context(file) ? analysis.topicsAt(file, positions(file).offset(position)) : [] }
  })
  // With a stock and a printer: the new profile. Without: what there is to choose from. `uri` is any document of the shop.
  connection.onRequest('rollbook/start', async ({ uri, stock, printer, mode, id }: StartParams): Promise<object> => {
    const at = fileOf(uri)
    await load(at)
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

interface ExplainParams {
  readonly topic?: string
  readonly kind?: string
  readonly uri?: string
  readonly position?: Position
}

type StartParams = { readonly uri: string } & Partial<StartWish>
