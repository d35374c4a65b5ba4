// The command line on Node.
import { nodeCliHost } from './cli/node.ts'
import { runCli } from './cli/run.ts'

// Nothing is cut off by ending early: Node ends by itself when all is written.
runCli(process.argv.slice(2), nodeCliHost()).then((code) => {
  process.exitCode = code
})
