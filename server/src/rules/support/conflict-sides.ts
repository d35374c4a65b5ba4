// The two sides of a merge conflict: whether both can stay, and what is lost where one goes.

export interface Together {
  readonly text: string
  /** Whether it is records of days that stand together. */
  readonly dated: boolean
  /** How many records of each side are not among the other's. */
  readonly lost: { readonly upper: number; readonly lower: number }
}

/** Both sides one after the other, where both can stand: items of a list, or settings of different names. */
export function together(ours: string, theirs: string): Together | undefined {
  const [upper, lower] = [blocksOf(ours), blocksOf(theirs)]
  if (!upper || !lower || upper.indent !== lower.indent || upper.items !== lower.items) return undefined
  if (!upper.items) {
    const names = new Set(upper.blocks.map(nameOf))
    const apart = lower.blocks.every((block) => !names.has(nameOf(block)))
    return apart ? { text: ours + theirs, dated: false, lost: NONE_LOST } : undefined
  }
  const added = lower.blocks.filter((block) => !upper.blocks.includes(block))
  const all = [...upper.blocks, ...added]
  const dated = all.every((block) => dateOf(block) !== undefined)
  if (!dated) return { text: all.join(''), dated, lost: NONE_LOST }
  const gone = upper.blocks.filter((block) => !lower.blocks.includes(block))
  return {
    text: all.sort((a, b) => dateOf(a)!.localeCompare(dateOf(b)!)).join(''),
    dated,
    lost: { upper: gone.length, lower: added.length },
  }
}

const NONE_LOST: Together['lost'] = { upper: 0, lower: 0 }

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
