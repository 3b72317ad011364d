#!/usr/bin/env node
/**
 * npx sheathing-functions takeoff FILE.xlsx ... | new-house NAME | compare A.xlsx B.xlsx | formula FORMULA ...
 *
 * The commands of the installed package; bundled so that they need no other package.
 */
import path from "node:path";
import process from "node:process";
import { fileURLToPath } from "node:url";
import { VERSION } from "../core/version.js";
import { main as compare } from "./compare.js";
import { main as formula } from "./formula.js";
import { main as newHouse } from "./new-house.js";
import { main as takeoff } from "./takeoff.js";

const USAGE = `Usage: npx sheathing-functions takeoff [FILE.xlsx ...] [--out DIR] [--prices FILE] [--paper letter|a4]
                                   [--no-drawings] [--workers N] [--json]
       npx sheathing-functions new-house "NAME" [--out DIR] [--from TEMPLATE.xlsx]
       npx sheathing-functions compare EARLIER.xlsx LATER.xlsx [--out FILE.xlsx|FILE.csv] [--json]
       npx sheathing-functions formula [--json] 'FORMULA' ...
       npx sheathing-functions version
`;

const COMMANDS: Readonly<Record<string, (args: readonly string[]) => number | Promise<number>>> = {
  takeoff,
  formula,
  compare,
  "new-house": newHouse,
  version: () => {
    process.stdout.write(`${VERSION}\n`);
    return 0;
  },
};

async function start([name = "", ...args]: readonly string[]): Promise<number> {
  const command = Object.hasOwn(COMMANDS, name) ? COMMANDS[name] : undefined;
  const asked = ["--help", "-h", "help"];
  // the commands' own help names them as they are called in the project
  if (!command || args.some((arg) => arg === "--help" || arg === "-h")) {
    const isHelp = command !== undefined || asked.includes(name);
    (isHelp ? process.stdout : process.stderr).write(USAGE);
    return isHelp ? 0 : 2;
  }
  // Files are named from where the person stands; the demo house lies beside the package.
  process.env.INIT_CWD = process.cwd();
  process.chdir(path.resolve(path.dirname(fileURLToPath(import.meta.url)), "..", ".."));
  return command(args);
}

process.exitCode = await start(process.argv.slice(2));
