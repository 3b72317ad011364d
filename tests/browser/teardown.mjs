export default async function teardown() {
  const server = globalThis.localSheetServer;
  if (!server || server.exitCode !== null) return;
  const ended = new Promise((resolve) => server.once("exit", resolve));
  server.kill("SIGTERM");
  await ended;
}
