// The commands on Node, and all that they rest on.
import { nodeCliHost } from './cli/node.ts'
import { runCli } from './cli/run.ts'

export const runOnNode = (args: readonly string[]): Promise<number> => runCli(args, nodeCliHost())
