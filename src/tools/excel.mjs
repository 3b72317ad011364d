/**
 * npm run excel: builds the add-in for this machine, serves it and starts the spreadsheet with it.
 *
 * The tools that make the certificate and start the spreadsheet bring some 600 packages, so they have a folder and a
 * lock file of their own and are installed for this command only.
 */
import { spawn, spawnSync } from "node:child_process";
import https from "node:https";
import { createRequire } from "node:module";
import path from "node:path";
import process from "node:process";
import { ADDIN, LOCAL_BASE, buildAddin } from "./build-addin.mjs";
import { answerWith } from "./serve-addin.mjs";

const require = createRequire(path.resolve("src/tools/excel/package.json"));
const PORT = Number(new URL(LOCAL_BASE).port);
const MANIFEST = path.join(ADDIN, "manifest.xml");

const BY_HAND = `By hand: load ${path.join("dist", "addin", "manifest.xml")} into the web version of the spreadsheet with
Home > Add-ins > More add-ins > My add-ins > Upload my add-in, while the folder is served on ${LOCAL_BASE}.
docs/install.md has the other ways.
`;

/** Why nothing is served, in words. */
class Obstacle extends Error {}

/** A certificate this machine trusts; the tool asks the person once. */
async function certificate() {
  // the tool tells its maker how it is used unless it is told not to, and that before anything else
  spawnSync(process.execPath, [require.resolve("office-addin-usage-data/cli.js"), "off"]);
  try {
    return await require("office-addin-dev-certs").getHttpsServerOptions();
  } catch (error) {
    throw new Obstacle(
      `No certificate for ${LOCAL_BASE} could be made or trusted, so nothing is served or started:
${firstLine(error)}`
    );
  }
}

function firstLine(error) {
  return String(error?.message ?? error)
    .split("\n")
    .map((line) => line.trim())
    .find((line) => line !== "");
}

function serve(options) {
  return new Promise((resolve, reject) => {
    const server = https.createServer(options, answerWith(ADDIN, new URL(LOCAL_BASE).host));
    server.once("error", (error) =>
      reject(
        new Obstacle(
          error.code === "EADDRINUSE"
            ? `Port ${PORT} is taken, so nothing is served: another npm run excel may still run. End it and try again.`
            : `${LOCAL_BASE} cannot be served (${firstLine(error)}).`
        )
      )
    );
    // only this machine
    server.listen(PORT, "localhost", () => resolve(server));
  });
}

export async function main() {
  await buildAddin({});
  let server;
  try {
    server = await serve(await certificate());
  } catch (error) {
    if (!(error instanceof Obstacle)) throw error;
    console.error(`${error.message}\n${BY_HAND}`);
    return 1;
  }
  console.log(`Serving ${path.relative(process.cwd(), ADDIN)} on ${LOCAL_BASE}; Ctrl+C ends it.`);
  if (process.platform === "win32" || process.platform === "darwin") {
    const start = require.resolve("office-addin-debugging/cli.js");
    const args = [start, "start", MANIFEST, "desktop", "--app", "excel", "--no-debug"];
    const child = spawn(process.execPath, args, { stdio: "inherit" });
    child.once("exit", (code) => {
      if (code !== 0) console.error(`The spreadsheet could not be started. ${BY_HAND}`);
    });
  } else console.log(`There is no desktop spreadsheet to start on this system. ${BY_HAND}`);
  await new Promise((resolve) => {
    for (const signal of ["SIGINT", "SIGTERM"]) process.once(signal, resolve);
  });
  server.close();
  server.closeAllConnections();
  return 0;
}
