// Adds up the results that vitest wrote as JSON, one file a suite, and prints `N passed, N failed` (and skipped, where
// there are any). A suite without a result, or a test file that could not be loaded, counts as one failure.
import { existsSync, readFileSync } from 'node:fs';

let passed = 0;
let failed = 0;
let skipped = 0;
for (const file of process.argv.slice(2)) {
  if (!existsSync(file)) {
    console.error(`${file}: this suite has no result`);
    failed += 1;
    continue;
  }
  const { numPassedTests, numFailedTests, numPendingTests, testResults } = JSON.parse(readFileSync(file, 'utf8'));
  passed += numPassedTests;
  failed += numFailedTests;
  skipped += numPendingTests;
  failed += testResults.filter(({ status, assertionResults }) => status === 'failed' && !assertionResults.some((one) => one.status === 'failed')).length;
}
console.log(`${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`);
process.exit(failed > 0 || passed === 0 ? 1 : 0);
