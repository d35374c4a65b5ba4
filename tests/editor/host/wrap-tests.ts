// The workbench reports its own log and the tests' console alike, and calls an extension host that was killed a success:
// a wrapper around the tests marks their console, and says that run() came to its end.
import { readFileSync, writeFileSync } from 'node:fs'
import { resolve } from 'node:path'

export const TAG = '[test] '
export const DONE = `${TAG}run() ended`

/** Writes the wrapper of a CommonJS test module to `file`, and returns `file`. A browser's extension host loads one file alone: there the text is put into it. */
export function wrapTests(tests: string, file: string, web = false): string {
  const load = web
    ? `const tested = { exports: {} };\n(function (module, exports) {\n${readFileSync(tests, 'utf8')}\n})(tested, tested.exports)\n`
    : `const tested = { get exports() { return require(${JSON.stringify(resolve(tests))}) } }\n`
  writeFileSync(
    file,
    `${load}const text = (value) => typeof value === 'string' ? value : value instanceof Error ? value.stack : JSON.stringify(value)
for (const level of ['debug', 'log', 'info', 'warn', 'error']) {
  const print = console[level].bind(console)
  // the extension host ignores a plain assignment
  Object.defineProperty(console, level, { value: (...args) => print(${JSON.stringify(TAG)} + args.map(text).join(' ')) })
}
exports.run = async () => {
  await tested.exports.run()
  console.log('run() ended')
}
`,
  )
  return file
}
