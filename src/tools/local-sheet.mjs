/** The page of the local sheet and its worker. */
import fs from "node:fs";
import path from "node:path";
import { bundle, kept } from "./bundle.mjs";
import { writeNotices } from "./notices.mjs";

const WEB = "src/host/web";
const PAGES = ["index.html", "print.html"];

async function build(outdir) {
  const shared = { outdir, target: "es2022", define: { "process.env.NODE_ENV": '"production"' } };
  // the page loads what few people need only when they need it
  const page = await bundle({
    ...shared,
    entryPoints: [`${WEB}/page.ts`, `${WEB}/print.ts`],
    format: "esm",
    splitting: true,
  });
  const worker = await bundle({ ...shared, entryPoints: [`${WEB}/worker.ts`], format: "iife" });
  for (const name of PAGES) fs.copyFileSync(path.join(WEB, name), path.join(outdir, name));
  const outputs = { ...page.metafile.outputs, ...worker.metafile.outputs };
  writeNotices(outdir, { outputs });
}

/** The folder with the page's files, built where a source changed. */
export function localSheet() {
  return kept("local-sheet", build);
}
