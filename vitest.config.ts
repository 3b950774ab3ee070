import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/interop/**', 'node_modules/**'],
    // Nothing is timed; what takes longer than this hangs.
    testTimeout: 60_000,
    setupFiles: ['tests/support/seed.ts'],
  },
});
