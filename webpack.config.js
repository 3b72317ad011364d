/**
 * Every bundle of the project, by name:
 *
 *   npx webpack                      all of them
 *   npx webpack --config-name addin  one of them
 *
 * They land in dist/. `npm run build` makes the same bundles and puts beside them what is handed out with them: the
 * add-in's manifest, page, icons and help, the library's types and notices. `npm start` builds the local sheet.
 */
import addin from "./src/tools/webpack/addin.mjs";
import library from "./src/tools/webpack/library.mjs";
import localSheet from "./src/tools/webpack/local-sheet.mjs";
import scriptHost from "./src/tools/webpack/script-host.mjs";

/** What each part hands to webpack: one configuration, or a list where its bundles run in different places. */
export const targets = { addin, library, "script-host": scriptHost, "local-sheet": localSheet };

export default async function everything() {
  const made = await Promise.all(Object.values(targets).map((target) => target()));
  return made.flat();
}
