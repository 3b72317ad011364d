/** The drawings and the sheets to print that the takeoff writes. */
import fs from "node:fs";
import path from "node:path";
import { parseXml, named, textOf, type Node } from "../xml.js";
import { file, type Cells } from "../host/make.js";
import { emptyFolder, removeFolders, run, type Ran } from "./run.js";

jest.setTimeout(120_000);
afterAll(removeFolders);

const ORDER = "SHEATH.HOUSE_ORDER(Walls!A1:E5,Openings!A1:F2,Setup!A1:B2)";

const table = (...rows: (string | number)[][]): Cells =>
  Object.fromEntries(
    rows.flatMap((values, row) =>
      values.map((value, column) => [`${String.fromCharCode(65 + column)}${row + 1}`, value])
    )
  );

/** A shed: two long walls and two short ones, with a door. */
function shed(walls: readonly string[], order = `=${ORDER}`): Readonly<Record<string, Cells>> {
  const lengths = ["6'", "4'", "6'", "4'"];
  const ends = ["past", "flush", "past", "flush"];
  return {
    Setup: table(["Foam", "1-1/4"], ["Panel", "5/8"]),
    Walls: table(
      ["Wall", "Length", "Height", "Left end", "Right end"],
      ...walls.map((name, index) => [
        name,
        lengths[index] as string,
        "8'",
        ends[index] as string,
        ends[index] as string,
      ])
    ),
    Openings: table(
      ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
      [walls[0] as string, "Door", "1'-6\"", 0, "3'", "6'-8\""]
    ),
    Order: { A3: order },
  };
}

const WALLS = ["North", "East", "South", "West"];

async function takeoff(folder: string, sheets: Readonly<Record<string, Cells>>, ...args: string[]) {
  fs.writeFileSync(path.join(folder, "shed.xlsx"), await file(sheets));
  return run("takeoff", ["shed.xlsx", ...args], { from: folder });
}

const drawn = (folder: string): string[] =>
  fs.readdirSync(path.join(folder, "takeoff", "drawings")).filter((name) => !name.startsWith("."));

const walls = (folder: string): string[] =>
  drawn(folder).filter((name) => name.startsWith("wall-"));

describe("the drawings of a takeoff", () => {
  let folder: string;
  let ran: Ran;
  beforeAll(async () => {
    folder = emptyFolder();
    ran = await takeoff(folder, shed(WALLS));
  });

  test("are one SVG a wall and one a panel, and one page to print", () => {
    expect(ran).toMatchObject({ code: 0, err: "" });
    expect(walls(folder)).toEqual([
      "wall-east.svg",
      "wall-north.svg",
      "wall-south.svg",
      "wall-west.svg",
    ]);
    expect(drawn(folder)).toContain("panel-01.svg");
    expect(ran.out).toContain(`Sheets to print:       ${path.join("takeoff", "takeoff.html")}`);
    expect(ran.out).toContain(
      `Drawings:              ${drawn(folder).length} SVG files in ${path.join("takeoff", "drawings")}`
    );
  });

  test("name their wall and stand alone", () => {
    const text = fs.readFileSync(path.join(folder, "takeoff/drawings/wall-north.svg"), "utf8");
    const root = parseXml(text);
    expect(root.name).toBe("svg");
    expect(root.attributes.xmlns).toBe("http://www.w3.org/2000/svg");
    expect(textOf(named(root, "title")[0] as Node)).toContain("North");
    expect(text).not.toMatch(/<script|(?:href|src)="(?!#)/);
  });

  test("the page has every wall, the order and the checks, and fetches nothing", () => {
    const page = fs.readFileSync(path.join(folder, "takeoff", "takeoff.html"), "utf8");
    for (const name of WALLS) expect(page).toContain(`<h1>Wall ${name}</h1>`);
    for (const head of ["Cut sheet", "Order", "Checks"]) expect(page).toContain(`<h1>${head}</h1>`);
    expect(page).toContain('class="paper-letter"');
    expect(page).toContain("engineer of record");
    expect(page).not.toMatch(/<script|<link|(?:href|src)="(?!#)/);
  });

  test("--paper a4 makes the page for A4", async () => {
    const elsewhere = emptyFolder();
    await takeoff(elsewhere, shed(WALLS), "--paper", "A4");
    const page = fs.readFileSync(path.join(elsewhere, "takeoff", "takeoff.html"), "utf8");
    expect(page).toContain('class="paper-a4"');
  });

  test("--json names them", async () => {
    const elsewhere = emptyFolder();
    const { out } = await takeoff(elsewhere, shed(WALLS), "--json");
    const { files } = JSON.parse(out) as { files: { printPage: string; drawings: string[] }[] };
    expect(files[0]?.printPage).toBe(path.join("takeoff", "takeoff.html"));
    expect(files[0]?.drawings).toContain(path.join("takeoff", "drawings", "wall-north.svg"));
    for (const name of files[0]?.drawings ?? []) {
      expect(fs.existsSync(path.join(elsewhere, name))).toBe(true);
    }
  });
});

describe("drawings of an earlier run", () => {
  test("are replaced, and taken away where the house has them no longer", async () => {
    const folder = emptyFolder();
    await takeoff(folder, shed(WALLS));
    await takeoff(folder, shed(["Street", "East", "South", "West"]));
    expect(walls(folder)).toEqual([
      "wall-east.svg",
      "wall-south.svg",
      "wall-street.svg",
      "wall-west.svg",
    ]);
  });

  test("stay where somebody changed them, and so does what never came from here", async () => {
    const folder = emptyFolder();
    await takeoff(folder, shed(WALLS));
    const at = (name: string): string => path.join(folder, "takeoff", "drawings", name);
    fs.appendFileSync(at("wall-north.svg"), "<!-- measured twice -->");
    fs.appendFileSync(at("wall-east.svg"), "<!-- stairs here -->");
    fs.writeFileSync(at("wall-old.svg"), "my own");
    await takeoff(folder, shed(["Street", "East", "South", "West"]));
    expect(walls(folder)).toEqual([
      "wall-east-2.svg",
      "wall-east.svg",
      "wall-north.svg",
      "wall-old.svg",
      "wall-south.svg",
      "wall-street.svg",
      "wall-west.svg",
    ]);
    expect(fs.readFileSync(at("wall-north.svg"), "utf8")).toContain("measured twice");
    expect(fs.readFileSync(at("wall-east.svg"), "utf8")).toContain("stairs here");
    expect(fs.readFileSync(at("wall-old.svg"), "utf8")).toBe("my own");
  });
});

test("a wall's name cannot choose where a drawing goes", async () => {
  const folder = emptyFolder();
  await takeoff(folder, shed(["../../out", "<script>alert(1)</script>", "CON", ".."]));
  expect(walls(folder)).toEqual([
    "wall-con.svg",
    "wall-out.svg",
    "wall-script-alert-1-script.svg",
    "wall-unnamed.svg",
  ]);
  const page = fs.readFileSync(path.join(folder, "takeoff", "takeoff.html"), "utf8");
  expect(page).not.toContain("<script");
});

test.each([
  ["picked from", `=INDEX(${ORDER},0,0)`, 4],
  ["chosen among two houses", `=IF(FALSE,SHEATH.HOUSE_ORDER(A1,A1,A1),${ORDER})`, 4],
])("an order %s is drawn too", async (_how, order, count) => {
  const folder = emptyFolder();
  await takeoff(folder, shed(WALLS, order));
  expect(walls(folder)).toHaveLength(count);
});

test("an order of two houses in one cell says that it is not drawn", async () => {
  const folder = emptyFolder();
  const other = ORDER.replace("E5", "E4");
  const ran = await takeoff(folder, shed(WALLS, `=VSTACK(${ORDER},${other})`));
  expect(ran.out).toContain("There are no drawings: Order!A3 does not take off one house.");
  expect(fs.existsSync(path.join(folder, "takeoff", "drawings"))).toBe(false);
});
