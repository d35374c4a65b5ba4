// The commands on Node, and all that they rest on.
import { nodeCliHost } from './cli/node.ts'
import { judgeInThread as inThread } from './cli/node-thread.ts'
import { runCli } from './cli/run.ts'

export const runOnNode = (args: readonly string[]): Promise<number> => runCli(args, nodeCliHost())

/** What a command has judged beside it (`--jobs`) begins here, in a thread of its own. */
export const judgeInThread = (): Promise<void> => inThread(nodeCliHost())
