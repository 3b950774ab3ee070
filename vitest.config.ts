import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/interop/**', 'node_modules/**'],
    testTimeout: 60_000,
  },
});
