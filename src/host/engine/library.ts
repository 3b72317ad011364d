/**
 * The bodies of the calculation library's built-in functions.
 *
 * The library does not export them, so they are taken from its files by path; the version is pinned in package.json
 * and tests/host/library.test.ts holds the path and what is read from it. The library offers them only through its own
 * reader of formulas, which hands a function the first cell of an array.
 */
// @ts-expect-error the files inside the package have no declarations beside them
import * as dates from "../../../node_modules/@cj-tech-master/excelts/dist/cjs/modules/formula/functions/_date-context.js";
// @ts-expect-error as above
import * as registry from "../../../node_modules/@cj-tech-master/excelts/dist/cjs/modules/formula/runtime/function-registry.js";
import type { RuntimeValue } from "./runtime.js";

/** A function as the library holds it. */
export interface NativeFunction {
  readonly minArity: number;
  readonly maxArity: number;
  readonly invoke: (args: RuntimeValue[]) => RuntimeValue;
}

/** A built-in function of the library by its name in capitals. */
export function libraryFunction(name: string): NativeFunction | undefined {
  return (
    registry as { lookupFunction: (name: string) => NativeFunction | undefined }
  ).lookupFunction(name);
}

/** Says whether day numbers count from 1904 in the workbook that is calculated next. */
export function countFrom1904(is1904: boolean): void {
  (dates as { setDate1904: (is1904: boolean) => void }).setDate1904(is1904);
}

/** Whether day numbers count from 1904 in the workbook that is calculated now. */
export function countsFrom1904(): boolean {
  return (dates as { isDate1904: () => boolean }).isDate1904();
}
