// In which order the files of tests run. Those that start processes come first: to start one takes 10 to 20 ms from a worker that is still small, and 30 to 55
// from one that holds what a hundred files left behind. Then those that compute long for their size, so that none of them begins last while a core is idle.
import { readFileSync } from 'node:fs'
import { BaseSequencer, type TestSpecification } from 'vitest/node'

const STARTS = /from '(?:node:child_process|playwright-core|[./]+\/(?:[a-z]+\/)?(?:repository|one-file|history|git)\.ts)'/
const COMPUTES = /tests\/(?:simulation|properties|areas|year)\//

export class Order extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const ranks = new Map(files.map((file) => [file, rankOf(file)]))
    // Equal ones stay as they were: longest first where an earlier run says how long, else largest first.
    return (await super.sort(files)).sort((a, b) => ranks.get(a)! - ranks.get(b)!)
  }
}

function rankOf({ moduleId, project }: TestSpecification): number {
  if (project.config.isolate) return 0 // Each has a process of its own: together, since the workers of the others go on from file to file.
  if (STARTS.test(readFileSync(moduleId, 'utf8'))) return 1
  return COMPUTES.test(moduleId) ? 2 : 3
}
