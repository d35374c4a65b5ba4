// `npm run test:long`: what takes minutes and is no part of `npm test`. Each test prints what it counted, with its seed and the date.
import { defineConfig } from 'vitest/config'

export default defineConfig({
  test: {
    root: new URL('../..', import.meta.url).pathname,
    include: ['tests/long/**/*.test.ts'],
    setupFiles: ['tests/support/seed.ts'],
    testTimeout: 3_600_000,
    disableConsoleIntercept: true,
  },
})
