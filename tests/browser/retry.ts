// A real browser on a busy machine may miss a moment: a test that fails is tried once more, and the first
// failure is shown all the same.
jest.retryTimes(1, { logErrorsBeforeRetry: true });
