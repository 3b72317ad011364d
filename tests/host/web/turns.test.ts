import fs from "node:fs";
import path from "node:path";
import { inTurn } from "../../../src/host/web/turns.js";
import { emptyFolder, removeFolders } from "../../cli/run.js";

afterAll(removeFolders);

const later = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 30));

test("two at once take turns, and the lock is gone afterwards", async () => {
  const lock = path.join(emptyFolder(), "inside", "lock");
  const seen: string[] = [];
  let waited = 0;
  const turn = (name: string): Promise<void> =>
    inTurn(
      lock,
      () => waited++,
      async () => {
        seen.push(`${name} starts`);
        await later();
        seen.push(`${name} ends`);
      }
    );
  await Promise.all([turn("a"), turn("b")]);
  expect(seen).toEqual(["a starts", "a ends", "b starts", "b ends"]);
  expect(waited).toBe(1);
  expect(fs.existsSync(lock)).toBe(false);
});

test("work that fails leaves no lock", async () => {
  const lock = path.join(emptyFolder(), "lock");
  const failing = inTurn(lock, fail, () => Promise.reject(new Error("broken")));
  await expect(failing).rejects.toThrow("broken");
  expect(fs.existsSync(lock)).toBe(false);
});

test("a lock whose command is gone is taken over", async () => {
  const lock = path.join(emptyFolder(), "lock");
  // larger than any process number a system gives out
  fs.writeFileSync(lock, String(2 ** 30));
  await expect(inTurn(lock, fail, () => Promise.resolve(1))).resolves.toBe(1);
});

function fail(): never {
  throw new Error("there is nobody to wait for");
}
