// One vitest configuration for the whole project: core, language features, command line and protocol tests.
import { defineConfig } from 'vitest/config'
import { Order } from './support/order.ts'

const ROOT = new URL('..', import.meta.url).pathname

/** Those that spy on what all sessions of a process share, or stand in for what all of its modules use, are each alone. */
const ALONE = ['protocol/many', 'protocol/pull', 'protocol/resting', 'cli/read-only'].map((name) => `tests/${name}.test.ts`)

const test = {
  root: ROOT,
  // Commands that tests start leave nothing in the folders of whoever runs them.
  env: { NODE_DISABLE_COMPILE_CACHE: '1' },
  setupFiles: ['tests/support/seed.ts'],
  globalSetup: ['tests/support/temporary.ts'],
  testTimeout: 60_000,
}

export default defineConfig({
  test: {
    root: ROOT,
    // Vitest would leave one core idle: half of the time, on a machine of two.
    maxWorkers: '100%',
    sequence: { sequencer: Order },
    projects: [
      {
        // A worker loads the engine once for all of its files, which is half of the work: no test leaves anything behind that another could meet.
        test: {
          ...test,
          name: 'core',
          include: ['tests/**/*.test.ts'],
          exclude: [...ALONE, 'tests/editor/**', 'tests/long/**', 'node_modules/**'],
          isolate: false,
        },
      },
      { test: { ...test, name: 'alone', include: ALONE } },
    ],
  },
})
