/** What the spreadsheet is told of the functions: its `functions.json`. */
import { worksheetFunctions } from "../worksheet/registry.js";

/** @param helpOf address of a function's help page */
export function hostMetadata(helpOf: (name: string) => string) {
  return {
    // cells of a kind of their own reach the functions as what they hold
    allowCustomDataForDataTypeAny: true,
    functions: worksheetFunctions.map(({ name, description, parameters, kind }) => ({
      id: name,
      name,
      description,
      helpUrl: helpOf(name),
      parameters: parameters.map((each) => ({
        name: each.name,
        description: each.description,
        type: "any",
        ...(each.optional ? { optional: true } : {}),
        ...(each.matrix ? { dimensionality: "matrix" } : {}),
        ...(each.repeats ? { repeating: true } : {}),
      })),
      result:
        kind === "table"
          ? { dimensionality: "matrix" }
          : { type: kind === "text" ? "string" : "number" },
    })),
  };
}
