import { ASSEMBLY } from "../assembly.js";
import { ALL_CAUTIONS } from "../../src/core/cautions.js";
import { houseFindings } from "../../src/core/house/checks.js";
import { takeoffHouse } from "../../src/core/house/takeoff.js";
import type { Table } from "../../src/core/house/tables.js";
import { type Paper, fileSlug, printableHtml, takeoffFiles } from "../../src/pane/print/index.js";
import { wallGroups } from "../../src/pane/drawings/index.js";
import { OPENINGS, SETTINGS, WALLS, demoHouse } from "./house.js";
import { classed } from "./shapes.js";
import { type Node, all, named, parseXml, textOf } from "../xml.js";

/** Reads the page as XML: everything in it is well formed but for HTML's own void elements. */
function parsePage(html: string): Node {
  return parseXml(
    html
      .replace("<!doctype html>", "")
      .replace(/<meta ([^>]*)>/g, "<meta $1/>")
      .replace(/<style>[^]*?<\/style>/, "<style/>")
  );
}

const FINDINGS = houseFindings(takeoffHouse(WALLS, OPENINGS, SETTINGS));
const PAGE = printableHtml(demoHouse(), { title: "Corner house", findings: FINDINGS });
const ROOT = parsePage(PAGE);

describe("the printable page", () => {
  test("has a crew sheet for every wall, with its burn in words and its marks", () => {
    const sheets = classed(ROOT, "crew");
    const firsts = sheets.filter((sheet) => classed(sheet, "first-step").length === 1);
    const groups = wallGroups(demoHouse());
    expect(firsts).toHaveLength(groups.length);
    const marks = sheets.flatMap((sheet) =>
      classed(sheet, "marks").filter((node) => node.name === "ol")
    );
    expect(marks).toHaveLength(groups.length);
    marks.forEach((list, index) => {
      expect(list.children).toHaveLength(groups[index]?.takeoff.cut.studs.length as number);
    });
    const west = firsts.find((sheet) =>
      /^Wall West/.test(textOf(named(sheet, "h1")[0] as Node).trim())
    );
    expect(textOf(classed(west as Node, "first-step")[0] as Node)).toContain(
      "at the right end: hold the tape with 1-7/8 at the right framing corner"
    );
  });

  test("tells backing, openings with the router bit, nails and cautions on the crew sheets", () => {
    const court = classed(ROOT, "crew").find((sheet) => textOf(sheet).includes("Wall Court north"));
    const words = textOf(court as Node);
    expect(words).toContain("Backing at the right end: 1 stud beside the end stud");
    expect(words).toContain("Router bit: at least 2-1/8 in of cutting length");
    expect(words).toMatch(
      /Nails 3-1\/2 x 0\.131 in \(at least 3-3\/8 long\): 6 in at edges, 12 in/
    );
    expect(words).toContain("come from the engineer of record and the local code");
  });

  test("draws every panel and every scrap once, six to a page or as many as asked for", () => {
    const sheets = demoHouse().plan.sheets.length;
    for (const perPage of [1, 2, 3, 4, 5, 6]) {
      const root = parsePage(
        printableHtml(demoHouse(), { panelsPerPage: perPage, parts: ["cuts"] })
      );
      expect(classed(root, "cut-drawing")).toHaveLength(sheets);
      expect(classed(root, "cut-sheet")).toHaveLength(Math.ceil(sheets / perPage));
    }
  });

  test("lists where each piece is cut", () => {
    const rows = classed(ROOT, "pieces")
      .flatMap((node) => classed(node, "piece-list"))
      .flatMap((list) => list.children);
    // one class is on the section of this list and on the layer of a drawing
    expect(rows).toHaveLength(demoHouse().built.reduce((sum, each) => sum + each.pieces.length, 0));
  });

  test("has the order with whole packages", () => {
    const order = classed(ROOT, "order-page")[0] as Node;
    expect(classed(order, "buy").filter((node) => node.name === "td").length).toBeGreaterThan(4);
    expect(textOf(order)).toContain("no plan can use");
  });

  test("has every finding at its level and always every caution, once", () => {
    const checks = classed(ROOT, "checks")[0] as Node;
    const own = FINDINGS.filter((each) => !ALL_CAUTIONS.includes(each.finding));
    expect(classed(checks, "finding")).toHaveLength(own.length);
    expect(classed(checks, "cautions").flatMap((node) => node.children.map(textOf))).toEqual(
      ALL_CAUTIONS.map((text) => text)
    );
    const without = parsePage(printableHtml(demoHouse(), { parts: ["checks"] }));
    expect(textOf(without)).toContain(ALL_CAUTIONS[0] as string);
    expect(classed(without, "finding")).toEqual([]);
  });

  test("is letter unless A4 is asked for", () => {
    const classOf = (paper?: Paper): string | undefined =>
      parsePage(printableHtml(demoHouse(), { paper, parts: ["order"] })).attributes.class;
    expect(classOf()).toBe("paper-letter");
    expect(classOf("a4")).toBe("paper-a4");
    expect(() => classOf("a3" as Paper)).toThrow("paper must be one of letter, a4");
  });

  test("has no script and fetches nothing", () => {
    const names = new Set(all(ROOT, () => true).map((node) => node.name));
    for (const name of ["script", "link", "img", "iframe", "image", "object", "a", "base"]) {
      expect(names.has(name)).toBe(false);
    }
    expect(PAGE.replaceAll("http://www.w3.org/2000/svg", "")).not.toMatch(
      /https?:|\/\/[a-z]|@import/i
    );
    for (const match of PAGE.matchAll(/url\(([^)]*)\)/g)) expect(match[1]).toMatch(/^#/);
  });

  test("draws its hatches line by line: a pattern would be printed as a picture", () => {
    expect(named(ROOT, "pattern")).toEqual([]);
    expect(all(ROOT, (node) => node.attributes.id !== undefined)).toEqual([]);
    expect(PAGE).not.toContain("url(");
  });

  test("says why where an order cannot be made", () => {
    const narrow = takeoffHouse(WALLS, OPENINGS, [...SETTINGS, ["Tape widths", "1"]]);
    const page = textOf(parsePage(printableHtml(narrow, { parts: ["order"] })));
    expect(page).toContain("The order cannot be made: settings: Tape widths must hold one of");
  });

  test("prints only the walls asked for", () => {
    const root = parsePage(printableHtml(demoHouse(), { parts: ["crew"], walls: ["North"] }));
    expect(classed(root, "first-step")).toHaveLength(1);
  });
});

const HOSTILE = [
  `"><script>alert(1)</script>`,
  `<img src=x onerror=alert(1)>`,
  `</style><script>alert(2)</script>`,
  `../../etc/passwd`,
  `CON`,
  `a b`,
  `a-b`,
  `A.B`,
  `壁`,
  `壁 2`,
  `x\u0000y`,
];
const HEADERS = ["Wall", "Length", "Height", "Left end", "Right end", "Quantity"];
const HOSTILE_WALLS: Table = [
  HEADERS,
  ...HOSTILE.map((name) => [name, 100, 97, "past", "flush", ""]),
];
const HOSTILE_OPENINGS: Table = [
  ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
  ...HOSTILE.map((name) => [name, name, 20, 30, 40, 40]),
];

describe("the files of a takeoff", () => {
  const house = takeoffHouse(HOSTILE_WALLS, HOSTILE_OPENINGS, ASSEMBLY);
  const files = takeoffFiles(house, {
    title: `<script>alert("title")</script>`,
    findings: [{ level: "fix", wall: `<b>`, finding: `<script>1</script>`, whatToDo: `"'><i>` }],
  });

  test("have names that are safe and differ", () => {
    for (const { name } of files) expect(name).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*\.(svg|html)$/);
    expect(new Set(files.map((file) => file.name)).size).toBe(files.length);
    expect(files.map((file) => file.name)).toEqual(
      expect.arrayContaining([
        "wall-a-b.svg",
        "wall-a-b-2.svg",
        "wall-a-b-3.svg",
        "wall-con.svg",
        "panel-01.svg",
        "takeoff.html",
      ])
    );
    expect(files).toHaveLength(HOSTILE.length + house.plan.sheets.length + 1);
  });

  test("are well formed and hold no markup that came from a table", () => {
    for (const { name, content } of files) {
      const root = name.endsWith(".svg") ? parseXml(content) : parsePage(content);
      for (const tag of ["script", "img", "i"]) expect(named(root, tag)).toEqual([]);
      for (const node of all(root, () => true)) {
        for (const key of Object.keys(node.attributes)) expect(key).not.toMatch(/^on/);
      }
    }
  });

  test("are fixed in colour, for a viewer without the page", () => {
    for (const { content } of files) expect(content).not.toContain("var(");
  });

  test("of the L-shaped house are numbered with as many digits as it takes", () => {
    const names = takeoffFiles(demoHouse()).map((file) => file.name);
    const panels = names.filter((name) => name.startsWith("panel-"));
    expect(panels[0]).toBe("panel-01.svg");
    expect([...panels].sort()).toEqual(panels);
    expect(panels).toHaveLength(demoHouse().plan.panelCount);
    expect(names).toContain("wall-court-east-upper.svg");
  });
});

describe("a file name", () => {
  test("keeps letters and digits and turns the rest into hyphens", () => {
    expect(fileSlug("North / East (2)")).toBe("north-east-2");
    expect(fileSlug("Änne")).toBe("anne");
    expect(fileSlug("..")).toBe("unnamed");
    expect(fileSlug("x".repeat(200))).toHaveLength(40);
  });
});
