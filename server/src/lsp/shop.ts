// The shop in view and the word of one profile, for a client's side bar and status.
import { inView, type ShopNode, type ShopWish, shopViewOf, wordOf } from '../workspace/shop-view.ts'
import { type Feature, request } from './feature.ts'
import type { Session } from './session.ts'

/** `uri` is any document of the shop, or a place where one would be. */
type ShopParams = { readonly uri: string } & ShopWish

export const shop: Feature = {
  capability: {},
  requests: {
    // Answers when every profile is judged. Once something that it tells is another the client hears `rollbook/shopChanged`, once until it asks again.
    'rollbook/shop': request<ShopParams>(
      { uri: 'text', order: 'text?', words: 'texts?' },
      async ({ uri, order, words }, session, token) => {
        const at = session.unsaved.fileOf(uri)
        await session.load(at)
        await session.workspace.settled()
        const shown = inView(session.workspace, at)
        const cells = await session.shopFindings.cells(shown, token)
        const nodes = await shopViewOf(session.workspace, shown, cells, { ...(order && { order }), ...(words && { words }) })
        return { nodes: nodes.map((node) => spelled(node, session)) }
      },
    ),
    'rollbook/word': request<{ uri: string }>({ uri: 'text' }, async ({ uri }, session) => {
      const file = session.unsaved.fileOf(uri)
      await session.load(file)
      const cell = session.analysis.cell(file)
      return cell ? wordOf(cell, session.host.today()) : null
    }),
  },
}

/** With the files as the client spells them. */
const spelled = ({ file, children, ...node }: ShopNode, session: Session): object => ({
  ...node,
  ...(file !== undefined && { uri: session.texts.uri(file) }),
  ...(children && { children: children.map((child) => spelled(child, session)) }),
})
