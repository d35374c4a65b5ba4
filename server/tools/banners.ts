// What stands before the bundles' own code, because it has to be done before the engine of Node compiles any of it.

/** From Node 22 on the engine is compiled once and kept by Node itself, so that every start but the first is quicker. */
export const COMPILE_CACHE = `require('node:module').enableCompileCache?.();\n`

/**
 * The engine of Node 20 compiles code again and again while a document is first worked on, on other threads but on the same battery: a third
 * of all that a keystroke costs. Compiled later and in smaller parts it costs less from the first keystroke on (`npm run bench -- --only server`),
 * and so does a check. Newer engines do so by themselves.
 */
export const COMPILE_LESS = `if (process.versions.v8.startsWith('11.')) {
  const { setFlagsFromString } = require('node:v8');
  setFlagsFromString('--interrupt-budget=200000');
  setFlagsFromString('--max-inlined-bytecode-size-cumulative=200');
}
`
