// What stands before the server's own code, because it has to be done before the engine of Node compiles any of it.
import { COMPILE_LESS } from '../src/main-flags.ts'

/** From Node 22 on the engine is compiled once and kept by Node itself, so that every start but the first is quicker. */
export const COMPILE_CACHE = `require('node:module').enableCompileCache?.();\n`

export const COMPILE_LESS_FIRST = `if (!require('node:module').enableCompileCache)
  for (const flag of ${JSON.stringify(COMPILE_LESS)}) require('node:v8').setFlagsFromString(flag);
`
