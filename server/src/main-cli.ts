// The command `rollbook` on Node. The engine behind most of it takes longer to load than a question about the version takes to answer.
import { answerAtOnce } from './cli/answer.ts'

const args = process.argv.slice(2)
// A reader that has seen enough (`rollbook check | head`) closes the pipe; that is no failure of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => process.exit(error.code === 'EPIPE' ? 0 : 2))
const answer = answerAtOnce(args)
if (answer !== undefined) process.stdout.write(answer)
else void run()

/** Nothing is cut off by ending early: Node ends by itself when all is written. */
async function run(): Promise<void> {
  const { runOnNode } = await import('./main-commands.ts')
  process.exitCode = await runOnNode(args)
}
