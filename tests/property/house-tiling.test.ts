/** Laws of a wall cut up: the pieces tile it, seams stand on studs, nails stand in wood. */
import fc from "fast-check";
import type { planCuts } from "../../src/core/cut-plan/plan-cuts.js";
import type { CutProblem } from "../../src/core/cut-plan/problem.js";
import { type WallTakeoff, pieceNails, takeoffHouse } from "../../src/core/house/takeoff.js";
import type { WallPiece } from "../../src/core/house/wall-pieces.js";
import { type Rectangle, type Region, areaOn, lineAt, regionArea, sharedArea } from "./geometry.js";
import { houseCase, inUnit, mirrored, tablesOf, takeoffOf } from "./house-cases.js";

// where pieces lie on panels is not asked here: only the rips are planned, which is quick
jest.mock("../../src/core/cut-plan/plan-cuts.js", () => {
  const actual = jest.requireActual<{ planCuts: typeof planCuts }>(
    "../../src/core/cut-plan/plan-cuts.js"
  );
  return {
    planCuts: (problem: CutProblem) =>
      actual.planCuts({ ...problem, pieces: [], scrap: [] }, "quick"),
  };
});

const SEED = 20261126;
const runs = { seed: SEED, numRuns: 150 };
/** sq in of rounding that a wall of a thousand square feet may show */
const AREA_SLACK = 1e-4;
const SLACK = 1e-6;

function face({ cut }: WallTakeoff): Region {
  const { startIn, endIn } = cut.wall.span;
  return { leftIn: startIn, rightIn: endIn, bottomIn: -cut.wall.belowIn, top: cut.wall.top };
}
function holes({ cut }: WallTakeoff): Rectangle[] {
  return cut.openings.map(({ leftIn, rightIn, bottomIn, topIn }) => ({
    leftIn,
    rightIn,
    bottomIn,
    topIn,
  }));
}
const sum = (list: readonly number[]): number => list.reduce((total, each) => total + each, 0);

function isLevelRectangle(piece: WallPiece): boolean {
  const [a, b] = piece.top;
  return piece.top.length === 2 && a?.heightIn === b?.heightIn;
}

describe("pieces of a wall", () => {
  it("tile its face outside the openings exactly, without overlap", () => {
    let checked = 0;
    fc.assert(
      fc.property(houseCase(2), (house) => {
        for (const wall of takeoffOf(house).built) {
          const whole = face(wall);
          const openings = holes(wall);
          const pieces = wall.pieces.map((each) => each.piece);
          // each piece lies on the face
          for (const piece of pieces) {
            expect(Math.abs(sharedArea(piece, whole) - regionArea(piece))).toBeLessThan(AREA_SLACK);
          }
          // no two share any of it
          pieces.forEach((a, index) => {
            for (const b of pieces.slice(index + 1)) {
              expect(sharedArea(a, b)).toBeLessThan(AREA_SLACK);
            }
          });
          // and what they do not cover lies in openings
          const covered = (piece: Region): number =>
            regionArea(piece) - sum(openings.map((box) => areaOn(piece, box)));
          expect(Math.abs(sum(pieces.map(covered)) - covered(whole))).toBeLessThan(AREA_SLACK);
          checked += pieces.length;
        }
      }),
      runs
    );
    expect(checked).toBeGreaterThan(1500);
  });

  it("have exactly the openings' parts routed out, and no panel is cut in two by one", () => {
    let routed = 0;
    fc.assert(
      fc.property(houseCase(2), (house) => {
        for (const wall of takeoffOf(house).built) {
          for (const { piece } of wall.pieces) {
            const parts = piece.routed.map(
              ({ box }) => (box.rightIn - box.leftIn) * (box.topIn - box.bottomIn)
            );
            const taken = holes(wall).map((box) => areaOn(piece, box));
            expect(Math.abs(sum(parts) - sum(taken))).toBeLessThan(AREA_SLACK);
            routed += parts.length;
            if (piece.kind === "rip") continue;
            for (const { box } of piece.routed) {
              expect(box.rightIn - box.leftIn).toBeLessThan(piece.rightIn - piece.leftIn - SLACK);
            }
          }
        }
      }),
      runs
    );
    expect(routed).toBeGreaterThan(200);
  });

  it("fit a stocked panel: no wider than the panel, no longer than the longest", () => {
    fc.assert(
      fc.property(houseCase(2), (house) => {
        const { built, settings } = takeoffOf(house);
        const longest = Math.max(...settings.panelLengthsIn);
        for (const { piece } of built.flatMap((wall) => wall.pieces)) {
          const height = Math.max(...piece.top.map((point) => point.heightIn)) - piece.bottomIn;
          const [across, along] =
            piece.kind === "panel"
              ? [piece.rightIn - piece.leftIn, height]
              : [height, piece.rightIn - piece.leftIn];
          expect(across).toBeLessThanOrEqual(settings.panelWidthIn + SLACK);
          expect(along).toBeLessThanOrEqual(longest + SLACK);
          expect(height).toBeGreaterThan(0);
          expect(piece.rightIn).toBeGreaterThan(piece.leftIn);
        }
      }),
      runs
    );
  });
});

describe("tables in feet or millimeters", () => {
  it("give the same pieces, seams and joints as inches, to a hair", () => {
    fc.assert(
      fc.property(houseCase(2), fc.constantFrom<"ft" | "mm">("ft", "mm"), (house, unit) => {
        const [walls, openings, settings] = tablesOf(house);
        const other = takeoffHouse(inUnit(walls, unit), inUnit(openings, unit), settings).built;
        takeoffOf(house).built.forEach((wall, index) => {
          const twin = other[index] as WallTakeoff;
          const numbers = ({ cut, pieces, nailCount, seamTapeFt }: WallTakeoff): number[] => [
            nailCount,
            seamTapeFt,
            ...cut.seams,
            ...cut.ripRuns.flatMap((run) => [run.bottomIn, run.topIn, ...run.jointsIn]),
            ...pieces.flatMap(({ piece }) => [
              piece.bottomIn,
              piece.routed.length,
              ...piece.top.flatMap((point) => [point.xIn, point.heightIn]),
            ]),
          ];
          const [a, b] = [numbers(wall), numbers(twin)];
          expect(b).toHaveLength(a.length);
          expect(a.filter((each, at) => Math.abs(each - (b[at] as number)) > 1e-5)).toEqual([]);
        });
      }),
      runs
    );
  });
});

describe("seams and joints", () => {
  it("panels break on studs, and no column is under one stud space", () => {
    let seen = 0;
    fc.assert(
      fc.property(houseCase(2), (house) => {
        for (const { cut } of takeoffOf(house).built) {
          const { span, spacingIn } = cut.wall;
          for (const seam of cut.seams) {
            expect(cut.studs.some((stud) => Math.abs(stud.centerIn - seam) < SLACK)).toBe(true);
            seen++;
          }
          const edges = [span.startIn, ...cut.seams, span.endIn];
          for (let index = 1; index < edges.length; index++) {
            const width = (edges[index] as number) - (edges[index - 1] as number);
            expect(width).toBeLessThanOrEqual(48 + SLACK);
            if (edges.length > 2) expect(width).toBeGreaterThanOrEqual(spacingIn - SLACK);
          }
        }
      }),
      runs
    );
    expect(seen).toBeGreaterThan(500);
  });

  it("rips join on studs, at a jamb or at the wall's end, never under one stud space", () => {
    let seen = 0;
    fc.assert(
      fc.property(houseCase(2), (house) => {
        for (const wall of takeoffOf(house).built) {
          const { cut } = wall;
          const runEnds = cut.ripRuns.flatMap((run) => [run.leftIn, run.rightIn]);
          for (const { piece } of wall.pieces.filter((each) => each.piece.kind === "rip")) {
            seen++;
            for (const x of [piece.leftIn, piece.rightIn]) {
              const isOnStud = cut.studs.some((stud) => Math.abs(stud.centerIn - x) < 1 / 1024);
              expect(isOnStud || runEnds.some((end) => Math.abs(end - x) < SLACK)).toBe(true);
            }
            const run = cut.ripRuns.find(
              (each) =>
                each.leftIn <= piece.leftIn + 0.001 &&
                each.rightIn >= piece.rightIn - 0.001 &&
                Math.abs(each.bottomIn - piece.bottomIn) < SLACK
            );
            expect(run).toBeDefined();
            if (!run) continue;
            const least = Math.min(cut.wall.spacingIn, run.rightIn - run.leftIn);
            expect(piece.rightIn - piece.leftIn).toBeGreaterThanOrEqual(least - 0.002);
          }
          const stops = [
            cut.wall.span.startIn,
            cut.wall.span.endIn,
            ...holes(wall).flatMap((box) => [box.leftIn, box.rightIn]),
          ];
          for (const end of runEnds) {
            expect(stops.some((stop) => Math.abs(stop - end) < SLACK)).toBe(true);
          }
        }
      }),
      runs
    );
    expect(seen).toBeGreaterThan(100);
  });

  it("seam feet are the lengths of the seams, none inside an opening", () => {
    fc.assert(
      fc.property(houseCase(2), (house) => {
        for (const wall of takeoffOf(house).built) {
          expect(wall.seamTapeFt * 12).toBeCloseTo(sum(wall.seams.map((each) => each.lengthIn)), 6);
          for (const seam of wall.seams) {
            const x = (seam.fromX + seam.toX) / 2;
            const y = (seam.fromY + seam.toY) / 2;
            for (const box of holes(wall)) {
              const inside =
                x > box.leftIn + SLACK &&
                x < box.rightIn - SLACK &&
                y > box.bottomIn + SLACK &&
                y < box.topIn - SLACK;
              expect(inside).toBe(false);
            }
            expect(seam.lengthIn).toBeGreaterThan(0);
          }
        }
      }),
      runs
    );
  });
});

describe("nails", () => {
  it("stand inside their piece and outside the openings", () => {
    let count = 0;
    fc.assert(
      fc.property(houseCase(2), (house) => {
        const { built, settings } = takeoffOf(house);
        for (const wall of built) {
          for (const { piece } of wall.pieces) {
            for (const { xIn, yIn } of pieceNails(wall.cut, piece, settings.studIn)) {
              count++;
              const isOn =
                xIn >= piece.leftIn - SLACK &&
                xIn <= piece.rightIn + SLACK &&
                yIn >= piece.bottomIn - SLACK &&
                yIn <= lineAt(piece.top, xIn) + SLACK;
              const isInHole = holes(wall).some(
                (box) =>
                  xIn > box.leftIn + SLACK &&
                  xIn < box.rightIn - SLACK &&
                  yIn > box.bottomIn + SLACK &&
                  yIn < box.topIn - SLACK
              );
              if (!isOn || isInHole) {
                throw new Error(`nail at ${xIn}, ${yIn} of ${JSON.stringify(piece)}`);
              }
            }
          }
        }
      }),
      runs
    );
    expect(count).toBeGreaterThan(50_000);
  });

  it("of a whole rectangle are as many as the formula says", () => {
    let seen = 0;
    fc.assert(
      fc.property(houseCase(2), (house) => {
        const { built, settings } = takeoffOf(house);
        for (const { cut, pieces } of built) {
          for (const { piece } of pieces) {
            if (piece.routed.length > 0 || !isLevelRectangle(piece)) continue;
            const width = piece.rightIn - piece.leftIn;
            const height = (piece.top[0]?.heightIn as number) - piece.bottomIn;
            const between = cut.studs.filter(
              (stud) =>
                !stud.isEndStud &&
                stud.centerIn > piece.leftIn + SLACK &&
                stud.centerIn < piece.rightIn - SLACK
            ).length;
            const up = (length: number, each: number): number => Math.ceil(length / each - 1e-9);
            expect(pieceNails(cut, piece, settings.studIn)).toHaveLength(
              2 * up(height, 6) + 2 * up(width, 6) + between * (up(height, 12) - 1)
            );
            seen++;
          }
        }
      }),
      runs
    );
    expect(seen).toBeGreaterThan(500);
  });
});

describe("a mirrored house", () => {
  it("has mirrored studs, seams and pieces, and as many nails", () => {
    fc.assert(
      fc.property(houseCase(1), (house) => {
        const one = takeoffOf(house).built[0] as WallTakeoff;
        const other = takeoffOf(mirrored(house)).built[0] as WallTakeoff;
        const { lengthIn } = one.cut.wall;
        const flip = (list: readonly number[]): number[] => list.map((x) => lengthIn - x).reverse();
        const close = (a: readonly number[], b: readonly number[]): void => {
          expect(a).toHaveLength(b.length);
          a.forEach((x, index) => expect(x).toBeCloseTo(b[index] as number, 9));
        };
        const centers = (wall: WallTakeoff): number[] => wall.cut.studs.map((s) => s.centerIn);
        close(centers(other), flip(centers(one)));
        close(other.cut.seams, flip(one.cut.seams));
        const panels = (wall: WallTakeoff, isFlipped: boolean): number[] =>
          wall.pieces
            .filter((each) => each.piece.kind === "panel")
            .map(({ piece }) => [
              isFlipped ? lengthIn - piece.rightIn : piece.leftIn,
              piece.bottomIn,
              piece.rightIn - piece.leftIn,
              regionArea(piece),
            ])
            .sort(
              (a, b) => (a[0] as number) - (b[0] as number) || (a[1] as number) - (b[1] as number)
            )
            .flat();
        close(panels(other, true), panels(one, false));
        if (one.cut.ripRuns.length === 0) expect(other.nailCount).toBe(one.nailCount);
      }),
      runs
    );
  });
});
