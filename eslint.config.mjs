import tseslint from 'typescript-eslint';

/** Which folder of src may import which, besides itself and the files at the top; see DEVELOPERS.md, "The house". */
const MAY_IMPORT = {
  timecode: [],
  schema: [],
  cutlist: ['timecode'],
  corrections: ['timecode', 'cutlist'],
  log: ['timecode', 'schema', 'cutlist'],
  show: ['timecode', 'schema', 'cutlist', 'log'],
  formats: ['timecode', 'cutlist'],
  media: ['timecode', 'cutlist', 'show'],
  compare: ['timecode', 'cutlist', 'corrections', 'formats'],
  picture: ['timecode', 'cutlist', 'compare'],
  check: ['timecode', 'schema', 'cutlist', 'corrections', 'log', 'show', 'formats', 'compare', 'load', 'file-text'],
};
const FOLDERS = [...Object.keys(MAY_IMPORT), 'cli'];
/** Files at the top that put the folders together. */
const TOGETHER = ['file-text', 'load', 'convert', 'library-options', 'library', 'index'];

const NAMED_EXPORTS = { selector: 'ExportDefaultDeclaration', message: 'Named exports only.' };

/** What `files` import may come from these folders, and these files at the top, alone. */
function importsOnly(files, may, more = {}) {
  const [folders, tops] = [FOLDERS, TOGETHER].map((names) => names.filter((name) => !may.includes(name)).join('|'));
  const from = `^(?:\\./|(?:\\.\\./)+)(?:(?:${folders})/.*|(?:${tops === '' ? '-' : tops})\\.js)$`;
  const message = `Here only ${may.join(', ') || 'files of the same folder and at the top'} may be imported; see DEVELOPERS.md, "The house".`;
  return {
    files,
    ...more,
    rules: {
      'no-restricted-imports': ['error', { patterns: [{ regex: from, message }] }],
      'no-restricted-syntax': ['error', NAMED_EXPORTS, { selector: `ImportExpression[source.value=/${from.replaceAll('/', '\\/')}/]`, message }],
    },
  };
}

export default tseslint.config(
  { ignores: ['dist/', 'node_modules/', 'coverage/', 'tests/interop/.venv/', 'tests/interop/.work/', 'src/schema/compiled.js'] },
  ...tseslint.configs.strict,
  // The few CommonJS files: what starts linecut (Node starts it sooner than a module), and what warms it up when it is built.
  { files: ['bin/*.js', '**/*.cjs'], rules: { '@typescript-eslint/no-require-imports': 'off' } },
  {
    files: ['src/**/*.ts', 'tests/**/*.ts'],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      // A `default` answers for the rest; without one, every case has to be there.
      '@typescript-eslint/switch-exhaustiveness-check': ['error', { considerDefaultExhaustiveForUnions: true }],
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-non-null-assertion': 'error',
      '@typescript-eslint/no-dynamic-delete': 'off',
      'no-restricted-syntax': ['error', NAMED_EXPORTS],
      eqeqeq: 'error',
      'no-console': 'error',
    },
  },
  { files: ['src/**/*.ts'], rules: { 'max-lines': ['error', 250] } },
  ...Object.entries(MAY_IMPORT).map(([folder, may]) => importsOnly([`src/${folder}/**/*.ts`], [folder, ...may])),
  importsOnly(['src/*.ts'], [], { ignores: [...TOGETHER, 'per-take'].map((name) => `src/${name}.ts`) }),
  importsOnly(['src/per-take.ts'], ['cutlist']),
  importsOnly(TOGETHER.map((name) => `src/${name}.ts`), [...Object.keys(MAY_IMPORT), ...TOGETHER]),
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
