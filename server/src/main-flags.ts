// How the engine of Node 20 is told to compile less; to be set before it compiles anything of ours.

/**
 * It compiles code again and again while a document is first worked on, on other threads but on the same battery: a third of all that a keystroke
 * costs. Compiled later and in smaller parts it costs less from the first keystroke on (`npm run bench -- --only server`), and so does a check.
 * Newer engines do so by themselves.
 */
export const COMPILE_LESS = ['--interrupt-budget=200000', '--max-inlined-bytecode-size-cumulative=200']
