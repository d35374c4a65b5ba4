// The two sides of a merge conflict: whether both can stay, and what is lost where one goes.

export interface Together {
  readonly text: string
  /** Whether it is records of days that stand together. */
  readonly dated: boolean
}

/** What goes where one side is kept alone. */
export interface Lost {
  /** How many records of a day of the other side are not on this one. */
  readonly entries: number
  /** Of how many that are on this one the other side says more, or otherwise: a remark, the state. */
  readonly words: number
}

/**
 * Both sides one after the other, where both can stand: items of a list, or settings of different names. An item that one side only added words to
 * stays once, with the words; where each side changed it in its own way, or a reading would stand twice, both cannot stay.
 */
export function together(ours: string, theirs: string): Together | undefined {
  const [upper, lower] = [blocksOf(ours), blocksOf(theirs)]
  if (!upper || !lower || upper.indent !== lower.indent || upper.items !== lower.items) return undefined
  if (!upper.items) {
    const names = new Set(upper.blocks.map(nameOf))
    const apart = lower.blocks.every((block) => !names.has(nameOf(block)))
    return apart ? { text: ours + theirs, dated: false } : undefined
  }
  const mine = upper.blocks.map((block) => lower.blocks.find((other) => covers(other, block)) ?? block)
  const added = lower.blocks.filter((block) => !mine.some((other) => covers(other, block)))
  const readings = new Set(mine.map(readingOf))
  if (added.some((block) => readings.has(readingOf(block)))) return undefined
  const all = [...mine, ...added]
  const dated = all.every((block) => dateOf(block) !== undefined)
  if (dated) all.sort((a, b) => dateOf(a)!.localeCompare(dateOf(b)!))
  if (!stripsStay(all, [mine, lower.blocks])) return undefined
  return { text: all.join(''), dated }
}

/** What of one side is lost where the other is kept, whether both could stay or not. A reading that differs is another record. */
export function lostWith(kept: string, other: string): Lost {
  const stay = recordsOf(kept)
  const readings = new Set(stay.map(readingOf))
  const missing = recordsOf(other).filter((record) => !stay.some((one) => covers(one.trim(), record.trim())))
  const entries = missing.filter((record) => !readings.has(readingOf(record))).length
  return { entries, words: missing.length - entries }
}

/** The stretches of a side that tell of a day or of a reading: items, dated sections, and lines of one that begins outside the conflict. */
function recordsOf(side: string): readonly string[] {
  const chunks: string[] = []
  let depth = -1
  for (const line of side.split(/(?<=\n)/)) {
    if (/^[ \t]*(?:#.*)?\r?\n?$/.test(line)) continue
    const [, indent = '', dash] = /^([ \t]*)(- )?/.exec(line)!
    if (chunks.length > 0 && indent.length > depth && !dash) chunks.push(chunks.pop()! + line)
    else {
      chunks.push(line)
      depth = indent.length - (dash || /:[ \t]*(?:#.*)?\r?\n?$/.test(line) ? 0 : 1)
    }
  }
  return chunks.filter((chunk) => /(?:^|[\s{,-])(?:date|measured|commanded):/.test(chunk))
}

/** Whether a block says all that another says, and perhaps more behind it. */
const covers = (block: string, other: string): boolean =>
  block === other || (other.includes('{') && block.startsWith(`${other.trimEnd().replace(/ *\}$/, '')},`))

/** What was measured: an item without the comments above it, and without what is added to it later: its state and remarks. One without a reading is itself. */
function readingOf(block: string): string {
  const item = block.replace(/^(?:[ \t]*(?:#.*)?\r?\n)*/, '')
  if (!/\bmeasured:/.test(item)) return block
  return item.replace(/[\s,]+(?:under|skip|note):[ \t]*(?:"(?:[^"\\]|\\.)*"|'(?:[^']|'')*'|[^,}\r\n]*)/g, '').replace(/\s+/g, '')
}

/** Whether each strip measured again (`same-print`) still stands below the print that it stood below on its side. */
const stripsStay = (all: readonly string[], sides: readonly (readonly string[])[]): boolean =>
  all.every((block, i) => {
    if (!/\bsame-print:[ \t]*true\b/.test(block)) return true
    return sides.some((side) => side.includes(block) && side[side.indexOf(block) - 1] === all[i - 1])
  })

interface Blocks {
  /** Each item or setting with the comment lines above it, as whole lines. */
  readonly blocks: readonly string[]
  readonly indent: string
  /** Items of a list, or else settings. */
  readonly items: boolean
}

/** Undefined for a side that is empty, or is only a part of an item or of a setting. */
function blocksOf(side: string): Blocks | undefined {
  const lines = side.split(/(?<=\n)/)
  const first = lines.find((line) => /^[ \t]*[^\s#]/.test(line))
  if (first === undefined) return undefined
  const indent = /^[ \t]*/.exec(first)![0]
  const items = first.startsWith(`${indent}- `)
  const blocks: string[] = []
  let above = ''
  for (const line of lines) {
    const rest = line.startsWith(indent) ? line.slice(indent.length) : ''
    const loose = /^[ \t]*(?:#.*)?\r?\n?$/.test(line)
    if (loose) above += line
    else if (items ? rest.startsWith('- ') : nameOf(rest)) {
      blocks.push(above + line)
      above = ''
    } else if (/^[ \t]/.test(rest)) {
      blocks.push(blocks.pop()! + above + line)
      above = ''
    } else return undefined
  }
  if (above !== '') blocks.push(blocks.pop()! + above)
  return { blocks, indent, items }
}

/** The name a setting's lines begin with. */
const nameOf = (block: string): string | undefined =>
  /^(?:[ \t]*(?:#.*)?\r?\n)*[ \t]*([\w$][\w .-]*):(?:[ \t\r\n]|$)/.exec(block)?.[1]

const dateOf = (item: string): string | undefined => /(?:^|[\s{,-])date:[ \t]*['"]?(\d{4}-\d\d-\d\d)/.exec(item)?.[1]
