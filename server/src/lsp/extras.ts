// Requests beyond the protocol, for the client's commands: the feed reckoning and explanations as Markdown, and new profiles.
import type { Position } from 'vscode-languageserver'
import { feedReckoningMarkdown } from '../areas/feed/reckoning.ts'
import type { FeatureContext } from '../features/context.ts'
import { explainTopic, explainTopics, TOPIC_KINDS, type Topic, withLinks } from '../features/explain.ts'
import { type StartWish, start, startChoices } from '../workspace/starting.ts'
import { type Feature, request } from './feature.ts'
import type { Session } from './session.ts'

export const extras: Feature = {
  capability: {},
  requests: {
    'rollbook/feedReckoning': request<{ uri: string }>({ uri: 'text' }, async ({ uri }, session) => {
      const context = await contextOf(session, uri)
      return {
        markdown: context?.setup ? feedReckoningMarkdown(context.setup) : 'This is not a profile, so there is no feed to reckon.',
      }
    }),
    // With a topic: its page, of the kind of document that is meant where there are several. Without: what there is to choose from, and which of it the cursor stands on.
    'rollbook/explain': request<ExplainParams>(
      { topic: 'text?', kind: 'text?', uri: 'text?', position: 'position?' },
      async ({ topic, kind, uri, position }, session) => {
        if (topic !== undefined) {
          const page = (kind && explainTopic(`${kind}:${topic}`)) ?? explainTopic(topic) ?? `Nothing is known of '${topic}'.`
          // The pages stand beside one another, so that a link needs no more than a name.
          return { markdown: session.able.explanationPage === undefined ? page : withLinks(page, (name) => `${name}.md`) }
        }
        const topics = explainTopics().map(topicItem)
        if (uri === undefined || position === undefined) return { topics, here: [] }
        const context = await contextOf(session, uri)
        const file = session.unsaved.fileOf(uri)
        const here = context ? session.analysis.topicsAt(file, session.papers.positions(file).offset(position)) : []
        return { topics, here }
      },
    ),
    // With a stock, or a profile that it shall be `like`, and a printer: the new profile. Without: what there is to choose from. `uri` is any document of the shop.
    'rollbook/start': request<StartParams>(
      { uri: 'text', stock: 'text?', printer: 'text?', mode: 'text?', id: 'text?', like: 'text?' },
      async ({ uri, stock: wished, printer, mode, id, like }, session) => {
        const at = session.unsaved.fileOf(uri)
        await session.load(at)
        const stock = wished ?? (like ? (await contextOf(session, like))?.setup?.profile.stock?.value : undefined)
        if (stock === undefined || printer === undefined) return startChoices(session.workspace, at)
        const started = await start(session.workspace, at, {
          stock,
          printer,
          mode,
          id,
          like: like && session.unsaved.fileOf(like),
        })
        if (!started.ok) return { refused: started.refused }
        const { file, text, problems, testPrints } = started
        return { id: started.id, uri: file, mode: started.mode, text, problems, testPrints }
      },
    ),
  },
}

async function contextOf(session: Session, uri: string): Promise<FeatureContext | undefined> {
  const file = session.unsaved.fileOf(uri)
  await session.load(file)
  return session.analysis.context(file)
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
