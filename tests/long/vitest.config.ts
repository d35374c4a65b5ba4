// `npm run test:long`: what takes minutes and is no part of `npm test`, and every test of which that tries a tenth, whole. Each long test prints what it
// counted, with its seed and the date.
import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    root: new URL('../..', import.meta.url).pathname,
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/editor/**', 'node_modules/**'],
    env: { COUNTS: 'whole', NODE_DISABLE_COMPILE_CACHE: '1' },
    setupFiles: ['tests/support/seed.ts'],
    globalSetup: ['tests/support/temporary.ts'],
    maxWorkers: '100%',
    testTimeout: 3_600_000,
    disableConsoleIntercept: true,
    coverage: {
      provider: 'v8',
      include: ['server/src/**'],
      exclude: ['server/src/**/generated/**', 'server/src/main-*.ts'],
      reporter: ['text-summary', 'json-summary'],
    },
  },
})
