/**
 * Every published value this project compares itself with, in the order of docs/checks.md.
 * To add figures: a file of rows beside this one, and its name here.
 */
import { cuttingRows } from "./cutting.js";
import { layoutRows } from "./layout.js";
import { lengthRows } from "./lengths.js";
import { moistureRows } from "./moisture.js";
import { nailRows } from "./nails.js";
import type { ValidationRow } from "./row.js";
import { wallRows } from "./walls.js";

export const validationRows: readonly ValidationRow[] = [
  ...nailRows,
  ...wallRows,
  ...moistureRows,
  ...layoutRows,
  ...lengthRows,
  ...cuttingRows,
];

export { lookUps, notCompared } from "./look-ups.js";
