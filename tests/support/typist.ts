// Whoever types, and the editor below the fingers, at the other end of the protocol: a key at a time, with what VS Code does of itself by our
// language's own configuration (brackets, quotes, new lines), the lists it opens and what Enter, Tab and commit characters take of them.
import { readFileSync } from 'node:fs'
import type { CompletionItem, CompletionList, InitializeResult, TextEdit } from 'vscode-languageserver'
import { LineIndex } from '../../server/src/base/line-index.ts'
import { applyEdits, editsOf } from '../../server/src/base/text-edit.ts'
import type { Client } from '../protocol/client.ts'
import { ROOT } from './fixture.ts'
import { readSnippet, type Stop } from './snippet.ts'

/** What Enter does where a list is open: our settings choose nothing before an arrow does, other editors have the first item chosen from the start. */
export type Enter = 'makes a line' | 'takes the first'

interface List {
  readonly items: readonly CompletionItem[]
  /** Where the word began that it was asked for at. */
  readonly word: number
  /** Stepped to by the arrows; -1 where nothing is chosen. */
  chosen: number
}

interface OnEnter {
  readonly beforeText: string
  readonly afterText?: string
  readonly action: { readonly indent: 'none' | 'indent'; readonly appendText?: string }
}

const OURS: {
  readonly wordPattern: { readonly pattern: string; readonly flags: string }
  readonly onEnterRules: readonly OnEnter[]
} = JSON.parse(readFileSync(new URL('../../client/language-configuration.json', import.meta.url), 'utf8'))

const WORD = new RegExp(`(?:${OURS.wordPattern.pattern})$`, OURS.wordPattern.flags)
const CLOSING: Readonly<Record<string, string>> = { '{': '}', '[': ']', '"': '"', "'": "'" }
const STEP = 2

export class Typist {
  text = ''
  at = 0
  list: List | undefined
  /** Keys that were pressed. */
  keys = 0
  /** How often the server was asked what may be written. */
  asked = 0
  version = 1
  private stops: Stop[] = []
  /** Signs behind the cursor that the editor put there, to be typed over. */
  private closing = ''
  private readonly triggers: ReadonlySet<string>
  private readonly commits: ReadonlySet<string>

  private constructor(
    private readonly client: Client,
    readonly name: string,
    private readonly enter: Enter,
    { capabilities }: InitializeResult,
  ) {
    const { completionProvider, documentOnTypeFormattingProvider } = capabilities
    this.triggers = new Set(completionProvider?.triggerCharacters)
    this.commits = new Set(completionProvider?.allCommitCharacters)
    if (documentOnTypeFormattingProvider) throw new Error('this typist does not know yet how edits on typing are asked for')
  }

  /** Opens a document and puts the cursor at its end. */
  static async at(client: Client, answer: InitializeResult, name: string, text: string, enter: Enter): Promise<Typist> {
    const typist = new Typist(client, name, enter, answer)
    typist.text = text
    typist.at = text.length
    await client.open(name, text)
    return typist
  }

  /** Types a document's text; of its lines, those that `isTyped` takes go in key by key, and the others as they would be pasted. */
  async write(document: string, isTyped: (line: number) => boolean = () => true): Promise<void> {
    let pasted = ''
    for (const [n, line] of document.split('\n').entries()) {
      const whole = n === 0 ? line : `\n${line}`
      if (!isTyped(n) || /\p{Cc}/u.test(line)) {
        pasted += whole
        continue
      }
      await this.paste(pasted)
      pasted = ''
      await this.typeLine(line, n > 0)
    }
    await this.paste(pasted)
  }

  private async typeLine(line: string, below: boolean): Promise<void> {
    if (below) await this.press('Enter')
    while (!line.startsWith(this.text.slice(this.lineStart(), this.at))) await this.press('Backspace')
    for (const sign of line.slice(this.at - this.lineStart())) await this.press(sign)
    // What the editor has closed and nobody typed over.
    for (const _ of this.text.slice(this.at)) {
      this.keys++
      await this.replace(this.at, this.at + 1, '')
    }
    this.closing = ''
  }

  /** Puts text in as it stands, wherever the editor had put the cursor on its line. */
  private async paste(text: string): Promise<void> {
    if (text === '') return
    this.list = undefined
    await this.replace(this.at, this.text.length, text)
  }

  /** Presses one key: a sign, or Enter, Tab, ArrowDown, ArrowUp, Escape, Backspace, End, or Control+Space, which asks for a list. */
  async press(key: string): Promise<void> {
    this.keys++
    const list = this.shown()
    this.list = list
    switch (key) {
      case 'Enter':
        if (list && (list.chosen >= 0 || this.enter === 'takes the first')) return this.take(list, Math.max(0, list.chosen))
        return this.newLine()
      case 'Tab':
        if (list && (list.chosen >= 0 || this.stops.length === 0)) return this.take(list, Math.max(0, list.chosen))
        if (this.stops.length > 0) return this.nextStop()
        return this.insert(' '.repeat(STEP - ((this.at - this.lineStart()) % STEP)))
      case 'Control+Space':
        return this.ask(1)
      case 'ArrowDown':
      case 'ArrowUp':
        if (!list) throw new Error('no list is open')
        list.chosen = Math.min(list.items.length - 1, Math.max(0, list.chosen + (key === 'ArrowDown' ? 1 : -1)))
        return
      case 'Escape':
        this.list = undefined
        return
      case 'End':
        this.list = undefined
        this.closing = ''
        this.at = this.lineEnd()
        return
      case 'Backspace':
        return this.backspace()
      default:
        return this.type(key)
    }
  }

  /** Presses keys one after the other: texts, and keys in angle brackets. */
  async pressAll(keys: readonly string[]): Promise<void> {
    for (const key of keys) {
      if (/^<.+>$/.test(key)) await this.press(key.slice(1, -1))
      else for (const sign of key) await this.press(sign)
    }
  }

  /** What the list shows, in order. */
  get labels(): readonly string[] {
    return this.shown()?.items.map(({ label }) => label) ?? []
  }

  private async type(sign: string): Promise<void> {
    const { list } = this
    const chosen = list && (list.chosen >= 0 ? list.chosen : this.enter === 'takes the first' ? 0 : -1)
    const item = chosen === undefined ? undefined : list?.items[chosen]
    if (list && item && (item.commitCharacters?.includes(sign) || this.commits.has(sign))) await this.take(list, chosen!)
    if (this.closing.startsWith(sign) && this.text[this.at] === sign) {
      this.closing = this.closing.slice(1)
      this.at++
    } else {
      const close = this.closes(sign) ? CLOSING[sign]! : ''
      this.closing = close + this.closing
      await this.insert(sign + close, sign.length)
    }
    await this.goOn(sign)
  }

  /** Whether the editor closes a bracket or a quote that is typed here. */
  private closes(sign: string): boolean {
    if (!(sign in CLOSING) || !/^(?:[;:.,=}\])>` \n\t]|$)/.test(this.text.slice(this.at))) return false
    if (sign === '{' || sign === '[') return true
    const before = this.text.slice(this.lineStart(), this.at)
    const inQuotes = [`"`, `'`].some((quote) => (before.split(quote).length - 1) % 2 === 1)
    return !inQuotes && !/#|[\p{L}\p{N}_]$/u.test(before)
  }

  /** What an open list does when a sign was typed, and where one opens. */
  private async goOn(sign: string): Promise<void> {
    if (this.triggers.has(sign)) return this.ask(2)
    const word = WORD.exec(this.text.slice(this.lineStart(), this.at))?.[0] ?? ''
    const start = this.at - word.length
    if (!this.list) {
      // A list opens at the first sign of a word that is no number.
      if (word.length === sign.length && Number.isNaN(Number(word))) await this.ask(1)
    } else if (start < this.list.word) this.list = undefined
    else if (word !== '') await this.ask(3)
    else this.list = this.shown()
  }

  private async ask(triggerKind: 1 | 2 | 3): Promise<void> {
    this.asked++
    const position = new LineIndex(this.text).position(this.at)
    const { items } = await this.client.request<CompletionList>('textDocument/completion', {
      textDocument: { uri: ROOT + this.name },
      position,
      context: { triggerKind },
    })
    const before = this.text.slice(this.lineStart(), this.at)
    this.list = { items, word: this.at - (WORD.exec(before)?.[0].length ?? 0), chosen: -1 }
    this.list = this.shown()
  }

  /** The open list, as far as it fits what was typed: what begins so before what only holds the letters. */
  private shown(): List | undefined {
    const { list } = this
    if (!list) return undefined
    const fits = list.items.flatMap((item) => {
      const label = (item.filterText ?? item.label).toLowerCase()
      const typed = this.text
        .slice(this.spanOf(item.textEdit as TextEdit).start, this.at)
        .trim()
        .toLowerCase()
      let from = 0
      for (const letter of typed) from = letter === ' ' || from < 0 ? from : label.indexOf(letter, from) + 1 || -1
      return from < 0 ? [] : [{ item, rank: label.startsWith(typed) ? 0 : 1 }]
    })
    const order = ({ item, rank }: (typeof fits)[number]): string => `${rank}${item.sortText ?? item.label}`
    const items = fits.sort((a, b) => (order(a) < order(b) ? -1 : 1)).map(({ item }) => item)
    return items.length === 0 ? undefined : { ...list, items, chosen: Math.min(list.chosen, items.length - 1) }
  }

  /** What an item replaces; an editor drops an item whose stretch goes over lines or lies away from the cursor. */
  private spanOf({ range }: TextEdit): { start: number; end: number } {
    const lines = new LineIndex(this.text)
    const [start, end] = [lines.offset(range.start), lines.offset(range.end)]
    if (range.start.line !== range.end.line || start > this.at) throw new Error('an item away from the cursor')
    return { start, end: Math.max(end, this.at) }
  }

  private async take(list: List, index: number): Promise<void> {
    const item = list.items[index]!
    this.list = undefined
    const edit = item.textEdit as TextEdit
    const { start, end } = this.spanOf(edit)
    const { text, stops } = item.insertTextFormat === 2 ? readSnippet(edit.newText) : { text: edit.newText, stops: [] }
    const lines = new LineIndex(this.text)
    const others = (item.additionalTextEdits ?? []).map(({ range, newText }) => ({
      start: lines.offset(range.start),
      end: lines.offset(range.end),
      newText,
    }))
    const moved = others
      .filter((one) => one.start < start)
      .reduce((sum, one) => sum + one.newText.length - one.end + one.start, 0)
    await this.replaceAll([{ start, end, newText: text }, ...others])
    this.at = start + moved + text.length
    if (stops.length > 0) {
      // Of a snippet at the stop of another, all stops come first, its last one too.
      const own = stops.map((stop) => ({ start: start + moved + stop.start, end: start + moved + stop.end }))
      this.stops = [...own, ...this.stops]
      await this.nextStop()
    } else await this.suggestAtEmptyPlace()
  }

  private async nextStop(): Promise<void> {
    this.list = undefined
    const stop = this.stops.shift()!
    this.at = stop.end
    // What stands at a stop is selected, and gone when the next sign is typed.
    this.selected = stop.end > stop.start ? stop : undefined
    if (!this.selected) await this.suggestAtEmptyPlace()
  }

  private selected: Stop | undefined

  /** What the extension does of itself behind a completion: `client/src/suggest-again.ts`. */
  private async suggestAtEmptyPlace(): Promise<void> {
    const [before, after] = [this.text.slice(this.lineStart(), this.at), this.text.slice(this.at, this.lineEnd())]
    const isEmpty =
      after === '' ? /^(?: +| *- |[^#]*: )$/.test(before) : /^ *[,}]/.test(after) && /^[^#]*[{,] *[^:,{]*: $/.test(before)
    if (isEmpty) await this.ask(1)
  }

  private async newLine(): Promise<void> {
    this.list = undefined
    const [from, to] = [this.lineStart(), this.lineEnd()]
    const [before, after] = [this.text.slice(from, this.at), this.text.slice(this.at, to)]
    const rule = OURS.onEnterRules.find(
      ({ beforeText, afterText }) =>
        new RegExp(beforeText).test(before) && (afterText === undefined || new RegExp(afterText).test(after)),
    )
    const own = /^ */.exec(before)![0]
    const deeper = rule ? rule.action.indent === 'indent' : /[{[]$/.test(before)
    const indent = own + (deeper ? ' '.repeat(STEP) : '') + (rule?.action.appendText ?? '')
    // A line on which nothing was typed keeps no blanks.
    const start = before.trim() === '' ? from : this.at
    await this.replaceAll([{ start, end: this.at, newText: `\n${indent}` }])
    this.at = start + 1 + indent.length
    this.closing = ''
  }

  private async backspace(): Promise<void> {
    this.list = undefined
    const before = this.text.slice(this.lineStart(), this.at)
    const count = /^ +$/.test(before) ? ((before.length - 1) % STEP) + 1 : 1
    await this.replace(this.at - count, this.at, '')
  }

  private insert(text: string, ahead = text.length): Promise<void> {
    const { start, end } = this.selected ?? { start: this.at, end: this.at }
    return this.replaceAll([{ start, end, newText: text }]).then(() => {
      this.at = start + ahead
    })
  }

  private async replace(start: number, end: number, newText: string): Promise<void> {
    await this.replaceAll([{ start, end, newText }])
    this.at = start + newText.length
  }

  private async replaceAll(edits: readonly { start: number; end: number; newText: string }[]): Promise<void> {
    const lines = new LineIndex(this.text)
    const sorted = editsOf(this.text, edits)
    this.selected = undefined
    this.stops = this.stops.map(({ start, end }) => {
      const by = sorted
        .filter((edit) => edit.end <= start)
        .reduce((sum, edit) => sum + edit.newText.length - edit.end + edit.start, 0)
      return { start: start + by, end: end + by }
    })
    // From the last to the first, so that none moves another.
    const contentChanges = [...sorted].reverse().map(({ start, end, newText }) => ({
      range: { start: lines.position(start), end: lines.position(end) },
      text: newText,
    }))
    this.text = applyEdits(this.text, sorted)
    if (contentChanges.length > 0) await this.client.change(this.name, ++this.version, ...contentChanges)
  }

  private lineStart(): number {
    return this.text.lastIndexOf('\n', this.at - 1) + 1
  }

  private lineEnd(): number {
    const end = this.text.indexOf('\n', this.at)
    return end < 0 ? this.text.length : end
  }
}
