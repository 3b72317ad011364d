/** The add-in as a static folder for any https host: scripts, pane, help, icons, metadata and manifest. */
import fs from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { promisify } from "node:util";
import { VERSION } from "../core/version.ts";
import { worksheetFunctions } from "../worksheet/registry.ts";
import { tellSize } from "./bundle.mjs";
import { hostMetadata } from "./host-metadata.ts";
import { writeHelp } from "./help-pages.mjs";
import { writeIcons } from "./icons.mjs";
import { manifestFaults } from "./manifest-check.ts";
import { writeNotices } from "./notices.mjs";

export const ADDIN = path.join("dist", "addin");
export const LOCAL_BASE = "https://localhost:3000";
/** Address the host's maker serves its script from. */
const HOST_SCRIPT = "https://appsforoffice.microsoft.com/lib/1/hosted/office.js";
const OWN_FOLDER = "host-script";
/** The same script as a package: under its maker's own terms, not under the project's license. */
const HOST_PACKAGE = "src/tools/host-script/node_modules/@microsoft/office-js";
const HOST_TERMS = "LICENSE.md";
/** Files the host's script asks for beside itself on desktop, on the web and on the Mac. */
const OWN_FILES = [
  "office.js",
  "o15apptofilemappingtable.js",
  "excel-win32-16.01.js",
  "excel-web-16.00.js",
  "excel-mac-16.00.js",
];
const STRINGS = "office_strings.js";

/**
 * The host's script and what it asks for, unchanged, with its license, for a company that has to serve it itself.
 * Returns the line that says whose terms hold.
 */
function copyHostScript() {
  const target = path.join(ADDIN, OWN_FOLDER);
  const scripts = path.join(HOST_PACKAGE, "dist");
  fs.mkdirSync(target, { recursive: true });
  for (const name of OWN_FILES) {
    fs.copyFileSync(path.join(scripts, name), path.join(target, name));
  }
  for (const locale of fs.readdirSync(scripts)) {
    const strings = path.join(scripts, locale, STRINGS);
    if (!fs.existsSync(strings)) continue;
    fs.mkdirSync(path.join(target, locale), { recursive: true });
    fs.copyFileSync(strings, path.join(target, locale, STRINGS));
  }
  fs.copyFileSync(path.join(HOST_PACKAGE, HOST_TERMS), path.join(target, HOST_TERMS));
  const { name, version } = JSON.parse(
    fs.readFileSync(path.join(HOST_PACKAGE, "package.json"), "utf8")
  );
  const terms = `The scripts in ${OWN_FOLDER}/ are ${name} ${version}, unchanged, under their maker's terms in ${OWN_FOLDER}/${HOST_TERMS}, not under this project's license. Whoever serves this folder has to keep those terms.`;
  fs.writeFileSync(path.join(target, "TERMS.txt"), `${terms}\n`);
  return terms;
}

function hostScriptTag(isOwn) {
  const address = isOwn ? `${OWN_FOLDER}/office.js` : HOST_SCRIPT;
  return `<script src="${address}"></script>`;
}

export function helpPage(id) {
  return `help/functions/${id.toLowerCase().replaceAll("_", "-")}.html`;
}

/** Width and height of a PNG file. */
function pictureSize(file) {
  const bytes = fs.readFileSync(file);
  return [bytes.readUInt32BE(16), bytes.readUInt32BE(20)];
}

/** The built folder, as the manifest's checker asks about it. */
export function builtFolder(base, folder = ADDIN) {
  const has = (name) => fs.statSync(path.join(folder, name), { throwIfNoEntry: false })?.size > 0;
  return {
    base,
    has,
    pictureSize: (name) => (has(name) ? pictureSize(path.join(folder, name)) : undefined),
  };
}

function checkedBase(text) {
  const base = text.replace(/\/+$/, "");
  let address;
  try {
    address = new URL(base);
  } catch {
    throw new Error(
      `--base needs an address such as https://intranet.example/sheathing; got ${text}`
    );
  }
  if (address.protocol !== "https:")
    throw new Error(`--base must start with https://; got ${text}`);
  if (address.search || address.hash) throw new Error(`--base must end in a folder; got ${text}`);
  return base;
}

/** The functions as one small script, and the pane, as webpack.config.js says. */
async function bundleScripts() {
  const { default: webpack } = await import("webpack");
  const { default: config } = await import(pathToFileURL(path.resolve("webpack.config.js")).href);
  const made = await promisify(webpack)(config);
  const { errors, modules } = made.toJson({
    all: false,
    errors: true,
    modules: true,
    nestedModules: true,
    modulesSpace: Infinity,
  });
  if (errors.length > 0) throw new Error(errors.map((each) => each.message).join("\n"));
  const files = modules.flatMap((each) => [each, ...(each.modules ?? [])]);
  const packages = files.filter(({ name }) => name?.startsWith("./node_modules/"));
  writeNotices(
    ADDIN,
    { outputs: {} },
    packages.map(({ name }) => path.posix.normalize(name))
  );
}

/**
 * Builds the folder and checks its manifest.
 *
 * @param options.base   address the folder will have
 * @param options.script whose copy of the host's script: "host", from its maker, if left out; "own", beside the pane
 */
export async function buildAddin({ base: given, script }) {
  const base = checkedBase(given ?? LOCAL_BASE);
  const isOwn = script === "own";
  fs.rmSync(ADDIN, { recursive: true, force: true });
  await bundleScripts();
  const page = fs.readFileSync("src/addin/taskpane.html", "utf8");
  fs.writeFileSync(
    path.join(ADDIN, "taskpane.html"),
    page.replace("<!-- host script -->", hostScriptTag(isOwn))
  );
  writeIcons(path.join(ADDIN, "icons"));
  writeHelp("docs", path.join(ADDIN, "help"));
  const metadata = hostMetadata((id) => `${base}/${helpPage(id)}`);
  fs.writeFileSync(path.join(ADDIN, "functions.json"), `${JSON.stringify(metadata, null, 2)}\n`);
  const xml = fs
    .readFileSync("manifest/manifest.xml", "utf8")
    .replace(/<!--.*?-->\n/s, "")
    .replaceAll("{base}", base)
    .replaceAll("{version}", `${VERSION}.0`);
  fs.writeFileSync(path.join(ADDIN, "manifest.xml"), xml);
  const faults = manifestFaults(xml, metadata, worksheetFunctions, builtFolder(base));
  if (faults.length > 0) throw new Error(`The manifest is wrong:\n${faults.join("\n")}`);
  tellSize("functions, which cells wait for", path.join(ADDIN, "functions.js"));
  tellSize("pane", path.join(ADDIN, "taskpane.js"));
  console.log(
    `add-in for ${base}: ${ADDIN}, with the host's script ${isOwn ? "beside the pane" : "from its maker's address"}`
  );
  if (isOwn) console.log(copyHostScript());
}
