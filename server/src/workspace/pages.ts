// Pages of a whole shop, of one machine and of one profile for a panel of an editor: what the command line prints, as HTML in which nothing runs and nothing is fetched.
import { escapedHtml } from '../base/html.ts'
import { lastPart } from '../base/uri.ts'
import { resolveShop } from '../model/shop.ts'
import { differencesText } from '../report/fleet/differences-text.ts'
import { sheetOf } from '../report/fleet/sheet.ts'
import { sheetsHtml } from '../report/fleet/sheet-html.ts'
import { shopHtml } from '../report/fleet/shop-text.ts'
import { toKeyText } from '../report/fleet/to-key-text.ts'
import type { Analysis } from './analysis.ts'
import { differencesOf, onSheet, shopTableOf, toKeyOf } from './fleet.ts'
import { type Choice, choicesOf } from './starting.ts'

export interface ShopPage {
  readonly title: string
  readonly html: string
}

/** What a page is of; `of` is a printer (to-key) or a stock (differences). */
export interface PageWish {
  readonly kind: 'shop' | 'to-key' | 'differences'
  readonly of?: string | undefined
}

/** `at` is any file of the shop. Without `of`, where a page needs it: what there is to choose from. */
export async function shopPage(
  analysis: Analysis,
  at: string,
  { kind, of }: PageWish,
): Promise<ShopPage | { readonly choices: readonly Choice[] }> {
  const { workspace } = analysis
  await workspace.settled()
  const shelf = workspace.shelf(at)
  const today = workspace.host.today()
  const notRead = workspace.unread(at).map(({ place, reason }) => `Not all could be read: ${lastPart(place)}: ${reason}`)
  if (kind === 'shop') {
    const table = await shopTableOf(workspace, at)
    const { name } = resolveShop(shelf.shop()?.content)
    return { title: 'Shop', html: shopHtml(table, name, notRead) }
  }
  const choices = choicesOf(shelf, kind === 'to-key' ? 'printer' : 'stock')
  if (!choices.some(({ id }) => id === of) || of === undefined) return { choices }
  if (kind === 'differences') {
    const found = await differencesOf(workspace, at, of)
    const none = `No profile in use prints on '${of}' here.`
    const text = found.profiles.length === 0 ? none : differencesText(found, resolveShop(shelf.shop()?.content), today)
    return textPage(`${of} on Its Printers`, [text, ...notRead])
  }
  const slots = await toKeyOf(analysis, at, of)
  const [facts] = shelf.withId('printer', of)
  if (facts) await workspace.load(facts.file)
  const printer = shelf.document('printer', of)?.content
  const cautions = printer?.cautions?.items.map(({ value }) => value) ?? []
  return textPage(`To Key In at ${of}`, [toKeyText({ id: of, title: printer?.title?.value, cautions }, slots, today), ...notRead])
}

/** The sheet of a profile that is loaded with all it needs; undefined where it is none. `mark` stands at its foot. */
export function sheetPage(analysis: Analysis, file: string, mark: string): ShopPage | undefined {
  const { workspace } = analysis
  const document = workspace.document(file)
  const setup = analysis.context(file)?.setup
  if (!document || !setup) return undefined
  const broken = workspace.partsOf(document).filter(({ tree }) => tree.problems.length > 0)
  const notRead = [
    ...broken.map((part) => `${lastPart(part.file)} is read in part: its text is broken.`),
    ...workspace.unread(file).map(({ place, reason }) => `${lastPart(place)} cannot be read: ${reason}`),
  ]
  const sheet = sheetOf({ ...onSheet(analysis, setup), notRead, mark, old: [] })
  const size = setup.shop.units === 'us' ? 'Letter' : 'A4'
  return { title: `Sheet of ${sheet.profile}`, html: sheetsHtml([sheet], size).html }
}

/** A report as it stands in a terminal, in the colours of the editor. */
function textPage(title: string, texts: readonly string[]): ShopPage {
  const html = `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>${escapedHtml(title)}</title>
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<style>body{margin:1em;background:var(--vscode-editor-background,#fff);color:var(--vscode-editor-foreground,#000)}
pre{white-space:pre-wrap;font:var(--vscode-editor-font-size,13px)/1.5 var(--vscode-editor-font-family,monospace)}</style></head>
<body><main><h1>${escapedHtml(title)}</h1><pre>${escapedHtml(texts.join('\n'))}</pre></main></body></html>
`
  return { title, html }
}
