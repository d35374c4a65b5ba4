// Run as a process of its own: the floor under every checker of YAML on Node. The same files, read the same way, each parsed and let go.
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { parseDocument } from 'yaml'

let documents = 0
for (const path of readdirSync(process.argv[2]!, { recursive: true, encoding: 'utf8' })) {
  if (path.endsWith('.yaml') && parseDocument(readFileSync(join(process.argv[2]!, path), 'utf8')).contents) documents++
}
process.stdout.write(String(documents))
