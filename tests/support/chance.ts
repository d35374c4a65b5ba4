// What is left to chance in tests, all of it following from one seed.

/** Numbers by chance that follow from a seed (mulberry32). */
export class Chance {
  private spare: number | undefined

  constructor(private state: number) {}

  /** A number from 0 to below 1. */
  part(): number {
    this.state = (this.state + 0x6d2b79f5) | 0
    let t = Math.imul(this.state ^ (this.state >>> 15), 1 | this.state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }

  /** A whole number from 0 to below `count`. */
  below(count: number): number {
    return Math.floor(this.part() * count)
  }

  /** A standard normal number (Box and Muller 1958: two at a time). */
  normal(): number {
    const kept = this.spare
    this.spare = undefined
    if (kept !== undefined) return kept
    const far = Math.sqrt(-2 * Math.log(1 - this.part()))
    const turn = 2 * Math.PI * this.part()
    this.spare = far * Math.sin(turn)
    return far * Math.cos(turn)
  }

  one<T>(list: readonly T[]): T {
    return list[this.below(list.length)]!
  }

  /** True once in `times`. */
  once(times: number): boolean {
    return this.below(times) === 0
  }
}
