/** Laws of a purchase for many houses, over seeded random orders. */
import fc from "fast-check";
import {
  type HouseNeed,
  type PurchaseLine,
  purchaseLines,
  releaseLines,
} from "../../src/core/house/roll-up.js";

const SEED = 20270315;

const need = fc.record({
  houseNumber: fc.integer({ min: 0, max: 9 }),
  item: fc.constantFrom("Tape", "Nails", "Panel"),
  size: fc.constantFrom("3 in", "6 in"),
  needed: fc.integer({ min: 1, max: 500_000 }).map((value) => value / 100),
  extra: fc.constantFrom(0, 0.05, 0.1),
  perPackage: fc.constantFrom(1, 75, 100, 2000),
  release: fc.constantFrom(undefined, "2027-03-01", "2027-04-01", "2028-01-01"),
});

const needs: fc.Arbitrary<HouseNeed[]> = fc
  .array(need, { minLength: 1, maxLength: 60 })
  .map((list) =>
    list.map(({ release, ...each }) => ({
      ...each,
      house: `Lot ${each.houseNumber}`,
      unit: each.item === "Tape" ? "ft" : "pieces",
      ...(release === undefined ? {} : { release }),
    }))
  );

const offers = fc
  .array(
    fc.record({
      item: fc.constantFrom("Tape", "Nails", "Panel"),
      size: fc.constantFrom("3 in", "6 in"),
      perPackage: fc.constantFrom(undefined, 50, 300),
      price: fc.constantFrom(undefined, 7, 30.5),
    }),
    { maxLength: 6 }
  )
  .map((list) =>
    list.map(({ item, size, perPackage, price }, at) => ({
      item,
      size,
      supplier: `${at}`,
      row: at + 2,
      ...(perPackage === undefined ? {} : { perPackage }),
      ...(price === undefined ? {} : { price }),
    }))
  );

function check(law: (lines: readonly PurchaseLine[], list: readonly HouseNeed[]) => void): void {
  fc.assert(
    fc.property(needs, offers, (list, priced) => law(purchaseLines(list, priced), list)),
    { seed: SEED, numRuns: 300 }
  );
}

const total = (values: readonly number[]): number => values.reduce((sum, each) => sum + each, 0);

it("never buys more together than house by house", () => {
  check((lines) => {
    for (const line of lines) {
      expect(line.saved).toBe(line.houseByHouse - line.order);
      expect(line.saved).toBeGreaterThanOrEqual(0);
    }
  });
});

it("buys enough, and less than one package too many", () => {
  check((lines) => {
    for (const line of lines) {
      const wanted = total(line.from.map((each) => each.needed * (1 + each.extra)));
      const bought = line.order * line.perPackage;
      expect(bought).toBeGreaterThanOrEqual(wanted * (1 - 1e-8));
      expect(bought - wanted).toBeLessThan(line.perPackage * (1 + 1e-8));
    }
  });
});

it("counts every line of every house once", () => {
  check((lines, list) => {
    const counted = lines.flatMap((line) => line.from);
    expect(counted).toHaveLength(list.length);
    expect(new Set(counted)).toEqual(new Set(list));
    expect(total(lines.map((line) => line.needed))).toBeCloseTo(
      total(list.map((each) => each.needed)),
      3
    );
  });
});

it("does not mind the order of the houses", () => {
  check((lines, list) => {
    const turned = purchaseLines([...list].reverse(), []);
    const plain = purchaseLines(list, []);
    const shown = (some: readonly PurchaseLine[]): string[] =>
      some.map((each) => `${each.item} ${each.size} ${each.perPackage} ${each.order}`).sort();
    expect(shown(turned)).toEqual(shown(plain));
    expect(lines.length).toBeGreaterThan(0);
  });
});

it("delivers in whole packages that add up to the order", () => {
  check((lines) => {
    const delivered = releaseLines(lines);
    for (const each of delivered) {
      expect(Number.isInteger(each.deliver) && each.deliver >= 0).toBe(true);
      expect(each.deliver).toBeLessThanOrEqual(each.alone);
    }
    expect(total(delivered.map((each) => each.deliver))).toBe(
      total(lines.map((line) => line.order))
    );
  });
});

it("never gives a cost without a price, nor a number that is none", () => {
  check((lines) => {
    for (const line of lines) {
      expect(line.cost === undefined).toBe(line.price === undefined);
      for (const value of [line.needed, line.extra, line.order, line.cost ?? 0]) {
        expect(Number.isFinite(value) && !Object.is(value, -0)).toBe(true);
      }
    }
  });
});
