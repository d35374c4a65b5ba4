// The tests that need the workbench host: grammar, user interface, installed package. Run after `npm run build` and `npm run package`.
import { defineConfig } from 'vitest/config'

/** `--mode whole`, as `npm run test:long` runs it, tries every way of typing, and `npm test` a seeded eighth. */
export default defineConfig(({ mode }) => ({
  test: {
    env: { COUNTS: mode },
    root: new URL('../..', import.meta.url).pathname,
    include: ['tests/editor/*.test.ts'],
    globalSetup: 'tests/editor/host/browser.ts',
    fileParallelism: false, // One workbench at a time: two would be slower than one after the other.
    isolate: false, // What several files ask of the engine is loaded once.
    testTimeout: 120_000,
    hookTimeout: 180_000,
  },
}))
