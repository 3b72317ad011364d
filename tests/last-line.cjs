/** The last line of a test run: how many passed and failed, and how many were skipped where any were. */
module.exports = class {
  onRunComplete(_tests, results) {
    // a test file that does not start counts as one failure
    const failed = results.numFailedTests + results.numRuntimeErrorTestSuites;
    const skipped = results.numPendingTests + results.numTodoTests;
    const tail = skipped > 0 ? `, ${skipped} skipped` : "";
    process.stdout.write(`${results.numPassedTests} passed, ${failed} failed${tail}\n`);
  }
};
