/** Files of the repository, as a fresh clone has them. */
import { readFileSync, readdirSync, statSync } from "node:fs";
import { join, relative } from "node:path";

export const ROOT = join(__dirname, "../..");
/** what a clone does not have, or what is not ours */
const NOT_OURS = new Set(["node_modules", ".git", "build", "dist", "coverage", "takeoff"]);

/** Paths from the top of the repo, with forward slashes. */
export function filesUnder(folder: string, ending = ""): string[] {
  const visit = (path: string): string[] =>
    readdirSync(path).flatMap((name) => {
      const full = join(path, name);
      if (NOT_OURS.has(name)) return [];
      return statSync(full).isDirectory() ? visit(full) : [full];
    });
  return visit(join(ROOT, folder))
    .map((path) => relative(ROOT, path).replaceAll("\\", "/"))
    .filter((path) => path.endsWith(ending))
    .sort();
}

export function textOf(path: string): string {
  return readFileSync(join(ROOT, path), "utf8");
}
