import { pieceNails, takeoffHouse } from "../../src/core/house/takeoff.js";
import type { Table } from "../../src/core/house/tables.js";
import {
  type Theme,
  THEMES,
  wallDrawing,
  wallGroups,
  wallMarksTable,
} from "../../src/pane/drawings/index.js";
import { withAssembly } from "../assembly.js";
import { demoHouse } from "./house.js";
import { classed, overlapping, pointsOf, textBox } from "./shapes.js";
import { type Node, all, named, parseXml } from "../xml.js";

const HEADERS = ["Wall", "Length", "Height", "Right height", "Left end", "Right end", "From"];
const NO_OPENINGS: Table = [];

function houseOf(rows: Table, openings: Table = NO_OPENINGS, settings: Table = []) {
  return takeoffHouse([HEADERS, ...rows], openings, withAssembly(settings));
}

function shapes(root: Node): Node[] {
  const isDefined = (node: Node): boolean =>
    node.name === "defs" || (node.parent !== undefined && isDefined(node.parent));
  return all(root, (node) => ["line", "rect", "circle", "path"].includes(node.name)).filter(
    (node) => !isDefined(node)
  );
}

function viewBox(root: Node): [number, number] {
  const parts = (root.attributes.viewBox ?? "").split(" ").map(Number);
  return [parts[2] as number, parts[3] as number];
}

/** Shapes and texts that leave the frame. */
function outsiders(root: Node): string[] {
  const [width, height] = viewBox(root);
  const isOut = ([x, y]: [number, number]): boolean =>
    !(x >= -0.01 && x <= width + 1 && y >= -0.01 && y <= height + 1);
  return [
    ...shapes(root)
      .filter((shape) => pointsOf(shape).some(isOut))
      .map((shape) => `${shape.name} ${JSON.stringify(shape.attributes)}`),
    ...named(root, "text")
      .map(textBox)
      .filter((box) => isOut([box.left, box.top]) || isOut([box.right, box.bottom]))
      .map((box) => box.text),
  ];
}

/** Pairs of texts that stand over each other. */
function clashes(root: Node): string[] {
  const boxes = named(root, "text").map(textBox);
  return boxes.flatMap((a, index) =>
    boxes
      .slice(index + 1)
      .filter((b) => overlapping(a, b))
      .map((b) => `${a.text} over ${b.text}`)
  );
}

const WIDTHS = [300, 390, 696, 960, 1600];
const DRAWN = demoHouse().walls.flatMap((wall) =>
  WIDTHS.map((width) => ({
    title: `${wall.name} at ${width}`,
    wall,
    root: parseXml(wallDrawing(demoHouse(), wall.name, { width, nails: width > 900 })),
  }))
);

describe("a wall drawing", () => {
  test("is well formed in every theme and with every part left out", () => {
    let count = 0;
    for (const theme of THEMES) {
      for (const part of ["studs", "tape", "marks", "corners", "legend"] as const) {
        const root = parseXml(wallDrawing(demoHouse(), "South", { theme, [part]: false }));
        expect(root.name).toBe("svg");
        count++;
      }
    }
    expect(count).toBe(20);
  });

  test("draws every piece of the wall exactly once, named, sized and with its panel", () => {
    let count = 0;
    for (const group of wallGroups(demoHouse())) {
      const { copy } = group.takeoff;
      const root = parseXml(wallDrawing(demoHouse(), group.wall.name, { copy }));
      const pieces = all(root, (node) => node.attributes["data-piece"] !== undefined);
      expect(pieces.map((node) => node.attributes["data-piece"]).sort()).toEqual(
        group.takeoff.pieces.map((each) => each.label).sort()
      );
      for (const piece of pieces) {
        expect(piece.attributes["data-size"]).toMatch(/^[\d/-]+ x [\d/ -]+$/);
        expect(piece.attributes["data-panel"]).toMatch(/^S?\d+$/);
        expect(piece.children[0]?.name).toBe("title");
        count++;
      }
    }
    expect(count).toBeGreaterThan(100);
  });

  test("draws as many nails as are counted, at the points that are counted", () => {
    for (const { cut, pieces, nailCount, copy } of demoHouse().built) {
      if (copy > 1) continue;
      const root = parseXml(wallDrawing(demoHouse(), cut.wall.name, { nails: true }));
      const circles = classed(root, "nails").flatMap((node) => node.children);
      expect(circles).toHaveLength(nailCount);
      const elevation = classed(root, "elevation")[0] as Node;
      const scale = Number(elevation.attributes["data-scale"]);
      const zero = Number(elevation.attributes["data-left"]);
      const points = pieces.flatMap(({ piece }) =>
        pieceNails(cut, piece, demoHouse().settings.studIn)
      );
      points.forEach((point, index) => {
        expect(Number(circles[index]?.attributes.cx)).toBeCloseTo(zero + point.xIn * scale, 1);
      });
    }
  });

  test("keeps every line and every text inside its frame", () => {
    let count = 0;
    for (const { root } of DRAWN) {
      count += shapes(root).length;
      expect(outsiders(root)).toEqual([]);
    }
    expect(count).toBeGreaterThan(10_000);
  });

  test.each(DRAWN)("writes no text over another: $title", ({ root }) => {
    expect(named(root, "text").length).toBeGreaterThan(8);
    expect(clashes(root)).toEqual([]);
  });

  test("is drawn to one scale across and up", () => {
    for (const { root, wall } of DRAWN) {
      const scale = Number(classed(root, "elevation")[0]?.attributes["data-scale"]);
      const points = classed(root, "pieces").flatMap((node) =>
        named(node, "path").flatMap(pointsOf)
      );
      const xs = points.map(([x]) => x);
      const ys = points.map(([, y]) => y);
      const { startIn, endIn } = wall.span;
      expect((Math.max(...xs) - Math.min(...xs)) / scale).toBeCloseTo(endIn - startIn, 1);
      const top = Math.max(...wall.top.map((point) => point.heightIn));
      expect((Math.max(...ys) - Math.min(...ys)) / scale).toBeCloseTo(top + wall.belowIn, 0);
    }
  });

  test("has no script, no style element and no reference out of itself, and its ids are its own", () => {
    const root = parseXml(
      wallDrawing(demoHouse(), "Court north", { ids: "my <wall>", theme: "page" })
    );
    const names = new Set(all(root, () => true).map((node) => node.name));
    for (const name of ["script", "style", "foreignObject", "image", "use", "a"]) {
      expect(names.has(name)).toBe(false);
    }
    const ids = new Set(
      all(root, (node) => node.attributes.id !== undefined).map((node) => node.attributes.id)
    );
    const used = all(root, () => true).flatMap((node) =>
      Object.values(node.attributes).flatMap((value) =>
        [...value.matchAll(/url\(([^)]*)\)/g)].map((match) => match[1] as string)
      )
    );
    expect(used.length).toBeGreaterThan(0);
    for (const reference of used) expect(ids.has(reference.replace("#", ""))).toBe(true);
    for (const id of ids) expect(id).toMatch(/^my-wall--[a-z]+$/);
  });

  test("is named for screen readers", () => {
    const root = parseXml(wallDrawing(demoHouse(), "south"));
    expect(root.attributes.role).toBe("img");
    expect(root.attributes["aria-label"]).toBe(
      `Wall South from outside, 40'-0" long, 9'-1 1/8" high`
    );
    expect(root.children.map((node) => node.name).slice(0, 2)).toEqual(["title", "desc"]);
  });

  test("takes colours from the page's custom properties only where it is part of a page", () => {
    const uses = (theme: Theme): boolean =>
      wallDrawing(demoHouse(), "South", { theme }).includes("var(");
    expect(THEMES.map(uses)).toEqual([true, false, false, false]);
  });

  test("prints in black, white and greys", () => {
    const colours = wallDrawing(demoHouse(), "Court north", { theme: "print", nails: true }).match(
      /#[0-9a-f]{6}/g
    );
    expect(colours?.length).toBeGreaterThan(20);
    for (const colour of colours ?? []) expect(colour).toMatch(/^#(..)\1\1$/);
  });

  test("of a mirrored wall is the mirrored drawing", () => {
    const house = houseOf(
      [
        ["A", 200, 100, 130, "past", "short", "left"],
        ["B", 200, 130, 100, "short", "past", "right"],
      ],
      [
        ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
        ["A", "W", 30, 30, 60, 40],
        ["B", "W", 110, 30, 60, 40],
      ]
    );
    const outline = (name: string): { xs: number[]; drops: number } => {
      const root = parseXml(wallDrawing(house, name));
      const elevation = classed(root, "elevation")[0] as Node;
      const zero = Number(elevation.attributes["data-left"]);
      const scale = Number(elevation.attributes["data-scale"]);
      const xs = classed(root, "pieces").flatMap((node) =>
        named(node, "path")
          .flatMap(pointsOf)
          .map(([x]) => (x - zero) / scale)
      );
      return { xs, drops: classed(root, "drop").length };
    };
    const a = outline("A");
    const b = outline("B");
    const sorted = (list: number[]): number[] => [...list].sort((one, other) => one - other);
    const mirrored = sorted(b.xs.map((x) => 200 - x));
    expect(a.xs).toHaveLength(b.xs.length);
    sorted(a.xs).forEach((x, index) => expect(mirrored[index]).toBeCloseTo(x, 1));
    expect(a.drops).toBe(b.drops);
  });

  test("refuses a wall that is not there and a width out of reach", () => {
    expect(() => wallDrawing(demoHouse(), "Attic")).toThrow(/wall must be one of South, East/);
    expect(() => wallDrawing(demoHouse(), "South", { width: 20 })).toThrow(
      "width must be at least 280 px; got 20"
    );
    expect(() => wallDrawing(demoHouse(), "South", { copy: 2 })).toThrow(
      "copy must be at most 1; got 2"
    );
    expect(() => wallDrawing(demoHouse(), "South", { theme: "blue" as Theme })).toThrow(
      /theme must be one of page, light, dark, print/
    );
  });

  test("draws the second of equal walls with its own pieces", () => {
    const root = parseXml(wallDrawing(demoHouse(), "Porch cheek", { copy: 2 }));
    const names = all(root, (node) => node.attributes["data-piece"] !== undefined);
    expect(names.length).toBeGreaterThan(1);
    for (const node of names) expect(node.attributes["data-piece"]).toMatch(/^Porch cheek\/2-/);
  });

  test("shows the drop of an opening in every piece it is routed out of", () => {
    const root = parseXml(wallDrawing(demoHouse(), "South"));
    const routed = demoHouse()
      .built.filter((each) => each.cut.wall.name === "South")
      .flatMap((each) => each.pieces.flatMap(({ piece }) => piece.routed));
    expect(classed(root, "drop")).toHaveLength(routed.length);
    expect(routed.length).toBeGreaterThan(4);
  });
});

describe("a corner from above", () => {
  interface Extent {
    readonly left: number;
    readonly right: number;
    readonly top: number;
    readonly bottom: number;
  }
  /** foam and wood of a panel: the hatched rectangles, in that order */
  function layers(plan: Node, className: string): [Extent, Extent] {
    const rects = classed(plan, className)
      .flatMap((node) => named(node, "rect"))
      .filter((node) => node.attributes.fill?.startsWith("url("));
    return rects.map((node) => {
      const [[left, top], [right, bottom]] = pointsOf(node) as [[number, number], [number, number]];
      return { left, top, right, bottom };
    }) as [Extent, Extent];
  }
  function plan(end: string): {
    node: Node;
    own: [Extent, Extent];
    other: [Extent, Extent];
    x: number;
    y: number;
  } {
    const house = houseOf([["A", 240, 97, "", end, "free", ""]], NO_OPENINGS, [
      ["Foam", 2],
      ["Panel", 0.5],
    ]);
    const root = parseXml(wallDrawing(house, "A"));
    const node = classed(root, "corner-plan").find(
      (each) => each.attributes["data-side"] === "left"
    ) as Node;
    const dot = named(node, "circle")[0] as Node;
    return {
      node,
      own: layers(node, "own-panel"),
      other: layers(node, "other-panel"),
      x: Number(dot.attributes.cx),
      y: Number(dot.attributes.cy),
    };
  }

  test("draws foam and wood with their true thicknesses", () => {
    const { own } = plan("past");
    const [foam, wood] = own;
    expect((foam.bottom - foam.top) / (wood.bottom - wood.top)).toBeCloseTo(4, 1);
    expect(foam.bottom).toBeCloseTo(wood.top, 1);
  });
  test("past: runs past the corner by the thickness, before the other panel's edge", () => {
    const { own, other, x, y } = plan("past");
    const t = own[1].bottom - own[0].top;
    expect(own[0].left).toBeCloseTo(x - t, 1);
    expect(own[0].left).toBeCloseTo(other[1].left, 1);
    expect(other[0].bottom).toBeCloseTo(y, 1);
    expect(other[0].bottom).toBeCloseTo(own[0].top, 1);
  });
  test("flush: stops at the corner, behind the other panel", () => {
    const { own, other, x } = plan("flush");
    expect(own[0].left).toBeCloseTo(x, 1);
    expect(other[0].right).toBeCloseTo(x, 1);
    expect(other[1].bottom).toBeCloseTo(own[1].bottom, 1);
  });
  test("tight: goes in to the framing and the other panel stops at its face", () => {
    const { own, other, x } = plan("tight");
    expect(own[0].left).toBeCloseTo(x, 1);
    expect(other[0].top).toBeCloseTo(own[1].bottom, 1);
  });
  test("short: stops at the face of the other panel, which is tight to the framing", () => {
    const { own, other, y } = plan("short");
    expect(own[0].left).toBeCloseTo(other[1].right, 1);
    expect(other[0].top).toBeCloseTo(y, 1);
  });
  test("free: has no other panel", () => {
    const { node, own, x } = plan("free");
    expect(classed(node, "other-panel")).toEqual([]);
    expect(own[0].left).toBeCloseTo(x, 1);
  });
});

describe("the marks of a wall", () => {
  test("a burned tape reads whole stud spaces at stud centers, the first line at 15-1/4", () => {
    // published: the second wall starts its 15-1/4 in first mark at the face of the first wall's panel
    const { rows, burn } = wallMarksTable(demoHouse(), "West");
    expect(burn.side).toBe("right");
    expect(burn.short).toBe("burn 1-7/8");
    expect(rows[0]?.tape).toBe(`0'-2 5/8"`);
    expect(rows[1]?.tape).toBe(`1'-4"`);
    expect(rows[1]?.line).toBe(`1'-3 1/4"`);
    expect(
      rows
        .slice(1, -1)
        .map((row) => row.tape)
        .slice(0, 4)
    ).toEqual([`1'-4"`, `2'-8"`, `4'-0"`, `5'-4"`]);
  });
  test("a run that stops short holds the tape back, and its end stud stands behind zero", () => {
    const { rows, burn } = wallMarksTable(demoHouse(), "Court upper");
    expect(burn.short).toBe("hold back 1-7/8");
    expect(rows[0]?.tape).toBe(`-0'-1 1/8"`);
    expect(rows[0]?.note).toBe("end stud, behind the start of the tape");
  });
  test("a wall that starts at a flush end burns nothing", () => {
    expect(wallMarksTable(demoHouse(), "South").burn).toMatchObject({
      short: "start at 0",
      side: "left",
    });
  });
  test("a rake gives every stud's length and bevel", () => {
    const { rows, isRaked } = wallMarksTable(demoHouse(), "Porch cheek");
    expect(isRaked).toBe(true);
    for (const row of rows) expect(row.bevel).toMatch(/^\d+\.\d°$/);
    expect(rows.length).toBeGreaterThan(5);
  });
  test("are lettered on the drawing at every stud where there is room", () => {
    const root = parseXml(wallDrawing(demoHouse(), "East", { width: 960 }));
    const texts = classed(root, "marks").flatMap((node) =>
      named(node, "text").map((each) => each.text)
    );
    expect(texts).toEqual(wallMarksTable(demoHouse(), "East").rows.map((row) => row.tape));
  });
  test("are lettered at panel breaks on a narrow drawing, which says so", () => {
    const root = parseXml(wallDrawing(demoHouse(), "South", { width: 360 }));
    const texts = classed(root, "marks").flatMap((node) =>
      named(node, "text").map((each) => each.text)
    );
    expect(texts).toContain(`4'-0"`);
    expect(texts).not.toContain(`1'-4"`);
    expect(texts.at(-1)).toMatch(/^Readings at panel breaks/);
  });
});

describe("hostile names", () => {
  const NAMES = [
    `"><script>alert(1)</script>`,
    `' onload='alert(1)`,
    `]]>&amp;<!--`,
    `a\u0000b\u0008c\u202Ed`,
    `\uD800 half a pair`,
    `javascript:alert(1)`,
    `${"very long ".repeat(40)}end`,
    `=HYPERLINK("x")`,
    `壁の名前 🏠 ﷽`,
  ];
  const house = houseOf(
    NAMES.map((name) => [name, 200, 97, "", "past", "flush", ""]),
    [
      ["Wall", "Opening", "From left", "Sill", "Width", "Height"],
      ...NAMES.map((name) => [name, name, 40, 30, 40, 40]),
    ]
  );
  test.each(NAMES.map((name, index) => ({ name: JSON.stringify(name), index })))(
    "are text and nothing else: $name",
    ({ index }) => {
      const wall = house.walls[index];
      const source = wallDrawing(house, wall?.name as string, { nails: true });
      const root = parseXml(source);
      expect(named(root, "script")).toEqual([]);
      for (const node of all(root, () => true)) {
        for (const key of Object.keys(node.attributes)) expect(key).not.toMatch(/^on/i);
      }
      const [width] = viewBox(root);
      for (const text of named(root, "text").map(textBox)) {
        expect(text.left).toBeGreaterThanOrEqual(0);
        expect(text.right).toBeLessThanOrEqual(width);
      }
    }
  );
});

describe("unusual walls", () => {
  const rows: Table = [
    ["Stub", 3, 97, "", "free", "free", ""],
    ["Narrow", 20, 97, "", "past", "past", "right"],
    ["Low", 200, 18, "", "past", "short", ""],
    ["Wedge", 300, 0, 120, "tight", "flush", ""],
    ["Long", 2400, 97, "", "past", "flush", ""],
    ["Tall", 120, 400, "", "past", "flush", ""],
  ];
  const house = houseOf(rows, NO_OPENINGS, [["Block line", 12]]);
  test.each(house.built)(
    "are drawn inside their frame with no text over another: $cut.wall.name",
    (built) => {
      for (const width of [300, 696, 1200]) {
        const root = parseXml(wallDrawing(house, built.cut.wall.name, { width, nails: true }));
        expect(outsiders(root)).toEqual([]);
        expect(clashes(root)).toEqual([]);
        expect(all(root, (node) => node.attributes["data-piece"] !== undefined)).toHaveLength(
          built.pieces.length
        );
      }
    }
  );
});
