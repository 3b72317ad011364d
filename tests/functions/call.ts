/** A worksheet function by its name, called as a host calls it. */
import { worksheetFunctions } from "../../src/worksheet/registry.js";

const byName = new Map(worksheetFunctions.map((each) => [each.name, each]));

export function call(name: string, ...args: readonly unknown[]): unknown {
  return byName.get(name)?.call(...args);
}
