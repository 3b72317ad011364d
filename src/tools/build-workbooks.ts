/** npm run workbooks: builds the sample workbooks from the text beside them. */
import fs from "node:fs";
import path from "node:path";
import { firstFormulasTemplate } from "../templates/first-formulas.js";
import { houseTemplate } from "../templates/house-template.js";
import { purchaseRollUpTemplate } from "../templates/purchase-roll-up.js";
import type { WorkbookTemplate } from "../templates/workbook.js";
import { readFirstFormulas, readHouse, readPurchase } from "./workbook-sources.js";
import { buildWorkbook } from "./write-template.js";

const FOLDER = "sample-workbooks";

/** Every sample workbook by its file name, from the sources in a project folder. */
export function sampleTemplates(root: string): Record<string, WorkbookTemplate> {
  const folder = path.join(root, FOLDER);
  return {
    "first-formulas.xlsx": firstFormulasTemplate(
      readFirstFormulas(path.join(folder, "first-formulas"))
    ),
    "house-template.xlsx": houseTemplate(),
    "demo-house.xlsx": houseTemplate(readHouse(path.join(folder, "demo-house"))),
    "purchase-roll-up.xlsx": purchaseRollUpTemplate(
      readPurchase(path.join(folder, "purchase-roll-up"))
    ),
  };
}

/** Writes every sample workbook; a formula that fails is reported and its workbook is not written. */
export async function main(): Promise<number> {
  let failed = 0;
  for (const [name, template] of Object.entries(sampleTemplates("."))) {
    const { bytes, errors, formulaCount } = await buildWorkbook(template);
    if (errors.length > 0) {
      failed++;
      for (const { sheet, cell, code, message, formula } of errors) {
        process.stderr.write(`${name} ${sheet}!${cell} ${code} ${message}\n  ${formula}\n`);
      }
      continue;
    }
    fs.writeFileSync(path.join(FOLDER, name), bytes);
    process.stdout.write(`${path.join(FOLDER, name)}: ${formulaCount} formulas\n`);
  }
  return failed === 0 ? 0 : 1;
}
