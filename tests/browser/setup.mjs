/** Starts the local sheet once for all browser tests, as a person starts it, and makes sure there is a browser. */
import { spawn } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";

const ROOT = path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..", "..");
/** The first build takes most of it. */
const LONGEST_START_MS = 10 * 60 * 1000;

const BROWSERS = ["/usr/bin/chromium", "/usr/bin/chromium-browser"];

function findBrowser() {
  const found = [process.env.CHROMIUM, ...BROWSERS].find((file) => file && fs.existsSync(file));
  if (found) return found;
  throw new Error(
    [
      "The browser tests need Chromium and found none.",
      "On Debian: apt-get update && apt-get install -y --no-install-recommends chromium",
      "Elsewhere: set the variable CHROMIUM to the program's path.",
    ].join("\n")
  );
}

export default async function setup() {
  process.env.CHROMIUM = findBrowser();
  if (process.env.LOCAL_SHEET_ADDRESS) return;
  const args = [path.join(ROOT, "src", "cli", "run.mjs"), "start", "--port", "0", "--no-open"];
  const server = spawn(process.execPath, args, { cwd: ROOT, stdio: ["ignore", "pipe", "inherit"] });
  globalThis.localSheetServer = server;
  let said = "";
  process.env.LOCAL_SHEET_ADDRESS = await new Promise((resolve, reject) => {
    const timer = setTimeout(() => reject(new Error("npm start did not start")), LONGEST_START_MS);
    server.stdout.on("data", (text) => {
      said += text;
      const address = /http:\/\/127\.0\.0\.1:\d+\//.exec(said)?.[0];
      if (!address) return;
      clearTimeout(timer);
      resolve(address);
    });
    server.once("exit", (code) => reject(new Error(`npm start ended with code ${code}`)));
  });
}
