/** Every worksheet function, in the order a framer thinks: the wall, its marks, panels, tape, nails, the house, its heat. */
import { corners } from "./corners.js";
import { energy } from "./energy.js";
import { engineer } from "./engineer.js";
import type { Entry, Topic } from "./entry.js";
import { house } from "./house.js";
import { layout } from "./layout.js";
import { lengths } from "./lengths.js";
import { nails } from "./nails.js";
import { panels } from "./panels.js";
import { tape } from "./tape.js";

export const NAMESPACE = "SHEATH";

export const topics: readonly Topic[] = [
  lengths,
  corners,
  layout,
  panels,
  tape,
  nails,
  house,
  energy,
  engineer,
];

export const worksheetFunctions: readonly Entry[] = topics.flatMap((each) => each.functions);

/** How a function is called, what may be left out in brackets: SHEATH.RUN_LENGTH(length, thickness, [left_end], ... */
export function usage({ name, parameters }: Entry): string {
  const list = parameters.flatMap((each) => {
    const shown = each.optional ? `[${each.name}]` : each.name;
    return each.repeats ? [shown, "..."] : [shown];
  });
  return `${NAMESPACE}.${name}(${list.join(", ")})`;
}
