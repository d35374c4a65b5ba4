// Who asked what of the other documents, so that a change makes stale only what was made of it: a letter typed in one profile leaves the two
// hundred beside it alone.
import type { DocumentKind } from '../schema/schema.ts'

/** What is asked. Answers are not kept: whoever asked is stale as soon as one may be another. */
export type Question =
  /** Whether the text of a file is at hand, and which it is. */
  | `file ${string}`
  /** The same, asked for what is made of that file itself. */
  | `own ${string}`
  /** Which text a file has, at hand or not: asked for what outlives the trees. */
  | `text ${string}`
  | `id ${DocumentKind} ${string}`
  | `slot ${string}`
  /** Which documents of a kind there are, with their ids. */
  | `all ${DocumentKind}`
  /** What the instruments of a shop measured in its profiles. */
  | 'measured'

/** Something that was made of the answers to questions. */
export class Asker {
  stale = false
  /** No more is asked for it: it is made. */
  made = false
  readonly asked = new Set<Question>()
}

export class Askers {
  private readonly by = new Map<Question, Set<Asker>>()
  /** Is told that an answer may be another, whoever asked. */
  onChange: () => void = () => undefined

  ask(asker: Asker, question: Question): void {
    if (asker.stale || asker.made || asker.asked.has(question)) return
    asker.asked.add(question)
    const others = this.by.get(question)
    if (others) others.add(asker)
    else this.by.set(question, new Set([asker]))
  }

  isAsked(question: Question): boolean {
    return this.by.has(question)
  }

  /** The answer may be another now. */
  changed(question: Question): void {
    for (const asker of [...(this.by.get(question) ?? [])]) this.leave(asker)
    this.onChange()
  }

  /** Any answer may be another now. */
  allChanged(): void {
    for (const askers of [...this.by.values()]) for (const asker of [...askers]) this.leave(asker)
    this.onChange()
  }

  /** One that rests on these answers, whether or not what was read for them is at hand still. */
  restingOn(questions: Iterable<Question>): Asker {
    const asker = new Asker()
    for (const question of questions) this.ask(asker, question.replace(/^(?:file|own) /, 'text ') as Question)
    return asker
  }

  /** Asks no more, and is stale. */
  leave(asker: Asker): void {
    asker.stale = true
    for (const question of asker.asked) {
      const others = this.by.get(question)
      others?.delete(asker)
      if (others?.size === 0) this.by.delete(question)
    }
    asker.asked.clear()
  }
}
