import { type HouseTakeoff, takeoffHouse } from "../../src/core/house/takeoff.js";
import type { Table } from "../../src/core/house/tables.js";
import { cutDrawing, sheetView } from "../../src/pane/drawings/index.js";
import { withAssembly } from "../assembly.js";
import { demoHouse } from "./house.js";
import { classed, overlapping, pointsOf, textBox } from "./shapes.js";
import { type Node, all, named, parseXml } from "../xml.js";

const HEADERS = [
  "Wall",
  "Length",
  "Height",
  "Right height",
  "Peak height",
  "Peak at",
  "Left end",
  "Right end",
  "Quantity",
];

function houseOf(rows: Table, settings: Table = [], openings: Table = []): HouseTakeoff {
  return takeoffHouse([HEADERS, ...rows], openings, withAssembly(settings));
}

/** Rakes that go head to tail on a panel: a..a+d and b..b+d need a + b + d. */
const NESTED = houseOf([["Cheek", 48, 30, 60, "", "", "free", "free", 6]], [["Panel lengths", 96]]);
/** A piece under a peak, cut out of a rectangle that may lie across the panel. */
const PEAKED = houseOf(
  [
    ["Gablet", 40, 20, 20, 44, 20, "free", "free", 3],
    ["Plain", 96, 96, 96, "", "", "free", "free", 1],
  ],
  [
    ["Turn pieces", "yes"],
    ["Panel lengths", 96],
  ]
);

const HOUSES: readonly { readonly name: string; readonly house: HouseTakeoff }[] = [
  { name: "the L-shaped house", house: demoHouse() },
  { name: "nested rakes", house: NESTED },
  { name: "a peak", house: PEAKED },
];

function frame(root: Node): [number, number] {
  const parts = (root.attributes.viewBox ?? "").split(" ").map(Number);
  return [parts[2] as number, parts[3] as number];
}

function area(points: readonly (readonly [number, number])[]): number {
  const twice = points.reduce((sum, [x, y], index) => {
    const [nextX, nextY] = points[(index + 1) % points.length] as readonly [number, number];
    return sum + x * nextY - nextX * y;
  }, 0);
  return Math.abs(twice) / 2;
}

describe.each(HOUSES)("cut drawings of $name", ({ house }) => {
  const roots = house.plan.sheets.map((_, index) => parseXml(cutDrawing(house, index)));

  test("draw every piece of the house exactly once", () => {
    const drawn = roots.flatMap((root) =>
      all(root, (node) => node.attributes["data-piece"] !== undefined).map(
        (node) => node.attributes["data-piece"]
      )
    );
    const pieces = house.built.flatMap((each) => each.pieces.map((piece) => piece.label));
    expect(drawn.sort()).toEqual(pieces.sort());
    expect(drawn.length).toBeGreaterThan(3);
  });

  test("number the plan's cuts in order, and after them the slopes cut off a rectangle", () => {
    house.plan.sheets.forEach((sheet, index) => {
      const cuts = classed(roots[index] as Node, "saw-cut");
      const numbers = cuts.map((node) => Number(node.attributes["data-cut"]));
      expect(numbers).toEqual(numbers.map((_, place) => place + 1));
      const trims = sheetView(house, index).steps.filter((step) => step.isTrim);
      expect(numbers).toHaveLength(sheet.cuts.length + trims.length);
      expect(
        sheetView(house, index)
          .steps.slice(0, sheet.cuts.length)
          .map((step) => step.cut)
      ).toEqual(sheet.cuts);
    });
  });

  test("lay every piece with its own area, inside the panel", () => {
    house.plan.sheets.forEach((sheet, index) => {
      for (const { each, outline } of sheetView(house, index).pieces) {
        const { leftIn, bottomIn, top, rightIn } = each.piece;
        const standing = area([
          [leftIn, bottomIn],
          ...top.map((point): [number, number] => [point.xIn, point.heightIn]),
          [rightIn, bottomIn],
        ]);
        expect(area(outline)).toBeCloseTo(standing, 0);
        for (const [x, y] of outline) {
          // the planner works in 1/1024 in
          expect(x).toBeGreaterThan(-0.01);
          expect(y).toBeGreaterThan(-0.01);
          expect(x).toBeLessThan(sheet.widthIn + 0.01);
          expect(y).toBeLessThan(sheet.lengthIn + 0.01);
        }
      }
    });
  });

  test("stay inside their frame, with no text over another", () => {
    const faults: string[] = [];
    for (const width of [150, 224, 360, 700]) {
      house.plan.sheets.forEach((_, index) => {
        const root = parseXml(cutDrawing(house, index, { width }));
        const [w, h] = frame(root);
        const isOut = ([x, y]: [number, number]): boolean =>
          !(x >= -0.01 && x <= w + 1 && y >= -0.01 && y <= h + 1);
        const shapes = root.children
          .filter((node) => node.name !== "defs")
          .flatMap((child) => all(child, () => true));
        for (const node of shapes) {
          if (pointsOf(node).some(isOut)) faults.push(`${index}: ${node.name} outside`);
        }
        const boxes = named(root, "text").map(textBox);
        boxes.forEach((a, place) => {
          if (isOut([a.left, a.top]) || isOut([a.right, a.bottom]))
            faults.push(`${a.text} outside`);
          for (const b of boxes.slice(place + 1)) {
            if (overlapping(a, b))
              faults.push(`${width}, sheet ${index}: ${a.text} over ${b.text}`);
          }
        });
      });
    }
    expect(faults).toEqual([]);
  });

  test("name the panel and its size for screen readers", () => {
    roots.forEach((root, index) => {
      const { kind } = house.plan.sheets[index] as HouseTakeoff["plan"]["sheets"][number];
      expect(root.attributes.role).toBe("img");
      expect(root.attributes["aria-label"]).toMatch(
        kind === "panel" ? /^Panel \d+, / : /^Scrap S\d+: /
      );
      expect(root.attributes.class).toBe(kind === "panel" ? "cut-drawing" : "cut-drawing scrap");
    });
  });
});

describe("turned pieces", () => {
  test("a rake turned end for end has its level side on top, left and right changed, never flipped", () => {
    const turned = NESTED.plan.sheets.flatMap((_, index) =>
      sheetView(NESTED, index).pieces.filter((laid) => laid.placement.turned === 180)
    );
    expect(turned.length).toBeGreaterThan(0);
    for (const { outline, placement, each } of turned) {
      const { xIn, yIn, widthIn, heightIn } = placement;
      const top = each.piece.top.map((point) => point.heightIn - each.piece.bottomIn);
      const near = (point: readonly [number, number] | undefined, x: number, y: number): void => {
        expect(point?.[0]).toBeCloseTo(x, 2);
        expect(point?.[1]).toBeCloseTo(y, 2);
      };
      // the foot of the left side is at the upper right
      near(outline[0], xIn + widthIn, yIn + heightIn);
      near(outline[1], xIn + widthIn, yIn + heightIn - (top[0] as number));
      near(outline[2], xIn, yIn + heightIn - (top[1] as number));
      near(outline[3], xIn, yIn + heightIn);
    }
  });

  test("both halves of a nested pair keep clear of each other", () => {
    const pairs = NESTED.plan.sheets.flatMap((_, index) => {
      const { pieces } = sheetView(NESTED, index);
      return pieces.some((laid) => laid.placement.turned === 180) ? [pieces] : [];
    });
    expect(pairs.length).toBeGreaterThan(0);
    for (const pieces of pairs) {
      const lower = pieces.find((laid) => laid.placement.turned === 0);
      const upper = pieces.find((laid) => laid.placement.turned === 180);
      // over the left edge: the lower one's left height, the upper one's lowest point there
      expect(lower?.outline[1]?.[1]).toBeLessThan(upper?.outline[2]?.[1] as number);
      expect(lower?.outline[2]?.[1]).toBeLessThan(upper?.outline[1]?.[1] as number);
    }
  });

  test("a peak is cut as two slopes after its rectangle, named by the piece", () => {
    const words = PEAKED.plan.sheets.flatMap((_, index) =>
      sheetView(PEAKED, index)
        .steps.filter((step) => step.isTrim)
        .map((step) => step.words)
    );
    expect(words).toContain("slope on Gablet-1, 20 to 44 over 20");
    expect(words).toContain("slope on Gablet-1, 44 to 20 over 20");
    expect(words).toHaveLength(6);
  });
});

describe("the words of a cut", () => {
  test("measure from the edge of the part in hand, the saw cut left out", () => {
    const wordsOf = (rows: Table): string[] =>
      sheetView(houseOf(rows, [["Panel lengths", 96]]), 0).steps.map((step) => step.words);
    expect(wordsOf([["Narrow", 20, 96, 96, "", "", "free", "free", 2]])).toEqual([
      "along at 20",
      "along at 20",
    ]);
    expect(wordsOf([["Low", 96, 40, 40, "", "", "free", "free", 1]])).toEqual([
      "across at 40",
      "across at 40",
    ]);
  });
  test("refuse a sheet that is not there", () => {
    expect(() => cutDrawing(demoHouse(), 10_000)).toThrow(/sheet must be at most \d+; got 10000/);
    expect(() => cutDrawing(demoHouse(), 0, { width: 10 })).toThrow(
      "width must be at least 120 px; got 10"
    );
  });
});
