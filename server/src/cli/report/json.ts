// `rollbook check --format json`: one object at the end, with every finding. The help of the command documents its keys.
import { VERSION } from '../../version.ts'
import type { ReadableFinding } from '../readable.ts'
import type { MakeReport } from './report.ts'

export const jsonReport: MakeReport = (cli) => {
  const all: ReadableFinding[] = []
  return {
    take: ({ findings }) => all.push(...findings),
    end({ tally, troubles, leftOut, remarks, fixed }) {
      const { documents: files, counts: summary, due, accepted } = tally
      cli.out(
        `${JSON.stringify({ version: VERSION, files, summary, due, accepted, findings: all, fixed, remarks, notChecked: troubles, notJudged: leftOut.entries }, null, 2)}\n`,
      )
    },
  }
}
