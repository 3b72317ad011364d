/** Takes turns with others like itself over and over, and writes down when it comes and goes. */
import fs from "node:fs";
import { setTimeout as pause } from "node:timers/promises";
import { inTurn } from "../../src/cli/turns.mjs";

const [file, log, rounds] = process.argv.slice(2);
const wait = () => process.stderr.write("waits\n");
for (let round = 0; round < Number(rounds); round++) {
  await inTurn(file, wait, async () => {
    fs.appendFileSync(log, `enter ${process.pid}\n`);
    await pause(round % 3);
    fs.appendFileSync(log, `leave ${process.pid}\n`);
  });
}
