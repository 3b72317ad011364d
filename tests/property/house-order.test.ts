/** Laws of the tables a house gives: order, walls, pieces, cuts, marks, checks. */
import fc from "fast-check";
import type { planCuts } from "../../src/core/cut-plan/plan-cuts.js";
import type { CutProblem } from "../../src/core/cut-plan/problem.js";
import { houseFindings } from "../../src/core/house/checks.js";
import { crewMarks } from "../../src/core/house/marks.js";
import { type OrderLine, orderLines } from "../../src/core/house/order.js";
import type { Cell } from "../../src/core/house/tables.js";
import { type HouseTakeoff, readHouse, takeoffHouse } from "../../src/core/house/takeoff.js";
import {
  type HouseCase,
  WALL_HEADER,
  houseCase,
  inUnit,
  openingRows,
  settingRows,
  tablesOf,
  takeoffOf,
  wallRows,
} from "./house-cases.js";

// the laws hold for any plan, so the quick one will do
jest.mock("../../src/core/cut-plan/plan-cuts.js", () => {
  const actual = jest.requireActual<{ planCuts: typeof planCuts }>(
    "../../src/core/cut-plan/plan-cuts.js"
  );
  return {
    planCuts: (problem: CutProblem) => actual.planCuts(problem, "quick"),
  };
});

const runs = { seed: 20261128, numRuns: 40 };
/** Moves the columns of a table by a seeded shuffle and puts blank rows between its rows. */
function shuffled(table: readonly Cell[][], order: readonly number[], blanks: number): Cell[][] {
  const columns = (table[0] as Cell[]).map((_, index) => index);
  columns.sort(
    (a, b) => (order[a % order.length] as number) - (order[b % order.length] as number) || b - a
  );
  const rows = table.map((row) => columns.map((column) => row[column]));
  return rows.flatMap((row, index) =>
    index > 0 && index % blanks === 0 ? [columns.map((_, at) => (at % 2 ? "" : null)), row] : [row]
  );
}

function brief(lines: readonly OrderLine[]): unknown[] {
  return lines.map(({ item, size, needed, order }) => [
    item,
    size,
    Number(needed.toFixed(4)),
    order,
  ]);
}

function freezeDeep<T>(value: T): T {
  if (typeof value === "object" && value !== null) {
    Object.values(value).forEach(freezeDeep);
    Object.freeze(value);
  }
  return value;
}

/** Every number anywhere in a value, with where it stands. */
function eachNumber(value: unknown, path: string, visit: (n: number, path: string) => void): void {
  if (typeof value === "number") visit(value, path);
  else if (value instanceof Map) eachNumber([...value], path, visit);
  else if (typeof value === "object" && value !== null) {
    for (const [key, each] of Object.entries(value)) eachNumber(each, `${path}.${key}`, visit);
  }
}

describe("the order", () => {
  it("is never below the need, and never a package more than it takes", () => {
    let lines = 0;
    fc.assert(
      fc.property(houseCase(3), (house) => {
        for (const line of orderLines(takeoffOf(house))) {
          const wanted = line.needed * (1 + line.extra);
          expect(line.order * line.perPackage).toBeGreaterThanOrEqual(wanted - 1e-4);
          expect((line.order - 1) * line.perPackage).toBeLessThan(wanted);
          expect(Number.isInteger(line.order)).toBe(true);
          lines++;
        }
      }),
      runs
    );
    expect(lines).toBeGreaterThan(120);
  });

  it("buys at least the proven fewest panels, and panels enough for the wood that scrap does not give", () => {
    fc.assert(
      fc.property(houseCase(3), (house) => {
        const { plan, built } = takeoffOf(house);
        expect(plan.panelCount).toBeGreaterThanOrEqual(plan.fewestPanels);
        expect(plan.cost).toBeGreaterThanOrEqual(plan.lowestCost - 1e-9);
        const placed = plan.sheets.flatMap((sheet) => sheet.placements.map((each) => each.id));
        const pieces = built.flatMap((wall) => wall.pieces.map((each) => each.planId));
        expect([...placed].sort()).toEqual([...pieces].sort());
      }),
      runs
    );
  });

  it("does not change when columns are moved or blank rows put in", () => {
    fc.assert(
      fc.property(
        houseCase(3),
        fc.array(fc.nat(), { minLength: 5, maxLength: 12 }),
        fc.integer({ min: 1, max: 2 }),
        (house, order, blanks) => {
          const [walls, openings, settings] = tablesOf(house);
          const moved = takeoffHouse(
            shuffled(walls, order, blanks),
            shuffled(openings, order, blanks),
            [...settings.slice(0, 1), [null, null], ...settings.slice(1).reverse(), ["", ""]]
          );
          expect(orderLines(moved)).toEqual(orderLines(takeoffOf(house)));
          expect(moved.plan).toEqual(takeoffOf(house).plan);
        }
      ),
      runs
    );
  });

  it("does not change when rows are moved", () => {
    fc.assert(
      fc.property(houseCase(3), (house) => {
        const other: HouseCase = {
          ...house,
          walls: [...house.walls].reverse(),
          openings: [...house.openings].reverse(),
        };
        expect(brief(orderLines(takeoffOf(other)))).toEqual(brief(orderLines(takeoffOf(house))));
      }),
      runs
    );
  });

  it("does not change when the headers say feet or millimeters", () => {
    fc.assert(
      fc.property(houseCase(2), fc.constantFrom<"ft" | "mm">("ft", "mm"), (house, unit) => {
        const [walls, openings, settings] = tablesOf(house);
        const other = takeoffHouse(inUnit(walls, unit), inUnit(openings, unit), settings);
        expect(brief(orderLines(other))).toEqual(brief(orderLines(takeoffOf(house))));
      }),
      runs
    );
  });

  it("of a wall three times over is the order of three such walls", () => {
    fc.assert(
      fc.property(houseCase(1), (house) => {
        const [walls, openings, settings] = tablesOf(house);
        const three = takeoffHouse(
          walls.map((row, index) => [...row, index === 0 ? "Quantity" : 3]),
          openings,
          settings
        );
        const named = (name: string): HouseCase => ({
          settings: house.settings,
          walls: house.walls.map((wall) => ({ ...wall, name })),
          openings: house.openings.map((each) => ({ ...each, wall: name })),
        });
        const rows = ["A", "B", "C"].map(named);
        const apart = takeoffHouse(
          wallRows(rows.flatMap((each) => each.walls)),
          openingRows(rows.flatMap((each) => each.openings)),
          settings
        );
        expect(brief(orderLines(three))).toEqual(brief(orderLines(apart)));
        const nails = (each: HouseTakeoff): number =>
          each.built.reduce((total, wall) => total + wall.nailCount, 0);
        const one = takeoffOf(house);
        if (one.built.every((wall) => wall.cut.ripRuns.length === 0)) {
          expect(nails(three)).toBe(3 * nails(one));
        }
      }),
      runs
    );
  });

  it("adds the need of the walls first and rounds once", () => {
    fc.assert(
      fc.property(houseCase(3), (house) => {
        const plain = { ...house, settings: { Foam: 1.25, Panel: 0.625 } };
        const whole = takeoffOf(plain);
        const nails = (each: HouseTakeoff): number =>
          orderLines(each).find((line) => line.item === "Nails")?.needed as number;
        const apart = plain.walls.map((wall) =>
          takeoffOf({
            ...plain,
            walls: [wall],
            openings: plain.openings.filter((each) => each.wall === wall.name),
          })
        );
        expect(nails(whole)).toBe(apart.reduce((total, each) => total + nails(each), 0));
      }),
      runs
    );
  });
});

describe("everything a house answers", () => {
  it("is finite and never minus zero", () => {
    let seen = 0;
    fc.assert(
      fc.property(houseCase(2), (house) => {
        const takeoff = takeoffOf(house);
        const marks = takeoff.walls.map((wall) =>
          crewMarks(wall, takeoff.openings, takeoff.settings)
        );
        const all = { takeoff, marks, order: orderLines(takeoff) };
        eachNumber(all, "", (value, path) => {
          seen++;
          if (!Number.isFinite(value) || Object.is(value, -0)) {
            throw new Error(`${path} is ${Object.is(value, -0) ? "-0" : value}`);
          }
        });
      }),
      runs
    );
    expect(seen).toBeGreaterThan(5_000);
  });

  it("leaves its arguments as they were", () => {
    fc.assert(
      fc.property(houseCase(2), (house) => {
        const tables = freezeDeep(tablesOf(house));
        const before = JSON.stringify(tables);
        orderLines(takeoffHouse(...tables));
        houseFindings(readHouse(...tables));
        expect(JSON.stringify(tables)).toBe(before);
      }),
      { ...runs, numRuns: 20 }
    );
  });

  it("is the same every time", () => {
    fc.assert(
      fc.property(houseCase(2), (house) => {
        const [a, b] = [takeoffHouse(...tablesOf(house)), takeoffHouse(...tablesOf(house))];
        expect(b).toEqual(a);
      }),
      { ...runs, numRuns: 15 }
    );
  });

  it("comes with findings, the cautions last, and none of a sound house says fix but the corners", () => {
    fc.assert(
      fc.property(houseCase(2), (house) => {
        const findings = houseFindings(readHouse(...tablesOf(house)));
        expect(findings.at(-1)?.finding).toMatch(/^Ladders, saws/);
        const fixes = findings.filter((each) => each.level === "fix").map((each) => each.finding);
        for (const fix of fixes) expect(fix).toMatch(/corners disagree|needs tape|Height is/);
        const levels = findings.map((each) => ["fix", "look", "note"].indexOf(each.level));
        expect([...levels].sort()).toEqual(levels);
      }),
      { ...runs, numRuns: 60 }
    );
  });
});

describe("tables with fewer columns", () => {
  it("a blank or missing optional column is its default", () => {
    fc.assert(
      fc.property(houseCase(1), (house) => {
        const plain: HouseCase = {
          ...house,
          walls: house.walls.map((wall) => ({
            ...wall,
            rightIn: wall.heightIn,
            peak: undefined,
            belowIn: 0,
            spacingIn: 16,
            from: "left",
            heightIn: Math.max(wall.heightIn, 36),
          })),
          openings: [],
        };
        const level: HouseCase = {
          ...plain,
          walls: plain.walls.map((wall) => ({ ...wall, rightIn: wall.heightIn })),
        };
        const needed = ["Wall", "Length", "Height", "Left end", "Right end"];
        const keep = WALL_HEADER.flatMap((name, index) => (needed.includes(name) ? [index] : []));
        const few = wallRows(level.walls).map((row) => keep.map((index) => row[index]));
        const a = takeoffHouse(few, [[null]], settingRows(level.settings));
        expect(brief(orderLines(a))).toEqual(brief(orderLines(takeoffOf(level))));
      }),
      { ...runs, numRuns: 20 }
    );
  });
});
