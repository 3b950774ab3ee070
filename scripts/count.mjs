// Adds up the results that vitest wrote as JSON, one file a suite, names what failed and why, and prints `N passed, N failed`
// (and skipped, where there are any). A suite without a result, or a test file that could not be loaded, counts as one failure.
import { existsSync, readFileSync } from 'node:fs';
import { relative } from 'node:path';
import { stripVTControlCharacters } from 'node:util';

// So much of what a failed test says is repeated at the end, where who reads the log looks first.
const LINES = 30;

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
  for (const { name, status, message, assertionResults } of testResults) {
    const tests = assertionResults.filter((one) => one.status === 'failed');
    for (const { fullName, failureMessages } of tests) say(name, fullName, failureMessages.join('\n'));
    if (status !== 'failed' || tests.length > 0) continue;
    failed += 1;
    say(name, 'could not be loaded', message ?? '');
  }
}
console.log(`${passed} passed, ${failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}`);
process.exit(failed > 0 || passed === 0 ? 1 : 0);

/** Names a failed test, with the first lines of why. */
function say(file, test, why) {
  const lines = stripVTControlCharacters(why).split('\n').slice(0, LINES).map((line) => `    ${line.slice(0, 500)}`);
  console.log([`failed: ${relative(process.cwd(), file)} > ${test}`, ...lines, ''].join('\n'));
}
