/** The built add-in: its manifest, metadata, icons and help fit together, and faults put in on purpose are found. */
import { execFileSync } from "node:child_process";
import fs from "node:fs";
import path from "node:path";
import { worksheetFunctions } from "../../src/worksheet/registry.js";
import {
  type BuiltFolder,
  type FunctionMetadata,
  manifestFaults,
  storedName,
} from "../../src/tools/manifest-check.js";

const ROOT = path.resolve(__dirname, "..", "..");
const FOLDER = path.join(ROOT, "dist", "addin");
const BASE = "https://localhost:3000";
const LONG = 5 * 60 * 1000;

let xml: string;
let metadata: FunctionMetadata;

function file(name: string): string {
  return path.join(FOLDER, name);
}

function sizeOf(name: string): readonly [number, number] | undefined {
  if (!fs.existsSync(file(name))) return undefined;
  const bytes = fs.readFileSync(file(name));
  return [bytes.readUInt32BE(16), bytes.readUInt32BE(20)];
}

const folder: BuiltFolder = {
  base: BASE,
  has: (name) => (fs.statSync(file(name), { throwIfNoEntry: false })?.size ?? 0) > 0,
  pictureSize: sizeOf,
};

/** Builds the folder as the command does; what it said, or what it said went wrong. */
function build(...args: string[]): string {
  try {
    return execFileSync(process.execPath, ["src/cli/run.mjs", "build", "addin", ...args], {
      cwd: ROOT,
      encoding: "utf8",
      stdio: "pipe",
    });
  } catch (error) {
    return (error as { stderr: string }).stderr;
  }
}

beforeAll(() => {
  expect(build()).toMatch(/from its maker's address/);
  xml = fs.readFileSync(file("manifest.xml"), "utf8");
  metadata = JSON.parse(fs.readFileSync(file("functions.json"), "utf8")) as FunctionMetadata;
}, LONG);

/** The metadata with one function changed. */
function changed(
  id: string,
  change: (each: FunctionMetadata["functions"][number]) => FunctionMetadata["functions"][number]
): FunctionMetadata {
  return { functions: metadata.functions.map((each) => (each.id === id ? change(each) : each)) };
}

/** Faults put into the manifest, and what is said about each. */
const MANIFEST_FAULTS: readonly (readonly [string, (xml: string) => string, RegExp])[] = [
  [
    "an address without https",
    (x) => x.replace(`${BASE}/taskpane.html`, "http://localhost:3000/taskpane.html"),
    /not https/,
  ],
  [
    "an address that was not filled in",
    (x) => x.replace(`${BASE}/functions.js"`, '{base}/functions.js"'),
    /not filled in/,
  ],
  [
    "an address elsewhere",
    (x) => x.replace(`${BASE}/functions.json`, "https://elsewhere.example/functions.json"),
    /not below/,
  ],
  ["a file that is not there", (x) => x.replace("/functions.json", "/function.json"), /no file/],
  ["an icon that is not there", (x) => x.replace("icon-80.png", "icon-81.png"), /no file/],
  ["an icon of the wrong size", (x) => x.replace("icon-80.png", "icon-64.png"), /must be 80 x 80/],
  [
    "a resource nobody has",
    (x) => x.replace('Namespace resid="Functions.Namespace"', 'Namespace resid="Functions.Space"'),
    /there is none/,
  ],
  [
    "a resource that stands twice",
    (x) => x.replace('String id="Group.Label"', 'String id="ShowPane.Label"'),
    /stands twice/,
  ],
  [
    "a resource id that is too long",
    (x) => x.replaceAll("ShowPane.Tip", "ShowPane.TheTipThatIsShownAboveTheButton"),
    /over 32/,
  ],
  [
    "a description that is too long",
    (x) => x.replace(/(<Description DefaultValue=")[^"]*/, `$1${"a".repeat(251)}`),
    /over 250/,
  ],
  [
    "a label that is too long",
    (x) => x.replace(/(id="Group.Label" DefaultValue=")[^"]*/, `$1${"a".repeat(126)}`),
    /over 125/,
  ],
  [
    "elements in the wrong order",
    (x) => x.replace(/(<Runtimes>[\s\S]*<\/Runtimes>)([\s\S]*<\/DesktopFormFactor>)/, "$2$1"),
    /too late/,
  ],
  [
    "functions on another page than the pane",
    (x) =>
      x.replace(
        '<Page>\n              <SourceLocation resid="Taskpane.Url"/>',
        '<Page>\n              <SourceLocation resid="Functions.Script.Url"/>'
      ),
    /same resource as Runtime/,
  ],
  [
    "a runtime that ends with the pane",
    (x) => x.replace('lifetime="long"', 'lifetime="short"'),
    /live long/,
  ],
  ["an id that is no GUID", (x) => x.replace(/<Id>[^<]*/, "<Id>sheathing"), /no GUID/],
  ["a version that is none", (x) => x.replace(/<Version>[^<]*/, "<Version>1.0-beta"), /no version/],
  ["a missing element", (x) => x.replace(/<SupportUrl[^>]*>/, ""), /SupportUrl is missing/],
  [
    "an older runtime asked for",
    (x) =>
      x.replace(
        'Name="CustomFunctionsRuntime" MinVersion="1.3"',
        'Name="CustomFunctionsRuntime" MinVersion="1.1"'
      ),
    /CustomFunctionsRuntime 1.3/,
  ],
  [
    "more permission than needed",
    (x) => x.replace("ReadWriteDocument", "ReadWriteMailbox"),
    /Permissions/,
  ],
  [
    "a namespace with a dot",
    (x) => x.replace('DefaultValue="SHEATH"', 'DefaultValue="SHEATH.A"'),
    /namespace/,
  ],
  ["a tag that is not closed", (x) => x.replace("</Resources>", ""), /not XML/],
];

/** Faults put into the metadata. */
const METADATA_FAULTS: readonly (readonly [string, () => FunctionMetadata, RegExp])[] = [
  [
    "a function nobody answers",
    () => ({
      functions: [
        ...metadata.functions,
        { ...(metadata.functions[0] as never as object), id: "LOST", name: "LOST" } as never,
      ],
    }),
    /no function answers/,
  ],
  [
    "a function left out",
    () => ({ functions: metadata.functions.slice(1) }),
    /not in the metadata/,
  ],
  [
    "two names that are one on the disk",
    () => ({
      functions: [
        ...metadata.functions,
        {
          ...(metadata.functions[0] as never as object),
          id: "FEET.INCHES",
          name: "FEET.INCHES",
        } as never,
      ],
    }),
    /both _XLDUDF_SHEATH_FEET_INCHES/,
  ],
  [
    "a name that reads as a cell",
    () => changed("INCHES", (each) => ({ ...each, id: "ABC123", name: "ABC123" })),
    /reads as something else/,
  ],
  [
    "an argument left out",
    () =>
      changed("CORNER_OFFSET", (each) => ({ ...each, parameters: each.parameters.slice(0, 2) })),
    /takes \(foam, panel, turn\?\); the metadata says \(foam, panel\)/,
  ],
  [
    "an argument by another name",
    () =>
      changed("CORNER_OFFSET", (each) => ({
        ...each,
        parameters: each.parameters.map((one) => ({
          ...one,
          name: one.name.replace("turn", "angle"),
        })),
      })),
    /takes \(foam, panel, turn\?\)/,
  ],
  [
    "a needed argument after one that may be left out",
    () =>
      changed("CORNER_OFFSET", (each) => ({
        ...each,
        parameters: each.parameters.map((one, index) => ({ ...one, optional: index === 1 })),
      })),
    /needed but follows/,
  ],
  [
    "a table said to be one value",
    () => changed("STUD_MARKS", (each) => ({ ...each, result: {} })),
    /answer's shape/,
  ],
  [
    "a help page that is not there",
    () => changed("INCHES", (each) => ({ ...each, helpUrl: `${BASE}/help/functions/inch.html` })),
    /no help page/,
  ],
  [
    "an argument without help",
    () => changed("INCHES", (each) => ({ ...each, parameters: [{ name: "length" }] })),
    /length has no help text/,
  ],
];

describe("the built manifest", () => {
  test("is without a fault, and so is what it names", () => {
    expect(manifestFaults(xml, metadata, worksheetFunctions, folder)).toEqual([]);
  });

  test.each(MANIFEST_FAULTS)("%s is found", (_name, spoil, says) => {
    const spoiled = spoil(xml);
    expect(spoiled).not.toBe(xml);
    expect(manifestFaults(spoiled, metadata, worksheetFunctions, folder).join("\n")).toMatch(says);
  });

  test.each(METADATA_FAULTS)("%s is found", (_name, spoil, says) => {
    expect(manifestFaults(xml, spoil(), worksheetFunctions, folder).join("\n")).toMatch(says);
  });

  test("names on the disk are those the sample workbooks are written with", () => {
    expect(storedName("SHEATH", "CORNER_OFFSET")).toBe("_XLDUDF_SHEATH_CORNER_OFFSET");
  });

  test("has its icons in every size the host asks for, each a picture of that size", () => {
    for (const size of [16, 20, 24, 32, 40, 48, 64, 80]) {
      expect(sizeOf(`icons/icon-${size}.png`)).toEqual([size, size]);
      expect(
        fs
          .readFileSync(file(`icons/icon-${size}.png`))
          .subarray(1, 4)
          .toString()
      ).toBe("PNG");
    }
  });
});

function scriptsOf(page: string): (string | undefined)[] {
  return [...page.matchAll(/<script([^>]*)>/g)].map(([, attributes]) => attributes?.trim());
}

describe("the built folder", () => {
  test("holds no file that is under another's terms", () => {
    expect(fs.existsSync(file("host-script"))).toBe(false);
  });

  test("keeps the script that cells wait for small, and the pane's code out of it", () => {
    const functions = fs.readFileSync(file("functions.js"), "utf8");
    expect(functions.length).toBeLessThan(200_000);
    expect(functions).not.toMatch(/document\.|createElement|window\./);
  });

  test("runs its scripts as classic ones, the functions' first, and asks only the host's maker for one", () => {
    const page = fs.readFileSync(file("taskpane.html"), "utf8");
    expect(scriptsOf(page)).toEqual([
      'src="https://appsforoffice.microsoft.com/lib/1/hosted/office.js"',
      'src="functions.js"',
      'src="taskpane.js"',
    ]);
    expect(page.match(/https?:\/\//g)).toHaveLength(1);
    for (const name of ["functions.js", "taskpane.js", "taskpane.css"]) {
      const text = fs.readFileSync(file(name), "utf8").replaceAll("http://www.w3.org/", "");
      expect([name, /https?:\/\/(?!localhost)[a-z]/.exec(text)?.[0]]).toEqual([name, undefined]);
    }
  });

  test("every link of the help pages leads to a page of the folder", () => {
    const pages = fs
      .readdirSync(file("help"), { recursive: true, encoding: "utf8" })
      .filter((name) => name.endsWith(".html"));
    expect(pages.length).toBeGreaterThan(45);
    let links = 0;
    for (const name of pages) {
      const text = fs.readFileSync(file(`help/${name}`), "utf8");
      expect([
        name,
        /\]\(|\*\*|^\|/m.exec(text.replace(/<(code|pre)[\s\S]*?<\/\1>/g, ""))?.[0],
      ]).toEqual([name, undefined]);
      for (const [, target = ""] of text.matchAll(/(?:href|src)="([^"#]+)/g)) {
        if (/^[a-z]+:/.test(target)) continue;
        const to = path.resolve(path.dirname(file(`help/${name}`)), target);
        expect([name, target, fs.existsSync(to)]).toEqual([name, target, true]);
        links++;
      }
    }
    expect(links).toBeGreaterThan(100);
  });

  test(
    "takes any https address, and no other",
    () => {
      expect(build("--base", "http://server.example/a")).toMatch(/must start with https/);
      expect(build("--base", "server")).toMatch(/needs an address/);
      expect(build("--host-script", "none")).toMatch(/Usage/);
    },
    LONG
  );
});

describe("with a copy of the host's script, which has to be asked for", () => {
  const own = path.join(ROOT, "src/tools/host-script/node_modules/@microsoft/office-js");
  let said: string;
  beforeAll(() => void (said = build("--host-script", "own")), LONG);
  afterAll(() => void build(), LONG);

  test("the page asks nobody else for anything", () => {
    const page = fs.readFileSync(file("taskpane.html"), "utf8");
    expect(scriptsOf(page)[0]).toBe('src="host-script/office.js"');
    expect(page).not.toMatch(/https?:\/\//);
  });

  test("the copy is unchanged, has its license beside it, and the command says whose terms hold", () => {
    const same = (copy: string, original: string): boolean =>
      fs
        .readFileSync(file(`host-script/${copy}`))
        .equals(fs.readFileSync(path.join(own, original)));
    expect(same("LICENSE.md", "LICENSE.md")).toBe(true);
    expect(same("office.js", "dist/office.js")).toBe(true);
    const terms = fs.readFileSync(file("host-script/TERMS.txt"), "utf8").trim();
    expect(terms).toMatch(/under their maker's terms in host-script\/LICENSE.md, not under this/);
    expect(said).toContain(terms);
  });
});
