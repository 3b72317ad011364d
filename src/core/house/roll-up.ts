/**
 * One purchase for many houses: need is added over the houses first and rounded up to whole packages once. Panels are
 * cut house by house, so their need is already whole.
 */
import { type Limits, checkNumber, checkRecord, shown, wrongKind } from "../check.js";
import { LIMITS } from "../limits.js";
import { wholePackages } from "../tape.js";
import { PRICE_LIMITS, type PriceOffer, itemKey } from "./price-list.js";
import { nameKey } from "./tables.js";

/** One line of one house's order. */
export interface HouseNeed {
  /** a number of its own for each house, so that two of one name stay two */
  readonly houseNumber: number;
  readonly house: string;
  /** year-month-day; undefined where the house has none */
  readonly release?: string;
  readonly item: string;
  readonly size: string;
  /** before the spare share and before rounding */
  readonly needed: number;
  readonly unit: string;
  /** spare share: 0.05 is 5 % */
  readonly extra: number;
  readonly perPackage: number;
}

export interface PurchaseLine {
  readonly item: string;
  readonly size: string;
  /** how many houses need it */
  readonly houses: number;
  /** sum over the houses, before the spare share */
  readonly needed: number;
  readonly unit: string;
  /** spare share of the sum; where houses differ, what theirs come to together */
  readonly extra: number;
  readonly perPackage: number;
  /** whole packages when all houses are bought together */
  readonly order: number;
  /** whole packages when each house is bought by itself */
  readonly houseByHouse: number;
  readonly saved: number;
  /** of one package; undefined where nobody gave one */
  readonly price?: number;
  readonly cost?: number;
  readonly supplier: string;
  readonly note: string;
  /** the lines of the houses that were added up */
  readonly from: readonly HouseNeed[];
}

/** Blocks come out of a stick: how many is a matter of their length, not of the supplier. */
const CUT_UNIT = "blocks";

/** Noise of adding many binary fractions, far below anything that is bought. */
function tidySum(value: number): number {
  return Number(value.toFixed(6));
}

/** More of one thing than any house needs, so that sums stay exact. */
const MOST_NEEDED = 1e9;
const NEED_LIMITS: Readonly<Record<"houseNumber" | "needed" | "extra" | "perPackage", Limits>> = {
  houseNumber: {},
  needed: { min: 0, max: MOST_NEEDED },
  extra: LIMITS.share,
  perPackage: PRICE_LIMITS.perPackage,
};

function checkText(name: string, value: unknown): void {
  if (typeof value !== "string") throw wrongKind(`${name} must be text; got ${shown(value)}`);
}

function checkList(name: string, value: unknown): void {
  if (!Array.isArray(value)) throw wrongKind(`${name} must be a list; got ${shown(value)}`);
}

function checkNeeds(needs: readonly HouseNeed[]): void {
  checkList("needs", needs);
  for (const need of needs) {
    checkRecord("a need", need);
    for (const name of ["house", "item", "size", "unit"] as const) checkText(name, need[name]);
    if (need.release !== undefined) checkText("release", need.release);
    checkNumber("house number", need.houseNumber, NEED_LIMITS.houseNumber);
    checkNumber("needed", need.needed, NEED_LIMITS.needed);
    checkNumber("extra", need.extra, NEED_LIMITS.extra);
    checkNumber("per package", need.perPackage, NEED_LIMITS.perPackage);
  }
}

function checkOffers(offers: readonly PriceOffer[]): void {
  checkList("offers", offers);
  for (const offer of offers) {
    checkRecord("an offer", offer);
    for (const name of ["item", "size", "supplier"] as const) checkText(name, offer[name]);
    const { price, perPackage } = offer;
    if (price !== undefined) checkNumber("price", price, PRICE_LIMITS.price);
    if (perPackage !== undefined) checkNumber("per package", perPackage, PRICE_LIMITS.perPackage);
  }
}

function withExtra(needs: readonly HouseNeed[]): number {
  return needs.reduce((sum, each) => sum + each.needed * (1 + each.extra), 0);
}

function houseCount(needs: readonly HouseNeed[]): number {
  return new Set(needs.map((each) => each.houseNumber)).size;
}

function counted(count: number): string {
  return `${count} house${count === 1 ? "" : "s"}`;
}

function grouped<T, K>(items: readonly T[], keyOf: (item: T) => K): Map<K, T[]> {
  const groups = new Map<K, T[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group) group.push(item);
    else groups.set(key, [item]);
  }
  return groups;
}

/** `5 % in 2 houses, 10 % in 1 house` where houses differ; else nothing. */
function differing(
  needs: readonly HouseNeed[],
  valueOf: (need: HouseNeed) => number,
  shown: (value: number) => string
): string {
  const groups = [...grouped(needs, valueOf)].sort(([a], [b]) => a - b);
  if (groups.length < 2) return "";
  return groups
    .map(([value, some]) => `${shown(value)} in ${counted(houseCount(some))}`)
    .join(", ");
}

function percent(share: number): string {
  return `${Number((100 * share).toFixed(2))} %`;
}

/** The parts of one item's need that are bought as one package: with a supplier's package, all of it. */
function packageGroups(
  needs: readonly HouseNeed[],
  perPackage: number | undefined
): { perPackage: number; needs: readonly HouseNeed[] }[] {
  if (perPackage !== undefined) return [{ perPackage, needs }];
  return [...grouped(needs, (each) => each.perPackage)]
    .sort(([a], [b]) => a - b)
    .map(([size, some]) => ({ perPackage: size, needs: some }));
}

function packagesOf(needs: readonly HouseNeed[], perPackage: number): number {
  const { unit } = needs[0] as HouseNeed;
  return wholePackages(unit, withExtra(needs), "per package", perPackage, 0);
}

/** What the supplier puts in a package; nothing where the need, all of one unit, is cut from sticks. */
function supplierPackage(needs: readonly HouseNeed[], offer: PriceOffer): number | undefined {
  return nameKey((needs[0] as HouseNeed).unit) === CUT_UNIT ? undefined : offer.perPackage;
}

/** What an offer comes to for all that is needed of its item. */
function offerCost(needs: readonly HouseNeed[], offer: PriceOffer): number {
  if (offer.price === undefined) return Infinity;
  const groups = packageGroups(needs, supplierPackage(needs, offer));
  return groups.reduce(
    (sum, group) => sum + packagesOf(group.needs, group.perPackage) * (offer.price as number),
    0
  );
}

/** The offer that costs least for this need; the first in the list where two cost the same. */
function bestOffer(
  needs: readonly HouseNeed[],
  offers: readonly PriceOffer[]
): PriceOffer | undefined {
  let best = offers[0];
  for (const offer of offers) {
    if (offerCost(needs, offer) < offerCost(needs, best as PriceOffer)) best = offer;
  }
  return best;
}

function notesOf(
  needs: readonly HouseNeed[],
  all: readonly HouseNeed[],
  offers: readonly PriceOffer[],
  offer: PriceOffer | undefined,
  isPriced: boolean
): string {
  const notes: string[] = [];
  const extras = differing(needs, (each) => each.extra, percent);
  if (extras !== "") notes.push(`houses differ in extra: ${extras}; each house's own is counted`);
  const sizes = differing(all, (each) => each.perPackage, String);
  const taken = offer && supplierPackage(all, offer);
  if (taken !== undefined) {
    const said = [...new Set(all.map((each) => each.perPackage))].sort((a, b) => a - b);
    if (said.some((size) => size !== taken)) {
      notes.push(`supplier's package of ${taken}; the house workbooks say ${said.join(" and ")}`);
    }
  } else if (sizes !== "") {
    notes.push(`houses differ in what is in a package, so each has a line: ${sizes}`);
  }
  if (offer?.perPackage !== undefined && taken === undefined) {
    notes.push(
      "Per package of the price list is not used: the count is what is cut from one stick"
    );
  }
  const priced = offers.filter((each) => each.price !== undefined).length;
  if (priced > 1) notes.push(`cheapest of ${priced} offers`);
  if (isPriced && offer?.price === undefined) notes.push("no price");
  return notes.join("; ");
}

function purchaseLine(
  needs: readonly HouseNeed[],
  perPackage: number,
  offer: PriceOffer | undefined,
  note: string
): PurchaseLine {
  const first = needs[0] as HouseNeed;
  const needed = needs.reduce((sum, each) => sum + each.needed, 0);
  const order = packagesOf(needs, perPackage);
  const alone = [...grouped(needs, (each) => each.houseNumber).values()];
  const houseByHouse = alone.reduce((sum, own) => sum + packagesOf(own, perPackage), 0);
  return {
    item: first.item,
    size: first.size,
    houses: alone.length,
    needed: tidySum(needed),
    unit: first.unit,
    extra: tidySum(needed === 0 ? first.extra : withExtra(needs) / needed - 1),
    perPackage,
    order,
    houseByHouse,
    saved: houseByHouse - order,
    ...(offer?.price === undefined ? {} : { price: offer.price, cost: order * offer.price }),
    supplier: offer?.supplier ?? "",
    note,
    from: needs,
  };
}

/**
 * Adds the orders of several houses up to one purchase. Need is added before it is rounded to whole
 * packages. Houses that differ in what is in a package get a line each, unless the price list names
 * the supplier's package; houses that differ in extra are added with their own extra. Both are said
 * in the note.
 *
 * @param needs  order lines of every house; needed 0 to 1,000,000,000, extra 0 or more and less than 1, in a package
 *   0.001 to 1,000,000,000
 * @param offers price list; where an item has several offers the one that costs least is taken
 * @returns one line for each item, size and package, in the order the houses name them
 * @shape rows of item, size, houses, needed, unit, extra, perPackage, order, houseByHouse, saved, price, cost, supplier,
 *   note, from
 * @throws {CalcError} out-of-range, wrong-kind: a need, an extra or a package that is no such thing
 * @source arithmetic; add before rounding
 * @example purchaseLines([0, 1].map((n) => ({ houseNumber: n, house: "Lot", item: "Nails", size: "3 1/2 in", needed: 900, unit: "nails", extra: 0, perPackage: 2000 })), [])[0]?.saved // => 1
 */
export function purchaseLines(
  needs: readonly HouseNeed[],
  offers: readonly PriceOffer[]
): PurchaseLine[] {
  checkNeeds(needs);
  checkOffers(offers);
  const offersOf = grouped(offers, itemKey);
  return itemsTogether(needs).flatMap((all) => {
    const some = offersOf.get(itemKey(all[0] as HouseNeed)) ?? [];
    const offer = bestOffer(all, some);
    const groups = packageGroups(all, offer && supplierPackage(all, offer));
    return groups.map((group) => {
      const note = notesOf(group.needs, all, some, offer, offers.length > 0);
      return purchaseLine(group.needs, group.perPackage, offer, note);
    });
  });
}

/** 96 stands before 108. */
const bySize = new Intl.Collator("en", { numeric: true });

/** Needs of one item, size and unit together; items in the order they are first named, their sizes side by side. */
function itemsTogether(needs: readonly HouseNeed[]): HouseNeed[][] {
  return [...grouped(needs, (each) => nameKey(each.item)).values()].flatMap((item) =>
    [...grouped(item, (each) => `${itemKey(each)}|${nameKey(each.unit)}`).values()].sort(
      ([a], [b]) => bySize.compare((a as HouseNeed).size, (b as HouseNeed).size)
    )
  );
}

/** Offers of a price list that are for nothing in the orders: often a size written in another way. */
export function unusedOffers(
  needs: readonly HouseNeed[],
  offers: readonly PriceOffer[]
): PriceOffer[] {
  const wanted = new Set(needs.map(itemKey));
  return offers.filter((offer) => !wanted.has(itemKey(offer)));
}

export interface ReleaseLine {
  /** year-month-day; undefined for the houses without a date, which come last */
  readonly release?: string;
  readonly houses: readonly string[];
  readonly item: string;
  readonly size: string;
  readonly needed: number;
  readonly unit: string;
  readonly perPackage: number;
  /** packages if this release were bought by itself */
  readonly alone: number;
  /** packages to have delivered with it when all are bought together; they add up to the order */
  readonly deliver: number;
}

/** Dates in order, no date last. */
function byRelease(a: string | undefined, b: string | undefined): number {
  if (a === b) return 0;
  if (a === undefined) return 1;
  return b === undefined || a < b ? -1 : 1;
}

/**
 * What each release takes of the purchase: packages are delivered when the running need reaches into
 * them, so that the deliveries add up to the order made together.
 *
 * @param lines lines of {@link purchaseLines}
 * @returns one line for each release and purchase line, by date; houses without a date come last
 * @shape rows of release, houses, item, size, needed, unit, perPackage, alone, deliver
 * @throws {CalcError} as purchaseLines
 * @source arithmetic; packages of the running need less those of the need before it
 * @example releaseLines(purchaseLines(["2027-03-01", "2027-04-01"].map((release, n) => ({ houseNumber: n, house: "Lot", release, item: "Nails", size: "3 1/2 in", needed: 900, unit: "nails", extra: 0, perPackage: 2000 })), [])).map((line) => line.deliver) // => [1, 0]
 */
export function releaseLines(lines: readonly PurchaseLine[]): ReleaseLine[] {
  return lines
    .flatMap((line) => {
      let before: HouseNeed[] = [];
      const groups = [...grouped(line.from, (each) => each.release)];
      return groups
        .sort(([a], [b]) => byRelease(a, b))
        .map(([release, needs]): ReleaseLine => {
          const already = before.length === 0 ? 0 : packagesOf(before, line.perPackage);
          before = [...before, ...needs];
          return {
            ...(release === undefined ? {} : { release }),
            houses: [...new Set(needs.map((each) => each.house))],
            item: line.item,
            size: line.size,
            needed: tidySum(needs.reduce((sum, each) => sum + each.needed, 0)),
            unit: line.unit,
            perPackage: line.perPackage,
            alone: packagesOf(needs, line.perPackage),
            deliver: packagesOf(before, line.perPackage) - already,
          };
        });
    })
    .sort((a, b) => byRelease(a.release, b.release));
}
