/**
 * A disk that fails, on any machine and for any user: calls that change something below a folder throw what the system
 * would throw. Loaded before a command it does what FAILING_WRITES says.
 */
import fs from "node:fs";
import path from "node:path";
import process from "node:process";

/** Calls that change a disk, and which of their arguments are paths. */
const CHANGING = {
  mkdirSync: [0],
  writeFileSync: [0],
  appendFileSync: [0],
  copyFileSync: [1],
  renameSync: [0, 1],
  linkSync: [1],
  symlinkSync: [1],
  truncateSync: [0],
  rmSync: [0],
  unlinkSync: [0],
};
const WRITING = new Set(["writeFileSync", "appendFileSync", "copyFileSync"]);
const REMOVING = new Set(["rmSync", "unlinkSync"]);

function trouble(code, call, file) {
  return Object.assign(new Error(`${code}: made up, ${call} '${file}'`), { code, syscall: call });
}

/**
 * @param folder where the disk begins
 * @param code   what the system answers, such as ENOSPC
 * @param room   bytes that still fit on the disk, or into one file where it is EFBIG; what does not fit is cut off
 * @param after  calls that still work; without it and without room none does
 * @param only   names of the calls that fail; without it all of them
 * @returns what counts the calls and takes the disk back
 */
export function failWrites({ folder, code, room, after = 0, only }) {
  const isBelow = (file) => {
    const below = path.relative(folder, path.resolve(String(file)));
    return below.split(path.sep)[0] !== ".." && !path.isAbsolute(below);
  };
  const real = Object.fromEntries(Object.keys(CHANGING).map((name) => [name, fs[name]]));
  let calls = 0;
  let left = room ?? 0;
  for (const [name, places] of Object.entries(CHANGING)) {
    fs[name] = (...args) => {
      const file = places.map((at) => args[at]).find(isBelow);
      if (file === undefined || (only && !only.includes(name))) return real[name](...args);
      // a folder that is there already takes no writing
      if (name === "mkdirSync" && fs.existsSync(file)) return real[name](...args);
      calls++;
      if (room === undefined) {
        if (calls <= after) return real[name](...args);
        // a call that is broken off in the middle has begun
        if (name === "writeFileSync" && after > 0) {
          real.writeFileSync(args[0], Buffer.from(args[1]).subarray(0, 10), args[2]);
        }
        throw trouble(code, name, file);
      }
      // a full disk takes nothing more, and gives room again only where something goes
      if (REMOVING.has(name) || !WRITING.has(name)) return real[name](...args);
      const bytes = Buffer.from(name === "copyFileSync" ? fs.readFileSync(args[0]) : args[1]);
      const fits = code === "EFBIG" ? Math.min(room, bytes.length) : Math.min(left, bytes.length);
      left -= fits;
      if (fits === bytes.length) return real[name](...args);
      if (name === "writeFileSync") real.writeFileSync(args[0], bytes.subarray(0, fits), args[2]);
      throw trouble(code, name, file);
    };
  }
  return { calls: () => calls, restore: () => Object.assign(fs, real) };
}

if (process.env.FAILING_WRITES) failWrites(JSON.parse(process.env.FAILING_WRITES));
