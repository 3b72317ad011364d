/** Takes turns with others like itself over and over, and writes down when it comes and goes. */
import fs from "node:fs";
import path from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { inTurn } from "../../src/cli/turns.mjs";

const [folder, log, rounds, litter] = process.argv.slice(2);
const wait = () => process.stderr.write("waits\n");
for (let round = 0; round < Number(rounds); round++) {
  await inTurn(folder, wait, async () => {
    fs.appendFileSync(log, `enter ${process.pid}\n`);
    // what commands leave that are ended while they draw, wait or work; the number is no process's
    if (litter === "litter") {
      for (const number of [0, 1, round + 1]) {
        fs.writeFileSync(path.join(folder, `${number}.${2 ** 30}.${process.pid}-${round}`), "");
      }
    }
    await pause(round % 3);
    fs.appendFileSync(log, `leave ${process.pid}\n`);
  });
}
