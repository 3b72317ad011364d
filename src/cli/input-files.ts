/** Turns what was typed on the command line - files, folders, patterns - into the workbooks meant. */
import fs from "node:fs";
import path from "node:path";
import { fileTrouble, ownResults, resolveInput, shownPath } from "./files.js";

export interface Inputs {
  readonly files: readonly string[];
  /** what was typed and gave no workbook, and why */
  readonly troubles: readonly { readonly file: string; readonly trouble: string }[];
  /** what was left out on purpose, said once */
  readonly remarks: readonly string[];
  /** a folder or a pattern was typed: many are meant even where there is one */
  readonly areMany: boolean;
}

/** Lot 2 stands before Lot 10. */
const byName = new Intl.Collator("en", { numeric: true, sensitivity: "base" });

/** A workbook, and not the lock file a spreadsheet keeps beside one that is open. */
function isWorkbookName(name: string): boolean {
  return /\.xls[xm]$/i.test(name) && !name.startsWith("~$") && !name.startsWith(".");
}

/** Letters of a file name with * and ? as in a shell. */
function patternOf(typed: string): RegExp {
  const letters = [...typed].map((letter) => {
    if (letter === "*") return "[^/\\\\]*";
    return letter === "?" ? "[^/\\\\]" : letter.replace(/[\\^$.|+()[\]{}]/g, "\\$&");
  });
  return new RegExp(`^${letters.join("")}$`, "iu");
}

function workbooksIn(folder: string, remarks: string[], pattern?: RegExp): readonly string[] {
  const own = ownResults(folder);
  const names = fs
    .readdirSync(folder, { withFileTypes: true })
    .filter((entry) => !entry.isDirectory() && isWorkbookName(entry.name))
    .map((entry) => entry.name)
    .filter((name) => pattern?.test(name) ?? true)
    .sort(byName.compare);
  const skipped = names.filter((name) => own.has(name));
  if (skipped.length > 0) {
    remarks.push(
      `${shownPath(folder)}: left out, as results of an earlier takeoff: ${skipped.join(", ")}`
    );
  }
  return names.filter((name) => !own.has(name)).map((name) => path.join(folder, name));
}

/** A purchase that this command wrote: a shell that fills in *.xlsx finds it too, and it is never a house. */
function isOwnPurchase(file: string): boolean {
  const { dir, base } = path.parse(file);
  return /^purchase(?:-\d+)?\.xlsx$/i.test(base) && ownResults(dir).has(base);
}

function realPath(file: string): string {
  try {
    return fs.realpathSync(file);
  } catch {
    // said later, when it is opened
    return file;
  }
}

/**
 * Finds the workbooks; what cannot be found is listed and does not stop the rest.
 * @param prices the price list, which is no house wherever it lies
 */
export function inputFiles(typed: readonly string[], prices?: string): Inputs {
  const priceFile = prices === undefined ? undefined : realPath(prices);
  const files: string[] = [];
  const troubles: { file: string; trouble: string }[] = [];
  const remarks: string[] = [];
  const seen = new Map<string, string>();
  let areMany = false;
  const add = (file: string): void => {
    const real = realPath(file);
    if (real === priceFile) {
      remarks.push(`${shownPath(file)}: left out: it is the price list`);
      return;
    }
    if (typed.length > 1 && isOwnPurchase(file)) {
      remarks.push(`${shownPath(file)}: left out, as a result of an earlier takeoff`);
      return;
    }
    const before = seen.get(real);
    if (before === undefined) {
      seen.set(real, file);
      files.push(file);
    } else remarks.push(`${shownPath(file)}: named twice, taken off once`);
  };
  for (const each of typed) {
    const file = resolveInput(each);
    // a shell that fills in *.xlsx finds the lock files too
    if (/^(?:~\$|\.~lock\.)/.test(path.basename(file))) {
      remarks.push(`${shownPath(file)}: left out: it marks a workbook that is open elsewhere`);
      continue;
    }
    const found = fs.statSync(file, { throwIfNoEntry: false });
    const hasPattern = /[*?]/.test(path.basename(each)) && !found;
    if (!found?.isDirectory() && !hasPattern) {
      add(file);
      continue;
    }
    areMany = true;
    try {
      const workbooks = hasPattern
        ? workbooksIn(path.dirname(file), remarks, patternOf(path.basename(each)))
        : workbooksIn(file, remarks);
      if (workbooks.length === 0) {
        const where = hasPattern ? "matches" : "is in";
        troubles.push({
          file,
          trouble: `no .xlsx or .xlsm workbook ${where} ${hasPattern ? "this pattern" : "this folder"}; folders below it are not looked into`,
        });
      }
      workbooks.forEach(add);
    } catch (error) {
      troubles.push({ file, trouble: fileTrouble(error) });
    }
  }
  return { files, troubles, remarks, areMany };
}
