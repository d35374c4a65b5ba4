// Where lines of commits parted, by the graph alone: of thousands of merges at once, without asking git for each.

export class CommitGraph {
  private readonly index = new Map<string, number>()
  private readonly ids: string[] = []
  private readonly parents: (readonly number[])[] = []

  /** From the lines of `git rev-list --topo-order --parents`: a commit and its parents, children before their parents. */
  constructor(text: string) {
    const lines = text.split('\n').filter((line) => line !== '')
    for (const line of lines) {
      const id = line.slice(0, line.indexOf(' ') < 0 ? undefined : line.indexOf(' '))
      this.index.set(id, this.ids.length)
      this.ids.push(id)
    }
    for (const line of lines) {
      const parents = line.split(' ').slice(1)
      this.parents.push(parents.map((parent) => this.index.get(parent)).filter((at) => at !== undefined))
    }
  }

  parentsOf(commit: string): readonly string[] {
    return (this.parents[this.index.get(commit) ?? -1] ?? []).map((at) => this.ids[at]!)
  }

  /** The best common ancestors of all of these commits: none of them is an ancestor of another. Empty where they have nothing in common. */
  basesOf(commits: readonly string[]): readonly string[] {
    const [first, ...others] = commits.map((commit) => this.index.get(commit)).filter((at) => at !== undefined)
    if (first === undefined) return []
    let bases: readonly number[] = [first]
    for (const other of others) bases = this.independent(bases.flatMap((base) => this.common(base, other)))
    return bases.map((at) => this.ids[at]!)
  }

  /** By walking from both towards the past, the newest first, as git does: what both reach is common, and so is all behind it. */
  private common(one: number, other: number): readonly number[] {
    if (one === other) return [one]
    const reached = new Map<number, number>([
      [one, ONE],
      [other, OTHER],
    ])
    const queue = new Heap([one, other])
    const found: number[] = []
    let open = 2
    while (open > 0) {
      const at = queue.pop()!
      const flags = reached.get(at)!
      if (!(flags & BEHIND)) open--
      const isCommon = (flags & (ONE | OTHER)) === (ONE | OTHER)
      if (isCommon && !(flags & BEHIND)) found.push(at)
      const passed = isCommon ? flags | BEHIND : flags
      for (const parent of this.parents[at]!) {
        const before = reached.get(parent)
        const now = (before ?? 0) | passed
        if (before === undefined) {
          queue.push(parent)
          if (!(now & BEHIND)) open++
        } else if (!(before & BEHIND) && now & BEHIND) open--
        reached.set(parent, now)
      }
    }
    return found
  }

  private independent(commits: readonly number[]): readonly number[] {
    const all = [...new Set(commits)]
    return all.length < 2 ? all : all.filter((at) => !all.some((other) => other !== at && this.common(at, other).includes(at)))
  }
}

const ONE = 1
const OTHER = 2
/** An ancestor of what is common. */
const BEHIND = 4

/** The least first. In the order of the graph no commit comes after its parents, so that one is popped when all its children were. */
class Heap {
  private readonly items: number[] = []

  constructor(items: readonly number[]) {
    for (const item of items) this.push(item)
  }

  push(item: number): void {
    const { items } = this
    let at = items.push(item) - 1
    while (at > 0) {
      const above = (at - 1) >> 1
      if (items[above]! <= item) break
      items[at] = items[above]!
      at = above
    }
    items[at] = item
  }

  pop(): number | undefined {
    const { items } = this
    const [first] = items
    const last = items.pop()
    if (last === undefined || items.length === 0) return first
    let at = 0
    for (;;) {
      let below = 2 * at + 1
      if (below >= items.length) break
      if (below + 1 < items.length && items[below + 1]! < items[below]!) below++
      if (items[below]! >= last) break
      items[at] = items[below]!
      at = below
    }
    items[at] = last
    return first
  }
}
