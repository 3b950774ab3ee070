import { defineConfig } from 'vitest/config';

// Run by tests/interop/run.sh, which makes the judges ready first. A run without a test file is a failure.
export default defineConfig({
  test: {
    include: ['tests/interop/**/*.test.ts'],
    exclude: ['tests/interop/.venv/**', 'tests/interop/.work/**', 'node_modules/**'],
    testTimeout: 300_000,
    hookTimeout: 300_000,
    passWithNoTests: false,
    globalSetup: ['tests/interop/setup.ts'],
  },
});
