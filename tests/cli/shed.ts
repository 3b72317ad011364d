/** The house that the tests of the commands take off. */
import fs from "node:fs";
import path from "node:path";
import { file, type Cells } from "../host/make.js";
import { emptyFolder } from "./run.js";

/** A shed of four walls, its order and its checks. */
export const SHED: Readonly<Record<string, Cells>> = {
  Setup: {
    ...row(1, "Setting", "Value"),
    ...row(2, "Foam", "1-1/4"),
    ...row(3, "Panel", "5/8"),
  },
  Walls: {
    ...row(1, "Wall", "Length", "Height", "Left end", "Right end"),
    ...row(2, "North", "6'", "8'", "past", "past"),
    ...row(3, "East", "4'", "8'", "flush", "flush"),
    ...row(4, "South", "6'", "8'", "past", "past"),
    ...row(5, "West", "4'", "8'", "flush", "flush"),
  },
  Openings: {
    ...row(1, "Wall", "Opening", "From left", "Sill", "Width", "Height"),
    ...row(2, "North", "Door", "1'-6\"", 0, "3'", "6'-8\""),
  },
  Order: { A3: "=SHEATH.HOUSE_ORDER(Walls!A1:E5,Openings!A1:F2,Setup!A1:B3)" },
  Checks: { B2: "=SHEATH.HOUSE_CHECKS(Walls!A1:E5,Openings!A1:F2,Setup!A1:B3)" },
};

export function row(
  number: number,
  ...values: (string | number)[]
): Record<string, string | number> {
  return Object.fromEntries(
    values.map((value, index) => [`${String.fromCharCode(65 + index)}${number}`, value])
  );
}

/** A folder with the workbook in it. */
export async function folderWith(
  sheets: Readonly<Record<string, Cells>>,
  name = "shed.xlsx"
): Promise<string> {
  const folder = emptyFolder();
  fs.writeFileSync(path.join(folder, name), await file(sheets));
  return folder;
}
