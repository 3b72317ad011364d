/** The order in the words of the trade. */
import type { OrderLine } from "../../src/core/house/order.js";
import { orderCount, packageText } from "../../src/pane/order-words.js";

const line = (item: string, order: number, perPackage: number, unit: string): OrderLine => ({
  item,
  size: "",
  needed: order,
  unit,
  extra: 0,
  perPackage,
  order,
  note: "",
});

test.each([
  [line("Tape", 18, 100, "ft"), "18 rolls", "100 ft each"],
  [line("Tape", 1, 100, "ft"), "1 roll", "100 ft each"],
  [line("Nails", 4, 2000, "nails"), "4 boxes", "2,000 nails each"],
  [line("Nails", 1, 2000, "nails"), "1 box", "2,000 nails each"],
  [line("Blocking lumber", 10, 13, "blocks"), "10 pieces", "13 blocks each"],
  [line("Backing lumber", 1, 1, "pieces"), "1 piece", ""],
  [line("Panel", 22, 1, "panels"), "22 panels", ""],
  [line("Panel", 1, 1, "panels"), "1 panel", ""],
  [line("Panel", 2, 20, "panels"), "2 packages", "20 panels each"],
  [line("Screws", 1200, 2.5, "lb"), "1,200 packages", "2.5 lb each"],
])("%#: %j", (given, count, each) => {
  expect([orderCount(given), packageText(given)]).toEqual([count, each]);
});
