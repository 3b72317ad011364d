/** Sheets being filled: blocks and spaces stay inside, apart by the saw cut, and come apart again. */
import fc from "fast-check";
import type { Block } from "../../../src/core/cut-plan/blocks.js";
import {
  type Least,
  type Part,
  type Sheet,
  copySheet,
  dropBlocks,
  findSpaces,
  isOfUse,
  leastOf,
  listBlocks,
  newPart,
  newSheet,
  putBlock,
  sheetCost,
  stockFor,
} from "../../../src/core/cut-plan/sheet.js";
import { law, modelOf } from "./small-problems.js";

const ANY: Least = [{ w: 1, h: 1 }];

function block(w: number, h: number, run = -1): Block {
  const area = w * h;
  const type = run < 0 ? 0 : -1;
  return { w, h, turned: 0, type, pair: null, run, from: 0, to: 1, area, worth: area + 1 };
}

interface Rectangle {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}

/** Where each block of a sheet lies, from its tree alone. */
function placed(sheet: Sheet): (Rectangle & { block: Block })[] {
  const found: (Rectangle & { block: Block })[] = [];
  const visit = (part: Part): void => {
    if (part.block) {
      found.push({ x: part.x, y: part.y, w: part.block.w, h: part.block.h, block: part.block });
    }
    if (part.first) visit(part.first);
    if (part.second) visit(part.second);
  };
  visit(sheet.root);
  return found;
}

function apart(a: Rectangle, b: Rectangle, kerf: number): boolean {
  return (
    a.x + a.w + kerf <= b.x ||
    b.x + b.w + kerf <= a.x ||
    a.y + a.h + kerf <= b.y ||
    b.y + b.h + kerf <= a.y
  );
}

/** Everything a sheet says of itself, held to its tree. */
function faultsOf(sheet: Sheet, kerf: number, least: Least): string[] {
  const faults: string[] = [];
  const blocks = placed(sheet);
  const inside = (one: Rectangle): boolean =>
    one.x >= 0 && one.y >= 0 && one.x + one.w <= sheet.w && one.y + one.h <= sheet.h;
  blocks.forEach((one, k) => {
    if (!inside(one)) faults.push(`block ${k} leaves the sheet`);
    blocks.slice(0, k).forEach((other, n) => {
      if (!apart(one, other, kerf)) faults.push(`blocks ${n} and ${k} are too near`);
    });
  });
  sheet.spaces.forEach((space, k) => {
    if (!inside(space)) faults.push(`space ${k} leaves the sheet`);
    if (!isOfUse(space.w, space.h, least)) faults.push(`space ${k} is of no use`);
    blocks.forEach((one, n) => {
      if (!apart(one, space, kerf)) faults.push(`space ${k} is too near block ${n}`);
    });
    sheet.spaces.slice(0, k).forEach((other, n) => {
      // right of and above one block overlap on purpose: only one of them will be used
      if (other.part !== space.part && !apart(space, other, kerf)) {
        faults.push(`spaces ${n} and ${k} are too near`);
      }
    });
  });
  const sum = (of: (one: Block) => number): number =>
    blocks.reduce((total, one) => total + of(one.block), 0);
  const said = [sheet.blocks, sheet.rips, sheet.area, sheet.worth, sheet.reach];
  const counted = [
    blocks.length,
    sum(({ run }) => (run >= 0 ? 1 : 0)),
    sum(({ area }) => area),
    sum(({ worth }) => worth),
    Math.max(0, ...blocks.map(({ y, h }) => y + h)),
  ];
  if (said.join() !== counted.join()) faults.push(`says ${said.join()}, holds ${counted.join()}`);
  const listed: Block[] = [];
  listBlocks(sheet.root, listed);
  if (listed.length !== blocks.length) faults.push("lists other blocks than it holds");
  return faults;
}

const shapeOf = (spaces: Sheet["spaces"]): string[] =>
  spaces.map(({ side, x, y, w, h }) => [side, x, y, w, h].join(" ")).sort();

interface Filled {
  readonly sheet: Sheet;
  readonly kerf: number;
  readonly least: Least;
  readonly put: Block[];
}

const puts = fc.record({
  kerf: fc.integer({ min: 0, max: 2 }),
  sizes: fc.array(
    fc.tuple(
      fc.integer({ min: 2, max: 9 }),
      fc.integer({ min: 2, max: 12 }),
      fc.nat(50),
      fc.boolean()
    ),
    { minLength: 1, maxLength: 8 }
  ),
});

/** Puts blocks into random spaces that hold them. */
function filled({
  kerf,
  sizes,
}: {
  kerf: number;
  sizes: [number, number, number, boolean][];
}): Filled {
  const least = leastOf(sizes.map(([w, h]) => ({ w, h })));
  const sheet = newSheet(-1, 16, 24);
  const put: Block[] = [];
  for (const [w, h, pick, isRip] of sizes) {
    const one = block(w, h, isRip ? 0 : -1);
    const holding = sheet.spaces.filter((space) => space.w >= w && space.h >= h);
    if (holding.length === 0) continue;
    putBlock(sheet, holding[pick % holding.length]!, one, kerf, least);
    put.push(one);
  }
  return { sheet, kerf, least, put };
}

describe("the smallest sizes", () => {
  it("by hand", () => {
    const sizes = [
      [5, 5],
      [3, 9],
      [4, 9],
      [3, 8],
      [6, 5],
      [7, 2],
    ].map(([w, h]) => ({ w: w!, h: h! }));
    const least = leastOf(sizes);
    expect(least).toEqual([
      { w: 3, h: 8 },
      { w: 5, h: 5 },
      { w: 7, h: 2 },
    ]);
    expect(isOfUse(3, 8, least)).toBe(true);
    expect(isOfUse(2, 8, least)).toBe(false);
    expect(isOfUse(3, 7, least)).toBe(false);
    expect(isOfUse(7, 2, least)).toBe(true);
    expect(isOfUse(6, 4, least)).toBe(false);
    expect(isOfUse(99, 1, least)).toBe(false);
    expect(isOfUse(9, 9, [])).toBe(false);
    expect(leastOf([])).toEqual([]);
  });
  it("tell of every rectangle whether one of the sizes goes in, none fitting inside another", () => {
    const sides = fc.integer({ min: 1, max: 9 });
    fc.assert(
      fc.property(fc.array(fc.record({ w: sides, h: sides }), { maxLength: 6 }), (sizes) => {
        const least = leastOf(sizes);
        for (const one of least) {
          expect(sizes).toContainEqual(one);
          expect(least.filter(({ w, h }) => w <= one.w && h <= one.h)).toEqual([one]);
        }
        const all = Array.from({ length: 100 }, (_, k) => ({ w: Math.floor(k / 10), h: k % 10 }));
        expect(all.map(({ w, h }) => isOfUse(w, h, least))).toEqual(
          all.map(({ w, h }) => sizes.some((one) => one.w <= w && one.h <= h))
        );
      }),
      law(41, 60)
    );
  });
});

describe("a sheet", () => {
  it("starts as one space", () => {
    const sheet = newSheet(2, 16, 24);
    expect(sheet).toMatchObject({
      scrap: 2,
      w: 16,
      h: 24,
      reach: 0,
      blocks: 0,
      rips: 0,
      area: 0,
      worth: 0,
    });
    expect(sheet.root).toEqual(newPart(0, 0, 16, 24));
    expect(newPart(1, 2, 3, 4)).toEqual({
      x: 1,
      y: 2,
      w: 3,
      h: 4,
      block: null,
      cut: "none",
      first: null,
      second: null,
    });
    expect(shapeOf(sheet.spaces)).toEqual(["all 0 0 16 24"]);
    expect(sheet.spaces[0]!.part).toBe(sheet.root);
  });

  it("has room right of and above its first block, then where the cut leaves it", () => {
    const sheet = newSheet(-1, 16, 24);
    putBlock(sheet, sheet.spaces[0]!, block(6, 10), 1, ANY);
    expect(shapeOf(sheet.spaces)).toEqual(["above 0 11 16 13", "right 7 0 9 24"]);
    const right = sheet.spaces.find(({ side }) => side === "right")!;
    putBlock(sheet, right, block(9, 20, 0), 1, ANY);
    expect(sheet.root.cut).toBe("plumb");
    expect(sheet.root.first).toMatchObject({ x: 0, y: 0, w: 6, h: 24 });
    expect(sheet.root.second).toMatchObject({ x: 7, y: 0, w: 9, h: 24 });
    expect(shapeOf(sheet.spaces)).toEqual(["above 0 11 6 13", "above 7 21 9 3"]);
    expect([sheet.reach, sheet.blocks, sheet.rips, sheet.area, sheet.worth]).toEqual([
      20, 2, 1, 240, 242,
    ]);
  });

  it("is cut level for a block above", () => {
    const sheet = newSheet(-1, 16, 24);
    putBlock(sheet, sheet.spaces[0]!, block(6, 10), 1, ANY);
    const above = sheet.spaces.find(({ side }) => side === "above")!;
    putBlock(sheet, above, block(16, 13), 1, ANY);
    expect(sheet.root.cut).toBe("level");
    expect(sheet.root.first).toMatchObject({ x: 0, y: 0, w: 16, h: 10 });
    expect(sheet.root.second).toMatchObject({ x: 0, y: 11, w: 16, h: 13 });
    expect(shapeOf(sheet.spaces)).toEqual(["right 7 0 9 10"]);
    expect(sheet.reach).toBe(24);
  });

  it("has no room narrower than the saw cut, nor one that nothing fits", () => {
    const sheet = newSheet(-1, 16, 24);
    putBlock(sheet, sheet.spaces[0]!, block(15, 23), 1, ANY);
    expect(sheet.spaces).toEqual([]);
    const wide = newSheet(-1, 16, 24);
    const least = [{ w: 4, h: 10 }];
    putBlock(wide, wide.spaces[0]!, block(11, 13), 1, least);
    expect(shapeOf(wide.spaces)).toEqual(["above 0 14 16 10", "right 12 0 4 24"]);
    const tight = newSheet(-1, 16, 24);
    putBlock(tight, tight.spaces[0]!, block(12, 14), 1, least);
    expect(tight.spaces).toEqual([]);
  });

  it("keeps blocks and spaces inside and apart, and counts right, whatever is put where", () => {
    fc.assert(
      fc.property(puts, (given) => {
        const { sheet, kerf, least, put } = filled(given);
        expect(faultsOf(sheet, kerf, least)).toEqual([]);
        expect(sheet.blocks).toBe(put.length);
        const found = copySheet(sheet);
        findSpaces(found, kerf, least);
        expect(shapeOf(found.spaces)).toEqual(shapeOf(sheet.spaces));
      }),
      law(42, 120)
    );
  });

  it("is copied whole: filling the copy leaves the first as it was", () => {
    fc.assert(
      fc.property(puts, (given) => {
        const { sheet, kerf, least } = filled(given);
        const before = JSON.stringify(sheet);
        const copy = copySheet(sheet);
        expect(JSON.stringify(copy)).toBe(before);
        const parts = new Set<Part>();
        const visit = (part: Part): void => {
          parts.add(part);
          if (part.first) visit(part.first);
          if (part.second) visit(part.second);
        };
        visit(copy.root);
        for (const space of copy.spaces) expect(parts.has(space.part)).toBe(true);
        while (copy.spaces.length > 0) {
          const space = copy.spaces[0]!;
          putBlock(copy, space, block(space.w, space.h), kerf, least);
        }
        expect(JSON.stringify(sheet)).toBe(before);
        expect(faultsOf(copy, kerf, least)).toEqual([]);
      }),
      law(43, 40)
    );
  });

  it("without some blocks is sound, keeps the others where they are, and leaves the first as it was", () => {
    fc.assert(
      fc.property(puts, fc.nat(255), (given, mask) => {
        const { sheet, kerf, least, put } = filled(given);
        const before = JSON.stringify(sheet);
        const out = new Set(put.filter((_, k) => (mask >> k) & 1));
        const dropped: Block[] = [];
        const rest = dropBlocks(sheet, (one) => out.has(one), dropped, kerf, least);
        expect(new Set(dropped)).toEqual(out);
        expect(dropped).toHaveLength(out.size);
        expect(faultsOf(rest, kerf, least)).toEqual([]);
        const where = (of: Sheet): string[] =>
          placed(of)
            .filter((one) => !out.has(one.block))
            .map(({ x, y, w, h }) => [x, y, w, h].join(" "));
        expect(where(rest)).toEqual(where(sheet));
        expect(rest.blocks).toBe(put.length - out.size);
        expect(JSON.stringify(sheet)).toBe(before);
        // what came out goes back in
        if (rest.blocks === 0) expect(shapeOf(rest.spaces)).toEqual(["all 0 0 16 24"]);
      }),
      law(44, 120)
    );
  });

  it("frees the whole of what its cuts divided for nothing", () => {
    const sheet = newSheet(-1, 16, 24);
    const low = block(6, 10);
    const high = block(16, 13);
    putBlock(sheet, sheet.spaces[0]!, low, 1, ANY);
    putBlock(
      sheet,
      sheet.spaces.find(({ side }) => side === "above")!,
      high,
      1,
      ANY
    );
    const withoutHigh = dropBlocks(sheet, (one) => one === high, [], 1, ANY);
    expect(withoutHigh.root.cut).toBe("none");
    expect(shapeOf(withoutHigh.spaces)).toEqual(["above 0 11 16 13", "right 7 0 9 24"]);
    // the block above still lies beyond a cut: the room below it is what the cut left
    const withoutLow = dropBlocks(sheet, (one) => one === low, [], 1, ANY);
    expect(withoutLow.root.cut).toBe("level");
    expect(shapeOf(withoutLow.spaces)).toEqual(["all 0 0 16 10"]);
    const useless = dropBlocks(sheet, (one) => one === low, [], 1, [{ w: 17, h: 1 }]);
    expect(useless.spaces).toEqual([]);
    const empty = dropBlocks(sheet, () => true, [], 1, ANY);
    expect(empty.root).toEqual(newPart(0, 0, 16, 24));
  });
});

describe("the panel bought for a sheet", () => {
  const model = modelOf({
    width: 16,
    stock: [
      [20, 30],
      [10, 12],
      [16, 30],
      [14, 40],
    ],
  });
  it("is the cheapest that reaches; of two at one price the longer", () => {
    expect([1, 10, 11, 16, 17, 20].map((reach) => stockFor(model, reach))).toEqual([
      1, 1, 0, 0, 0, 0,
    ]);
    expect(stockFor(model, 21)).toBe(-1);
    const other = modelOf({
      width: 16,
      stock: [
        [16, 30],
        [20, 30],
        [24, 30.5],
      ],
    });
    expect(stockFor(other, 3)).toBe(1);
    expect(stockFor(other, 21)).toBe(2);
  });
  it("costs nothing for scrap or an empty sheet", () => {
    const sheet = newSheet(-1, 16, 20);
    expect(sheetCost(model, sheet)).toBe(0);
    putBlock(sheet, sheet.spaces[0]!, block(3, 10), 0, ANY);
    expect(sheetCost(model, sheet)).toBe(12);
    const scrap = newSheet(0, 16, 20);
    putBlock(scrap, scrap.spaces[0]!, block(3, 10), 0, ANY);
    expect(sheetCost(model, scrap)).toBe(0);
  });
});
