import { defineConfig } from 'vitest/config';

const common = { testTimeout: 300_000, hookTimeout: 300_000 };

// Run by tests/interop/run.sh, which makes the judges ready first. A run without a test file is a failure.
export default defineConfig({
  test: {
    passWithNoTests: false,
    projects: [
      {
        test: {
          ...common,
          name: 'interop',
          globalSetup: ['tests/interop/setup.ts'],
          include: ['tests/interop/**/*.test.ts'],
          exclude: ['tests/interop/.venv/**', 'tests/interop/.work/**', 'node_modules/**'],
        },
      },
      {
        // What runs whole command lines (`cli` of tests/support/cli.ts) once more, on the packed program: what esbuild and V8's code cache
        // make of the sources is what users run. Other tests would only run the sources a second time.
        test: {
          ...common,
          name: 'packed',
          include: ['tests/cli/{bad-inputs,beside,convert,cutlog,missing,told,visible}.test.ts', 'tests/{check,compare}/command.test.ts'],
          env: { LINECUT_PACKED: '1' },
        },
      },
    ],
  },
});
