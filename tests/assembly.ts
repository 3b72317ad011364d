/** The panel of a test that needs some panel: 1-1/4 in of foam on 5/8 in of wood, 1-7/8 in all. */
import type { Cell } from "../src/core/house/tables.js";

export const ASSEMBLY: readonly Cell[][] = [
  ["Foam", "1-1/4"],
  ["Panel", "5/8"],
];

/** Settings with that panel after them, where they name none. */
export function withAssembly(settings: readonly (readonly Cell[])[]): Cell[][] {
  const isGiven = (name: Cell): boolean => settings.some(([given]) => given === name);
  return [...settings.map((row) => [...row]), ...ASSEMBLY.filter(([name]) => !isGiven(name))];
}
