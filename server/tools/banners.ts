// What stands before the server's and the commands' own code, because it has to be done before the engine of Node compiles what they load.

/** From Node 22 on what they load is compiled once and kept by Node itself, so that every start but the first is quicker. */
export const COMPILE_CACHE = `require('node:module').enableCompileCache?.();\n`

/**
 * The engine of Node 20 compiles code again and again while a document is first worked on, on other threads but on the same battery: a third of
 * all that a keystroke costs. Compiled later and in smaller parts it costs less from the first keystroke on (`npm run bench -- paced`), and so
 * does a check. Newer engines do so by themselves.
 */
const COMPILE_LESS = ['--interrupt-budget=200000', '--max-inlined-bytecode-size-cumulative=200']

export const COMPILE_LESS_FIRST = `if (!require('node:module').enableCompileCache)
  for (const flag of ${JSON.stringify(COMPILE_LESS)}) require('node:v8').setFlagsFromString(flag);
`
