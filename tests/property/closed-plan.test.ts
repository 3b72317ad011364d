/** Laws of corners round a closed plan whose walls all meet square. */
import fc from "fast-check";
import { type WallEnd, runLength, runSpan } from "../../src/core/corners.js";
import { cornerOffset } from "../../src/core/assembly.js";
import { houseFindings } from "../../src/core/house/checks.js";
import { readHouse } from "../../src/core/house/takeoff.js";
import type { Cell } from "../../src/core/house/tables.js";
import { ASSEMBLY } from "../assembly.js";
import { FOAM } from "./house-cases.js";

const runs = { seed: 20261127, numRuns: 300 };

interface Vertex {
  readonly x: number;
  readonly y: number;
}
interface PlanWall {
  readonly from: Vertex;
  /** unit vectors along the wall, left to right seen from outside, and out of the building */
  readonly along: Vertex;
  readonly out: Vertex;
  readonly lengthIn: number;
  readonly leftEnd: WallEnd;
  readonly rightEnd: WallEnd;
}

/** Counterclockwise corners of rooms of several depths in a row: L, T, U, Z and comb plans. */
const plan = fc
  .array(
    fc.record({
      width: fc.integer({ min: 4, max: 30 }),
      up: fc.integer({ min: 2, max: 6 }),
      down: fc.integer({ min: 2, max: 6 }),
    }),
    { minLength: 1, maxLength: 5 }
  )
  .map((rooms) => {
    let x = 0;
    const bottom: Vertex[] = [];
    const top: Vertex[] = [];
    for (const room of rooms) {
      const next = x + 12 * room.width;
      bottom.push({ x, y: -48 * room.down }, { x: next, y: -48 * room.down });
      top.push({ x, y: 48 * room.up }, { x: next, y: 48 * room.up });
      x = next;
    }
    const all = [...bottom, ...top.reverse()];
    // corners where nothing turns are none
    return all.filter((at, index) => {
      const before = all[(index + all.length - 1) % all.length] as Vertex;
      const after = all[(index + 1) % all.length] as Vertex;
      return cross(before, at, after) !== 0;
    });
  });

function cross(a: Vertex, b: Vertex, c: Vertex): number {
  return (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
}

/** Walls with ends that agree; `choices` says which of each pair runs past, or is tight. */
function wallsOf(corners: readonly Vertex[], choices: readonly boolean[]): PlanWall[] {
  const count = corners.length;
  const corner = (index: number): Vertex => corners[(index + count) % count] as Vertex;
  const pairAt = (index: number): readonly [WallEnd, WallEnd] => {
    const isOutside = cross(corner(index - 1), corner(index), corner(index + 1)) > 0;
    const [one, other] = isOutside ? (["past", "flush"] as const) : (["tight", "short"] as const);
    return choices[((index + count) % count) % choices.length] ? [one, other] : [other, one];
  };
  return corners.map((from, index) => {
    const to = corner(index + 1);
    const lengthIn = Math.abs(to.x - from.x) + Math.abs(to.y - from.y);
    const along = { x: (to.x - from.x) / lengthIn, y: (to.y - from.y) / lengthIn };
    return {
      from,
      along,
      out: { x: along.y, y: -along.x },
      lengthIn,
      leftEnd: pairAt(index)[1],
      rightEnd: pairAt(index + 1)[0],
    };
  });
}

function shoelace(corners: readonly Vertex[]): number {
  return (
    corners.reduce((sum, a, index) => {
      const b = corners[(index + 1) % corners.length] as Vertex;
      return sum + a.x * b.y - b.x * a.y;
    }, 0) / 2
  );
}

/** Area of the band between the framing and its outline moved out by the thickness. */
function ringArea(corners: readonly Vertex[], walls: readonly PlanWall[], t: number): number {
  const moved = corners.map((at, index) => {
    const before = walls[(index + walls.length - 1) % walls.length] as PlanWall;
    const after = walls[index] as PlanWall;
    return {
      x: at.x + t * (before.out.x + after.out.x),
      y: at.y + t * (before.out.y + after.out.y),
    };
  });
  return shoelace(moved) - shoelace(corners);
}

/** Plan of one wall's panels: lower and upper corner of a rectangle. */
function panelPlan(wall: PlanWall, t: number): readonly [number, number, number, number] {
  const { startIn, endIn } = runSpan({ ...wall, thicknessIn: t });
  const at = (along: number, out: number): Vertex => ({
    x: wall.from.x + along * wall.along.x + out * wall.out.x,
    y: wall.from.y + along * wall.along.y + out * wall.out.y,
  });
  const a = at(startIn, 0);
  const b = at(endIn, t);
  return [Math.min(a.x, b.x), Math.min(a.y, b.y), Math.max(a.x, b.x), Math.max(a.y, b.y)];
}

const closed = fc
  .record({
    corners: plan,
    choices: fc.array(fc.boolean(), { minLength: 1, maxLength: 24 }),
    foam: FOAM,
  })
  .map(({ corners, choices, foam }) => ({
    corners,
    walls: wallsOf(corners, choices),
    t: foam + 0.625,
  }));

const sum = (list: readonly number[]): number => list.reduce((total, each) => total + each, 0);

describe("round a closed plan", () => {
  it("the runs add up to the perimeter plus four thicknesses", () => {
    let insideCorners = 0;
    fc.assert(
      fc.property(closed, ({ walls, t }) => {
        const lengths = sum(walls.map((wall) => wall.lengthIn));
        const total = sum(
          walls.map((wall) => runLength(wall.lengthIn, t, wall.leftEnd, wall.rightEnd))
        );
        expect(total).toBeCloseTo(lengths + 4 * t, 8);
        insideCorners += walls.filter((wall) => /tight|short/.test(wall.leftEnd)).length;
      }),
      runs
    );
    expect(insideCorners).toBeGreaterThan(300);
  });

  it("thickness times the runs is the plan area between framing and outline", () => {
    fc.assert(
      fc.property(closed, ({ corners, walls, t }) => {
        const total = sum(
          walls.map((wall) => runLength(wall.lengthIn, t, wall.leftEnd, wall.rightEnd))
        );
        expect(t * total).toBeCloseTo(ringArea(corners, walls, t), 6);
      }),
      runs
    );
  });

  it("no two walls' panels stand in the same place", () => {
    fc.assert(
      fc.property(closed, ({ walls, t }) => {
        const plans = walls.map((wall) => panelPlan(wall, t));
        plans.forEach(([ax, ay, bx, by], index) => {
          for (const [cx, cy, dx, dy] of plans.slice(index + 1)) {
            const wide = Math.min(bx, dx) - Math.max(ax, cx);
            const deep = Math.min(by, dy) - Math.max(ay, cy);
            expect(Math.min(wide, deep)).toBeLessThan(1e-9);
          }
        });
      }),
      runs
    );
  });

  it("the checks find no corner to fix, and find the one end that is changed", () => {
    const other: Record<WallEnd, WallEnd> = {
      past: "flush",
      flush: "past",
      tight: "short",
      short: "tight",
      free: "free",
    };
    const rows = (walls: readonly PlanWall[], withNext: boolean): Cell[][] => [
      ["Wall", "Length", "Height", "Left end", "Right end", ...(withNext ? ["Next wall"] : [])],
      ...walls.map((wall, index) => [
        `W${index}`,
        wall.lengthIn,
        96,
        wall.leftEnd,
        wall.rightEnd,
        ...(withNext ? [`W${(index + 1) % walls.length}`] : []),
      ]),
    ];
    const cornerFixes = (table: Cell[][]): string[] =>
      houseFindings(readHouse(table, [[null]], ASSEMBLY))
        .filter((each) => each.level === "fix")
        .map((each) => `${each.wall}: ${each.finding}`);
    fc.assert(
      fc.property(closed, fc.nat(), ({ walls }, pick) => {
        expect(cornerFixes(rows(walls, true))).toEqual([]);
        expect(cornerFixes(rows(walls, false))).toEqual([]);
        const at = pick % walls.length;
        const wrong = walls.map((wall, index) =>
          index === at ? { ...wall, rightEnd: other[wall.rightEnd] } : wall
        );
        expect(cornerFixes(rows(wrong, true))).toEqual([
          expect.stringMatching(new RegExp(`^W${at}: Right end is`)),
        ]);
        expect(cornerFixes(rows(wrong, false))).toEqual([
          expect.stringMatching(/^: (outside|inside) corners disagree/),
        ]);
      }),
      { ...runs, numRuns: 60 }
    );
  });
});

describe("round a mitred polygon", () => {
  it("each wall gains the offset of both its corners: P + 2 t x sum of tan(turn/2)", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 10, max: 100 }), { minLength: 3, maxLength: 9 }),
        FOAM,
        (shares, foam) => {
          const whole = sum(shares);
          const turns = shares.map((share) => (360 * share) / whole);
          if (turns.some((turn) => turn >= 170)) return;
          const t = foam + 0.625;
          // an outline round a circle of radius r: every side touches it, so side and outer side are known
          const r = 500;
          const side = (radius: number, index: number): number => {
            const a = turns[index] as number;
            const b = turns[(index + 1) % turns.length] as number;
            const half = (deg: number): number => Math.tan((deg * Math.PI) / 360);
            return radius * (half(a) + half(b));
          };
          const inner = sum(turns.map((_, index) => side(r, index)));
          const outer = sum(turns.map((_, index) => side(r + t, index)));
          const gained = 2 * sum(turns.map((turn) => cornerOffset(foam, 0.625, turn)));
          expect(outer - inner).toBeCloseTo(gained, 6);
        }
      ),
      runs
    );
  });
});
