import tseslint from 'typescript-eslint';

export default tseslint.config(
  { ignores: ['dist/', 'node_modules/', 'coverage/', 'tests/interop/.venv/', 'tests/interop/.work/', 'src/schema/compiled.js'] },
  ...tseslint.configs.strict,
  // The few CommonJS files: what starts linecut (Node starts it sooner than a module), and what warms it up when it is built.
  { files: ['bin/*.js', '**/*.cjs'], rules: { '@typescript-eslint/no-require-imports': 'off' } },
  {
    files: ['src/**/*.ts', 'tests/**/*.ts'],
    rules: {
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-non-null-assertion': 'error',
      '@typescript-eslint/no-dynamic-delete': 'off',
      'no-restricted-syntax': ['error', { selector: 'ExportDefaultDeclaration', message: 'Named exports only.' }],
      eqeqeq: 'error',
      'no-console': 'error',
    },
  },
  {
    files: ['tests/**/*.test.ts'],
    ignores: ['tests/interop/**'],
    rules: {
      // A busy machine is no fault: times are measured in tests/bench, as ratios; what hangs meets the runner's own limit.
      'no-restricted-properties': ['error', ...['performance.now', 'process.cpuUsage', 'process.hrtime', 'Date.now'].map((name) => {
        const [object, property] = name.split('.');
        return { object, property, message: 'No timed test in the suite.' };
      })],
    },
  },
);
