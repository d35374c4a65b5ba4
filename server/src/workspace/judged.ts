// One version of a document with all that it rests on, judged when something is asked: what every feature is given. It can let go of what was
// made, and makes it again.
import type { FeatureContext } from '../features/context.ts'
import type { RollDocument } from '../model/document.ts'
import type { Sources } from '../model/recorded-setup.ts'
import type { Setup } from '../model/setup.ts'
import type { Shelf } from '../model/shelf.ts'
import type { Finding } from '../rules/rule.ts'
import { type RunInput, runRulesOnce } from '../rules/run.ts'
import type { RecordedRun } from './recorded-run.ts'

/** Where what is judged comes from. */
export interface Judging {
  sources(): Sources
  input(sources: Sources): RunInput
  /** The record from version to version; undefined for whoever asks once. */
  run(sources: Sources): RecordedRun | undefined
}

export class Judged implements FeatureContext {
  private made: { readonly sources: Sources; findings?: readonly Finding[] } | undefined
  /** Of what is asked about once, the rules that asked for the day. */
  dated: ReadonlySet<string> | undefined

  constructor(
    readonly document: RollDocument,
    readonly shelf: Shelf,
    readonly today: string,
    private readonly judging: Judging,
  ) {
    this.made = { sources: judging.sources() }
  }

  get setup(): Setup | undefined {
    const { sources } = this.now
    return sources.setup && (this.judging.run(sources)?.setup ?? sources.setup)
  }

  readonly findings = (): readonly Finding[] => {
    const { now } = this
    now.findings ??= this.find(now.sources)
    return now.findings
  }

  rest(): void {
    this.made = undefined
  }

  private get now(): NonNullable<typeof this.made> {
    this.made ??= { sources: this.judging.sources() }
    return this.made
  }

  private find(sources: Sources): readonly Finding[] {
    const input = this.judging.input(sources)
    const run = this.judging.run(sources)
    if (run) return run.findings(input)
    const { findings, dated } = runRulesOnce(input)
    this.dated = dated
    return findings
  }
}
