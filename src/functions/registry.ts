/** Every worksheet function by name, for hosts that are not told by their own metadata file. */
import { catalog } from "./catalog.js";
import * as wrappers from "./functions.js";

export const NAMESPACE = "SHEATH";

export interface WorksheetParameter {
  readonly name: string;
  readonly description: string;
  readonly optional: boolean;
  readonly matrix: boolean;
}

export interface RegisteredFunction {
  /** as in SHEATH.NAME */
  readonly name: string;
  readonly description: string;
  readonly parameters: readonly WorksheetParameter[];
  /** what the result is, in words */
  readonly returns: string;
  /** the result is a table that spills */
  readonly spills: boolean;
  readonly call: (...args: unknown[]) => unknown;
}

export const worksheetFunctions: readonly RegisteredFunction[] = catalog.map((entry) => ({
  ...entry,
  call: wrappers[entry.wrapper as keyof typeof wrappers] as (...args: unknown[]) => unknown,
}));
