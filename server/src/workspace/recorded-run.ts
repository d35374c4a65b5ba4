// The rules over one document from version to version: each is run again only when something that it read has changed.
import { Derived, inputsOf, Runtime } from '../base/recorder.ts'
import type { RollDocument } from '../model/document.ts'
import { Recorded, type Sources } from '../model/recorded-setup.ts'
import type { Setup } from '../model/setup.ts'
import type { Finding, Rule } from '../rules/rule.ts'
import { Evaluation, findingsOf, type Report, type RunInput } from '../rules/run.ts'

export class RecordedRun {
  private readonly recorded: Recorded
  private readonly reports = new Map<string, Derived<readonly Report[]>>()

  constructor(
    document: RollDocument,
    private sources: Sources,
  ) {
    this.recorded = new Recorded(new Runtime(), document, sources)
  }

  /** The documents may be others now, where the sources are. */
  advance(sources: Sources): void {
    if (sources !== this.sources) this.recorded.advance(sources)
    this.sources = sources
  }

  get setup(): Setup {
    return this.recorded.setup
  }

  findings(input: RunInput): readonly Finding[] {
    return findingsOf(input, (rule) => this.of(rule).get())
  }

  /** What a rule's reports rest on, by name: 'profile drying.pause', 'stock dry-touch.time'. Empty before it has run. */
  restsOn(code: string): readonly string[] {
    const reports = this.reports.get(code)
    return reports ? inputsOf(reports) : []
  }

  private of(rule: Rule): Derived<readonly Report[]> {
    let reports = this.reports.get(rule.code)
    if (!reports) {
      const { recorded } = this
      // Today is read by whoever asks for it.
      const input = {
        document: recorded.document,
        setup: recorded.setup,
        shelf: recorded.shelf,
        get today() {
          return recorded.today
        },
      }
      reports = new Derived(recorded.runtime, `rule ${rule.code}`, () => new Evaluation(input).run(rule), Object.is)
      this.reports.set(rule.code, reports)
    }
    return reports
  }
}
