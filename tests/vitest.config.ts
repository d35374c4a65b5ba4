// One vitest configuration for the whole project: core, language features, command line and protocol tests.
import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/editor/**', 'tests/long/**', 'node_modules/**'],
    coverage: {
      provider: 'v8',
      include: ['server/src/**'],
      exclude: ['server/src/**/generated/**', 'server/src/main-*.ts'],
      reporter: ['text-summary', 'json-summary'],
    },
    // Commands that tests start leave nothing in the folders of whoever runs them.
    env: { NODE_DISABLE_COMPILE_CACHE: '1' },
    setupFiles: ['tests/support/seed.ts'],
    // Vitest would leave one core idle: half of the time, on a machine of two.
    maxWorkers: '100%',
    testTimeout: 60_000,
  },
})
