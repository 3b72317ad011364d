/** Writes the same files into a folder over and over, for the tests that end it in the middle. */
import { pathToFileURL } from "node:url";

const [filesModule, folder, rounds] = process.argv.slice(2);
const { OutputFolder } = await import(pathToFileURL(filesModule).href);
process.stdout.write("begins\n");
for (let round = 0; round < Number(rounds); round++) {
  const output = new OutputFolder(folder);
  for (let number = 0; number < 8; number++) {
    // another content each round; the last line says that the file is whole
    const line = `${number} ${round} `.padEnd(64, "x");
    output.write(`file ${number}.csv`, `${`${line}\n`.repeat(4000)}end\n`);
  }
  process.stdout.write(`${round}\n`);
}
