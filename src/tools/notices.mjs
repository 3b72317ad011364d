/** The notices of packages whose code is inside a bundle, and of those whose code is inside those packages. */
import fs from "node:fs";
import path from "node:path";

const NOTICE = /^(?:licen[cs]e|notice|copying|third[-_ ]?party)/i;
const MODULES = "node_modules/";

/** Folder of the package a file belongs to; undefined where the file is ours. */
function packageOf(file) {
  const at = file.lastIndexOf(MODULES);
  if (at < 0) return undefined;
  const [first, second] = file.slice(at + MODULES.length).split("/");
  return (
    file.slice(0, at + MODULES.length) + (first.startsWith("@") ? `${first}/${second}` : first)
  );
}

/** A package without a text of its own: what its package.json says. */
function namedLicense({ license, author }) {
  if (!license) return undefined;
  const who = typeof author === "object" ? author.name : author;
  return `License: ${license}, as its package says, which brings no text.${who ? ` Author: ${who}` : ""}`;
}

/**
 * Writes third-party-notices.txt into a folder, where a bundle holds code of other packages.
 * @param metafile what the bundler says of its bundles
 * @param copied   files of packages that lie beside the bundles as they are
 */
export function writeNotices(target, metafile, copied = []) {
  const bundled = Object.values(metafile.outputs).flatMap(({ inputs }) =>
    Object.keys(inputs).filter((file) => inputs[file].bytesInOutput > 0)
  );
  const packages = [...new Set([...bundled, ...copied].map(packageOf))];
  const texts = packages
    .filter((folder) => folder !== undefined)
    .sort()
    .map((folder) => {
      const about = JSON.parse(fs.readFileSync(path.join(folder, "package.json"), "utf8"));
      const words = fs
        .readdirSync(folder)
        .filter((each) => NOTICE.test(each))
        .map((each) => fs.readFileSync(path.join(folder, each), "utf8").trim());
      if (words.length === 0) words.push(namedLicense(about));
      if (!words[0]) throw new Error(`${about.name} has no license to hand on`);
      return [`${about.name} ${about.version}`, ...words].join("\n\n");
    });
  if (texts.length === 0) return;
  const text = texts.join(`\n\n${"-".repeat(72)}\n\n`);
  fs.writeFileSync(path.join(target, "third-party-notices.txt"), `${text}\n`);
}
