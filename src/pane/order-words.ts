/** The order in the words of the trade: rolls of tape, boxes of nails. */
import type { OrderLine } from "../core/house/order.js";

type Words = readonly [one: string, many: string];

/** What one of an item is called where it is bought; anything else comes in packages. */
const WORDS: Readonly<Record<string, Words>> = {
  Tape: ["roll", "rolls"],
  Nails: ["box", "boxes"],
  "Backing lumber": ["piece", "pieces"],
  "Blocking lumber": ["piece", "pieces"],
};
const PANELS: Words = ["panel", "panels"];
const PACKAGES: Words = ["package", "packages"];

function figure(value: number): string {
  return value.toLocaleString("en-US", { maximumFractionDigits: 2 });
}

/** How many to buy and of what: "18 rolls", "1 box". */
export function orderCount({ item, order, perPackage }: OrderLine): string {
  const single = item === "Panel" && perPackage === 1 ? PANELS : PACKAGES;
  const [one, many] = WORDS[item] ?? single;
  return `${figure(order)} ${order === 1 ? one : many}`;
}

/** What one of them holds: "100 ft each"; nothing where it is the thing itself. */
export function packageText({ perPackage, unit }: OrderLine): string {
  return perPackage === 1 ? "" : `${figure(perPackage)} ${unit} each`;
}
