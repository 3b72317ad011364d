/**
 * The bound and the shares of patterns of a task, in stages where it is large.
 *
 * Few prices are found soon: nearly equal pieces first share one per area. Then each piece gets a
 * price of its own, which may stray from its group's by a little at first, and again a little from
 * there. A price held within limits gives a true bound like any other.
 */
import { shapesOf } from "./classes.js";
import { Master } from "./master.js";
import type { Task } from "./pattern-rows.js";
import type { Model } from "./prepare.js";
import type { Sheet } from "./sheet.js";

/** Rectangles in an exact pattern table; 8 bytes each. */
export const MOST_STATES = 1_600_000;

/** Different pieces priced one by one from the start. */
export const MOST_AT_ONCE = 500;

/** Groups of a large task that share a price at first. */
const FIRST_GROUPS = 350;

/** Share of the work the groups' prices may take. */
const FIRST_SHARE = 0.3;

/** One stage: how far prices may stray, how close bound and value must come, its share of the work. */
interface Stage {
  readonly groups: number;
  readonly within: number;
  readonly close: number;
  readonly share: number;
}

/** Which tasks are large, and how those are gone about. */
export interface Staging {
  /** different pieces from which on a task is large, less one */
  readonly mostAtOnce: number;
  /** groups of a large one that share a price at first */
  readonly firstGroups: number;
  readonly stages: readonly Stage[];
}

const STAGING: Staging = {
  mostAtOnce: MOST_AT_ONCE,
  firstGroups: FIRST_GROUPS,
  stages: [
    { groups: FIRST_GROUPS, within: 0.2, close: 0.05, share: 0.4 },
    { groups: Infinity, within: 0.1, close: 5e-3, share: 0.7 },
    { groups: Infinity, within: 0.05, close: 1e-3, share: 1 },
  ],
};

/**
 * A master of the task, solved as far as the work allows, with the best bound proven on the way.
 * `enough` tells whether a bound closes the gap to the value of the share solution.
 */
export function solveMaster(
  model: Model,
  task: Task,
  costs: readonly number[],
  sheets: readonly Sheet[],
  budget: number,
  enough: (bound: number, value: number) => boolean,
  { mostAtOnce, firstGroups, stages }: Staging = STAGING
): Master {
  const small = shapesOf(model, task.counts).length <= mostAtOnce;
  let master = new Master(model, task, {
    costs,
    mostGroups: small ? mostAtOnce : firstGroups,
  });
  master.addSheets(sheets);
  if (small) {
    master.run(budget, MOST_STATES, enough);
    return master;
  }
  master.share(FIRST_SHARE * budget);
  master.prove(MOST_STATES);
  let done = master.work;
  if (!master.priced) {
    // Nothing has a price: there is nothing to hold the next prices near to.
    master.run(budget, MOST_STATES, enough);
    return master;
  }
  for (const { groups, within, close, share } of stages) {
    master = new Master(model, task, { costs, mostGroups: groups }, { master, within });
    master.run(
      share * budget - done,
      MOST_STATES,
      (bound, value) => enough(bound, value) || value - bound < close * value
    );
    done += master.work;
    if (done >= budget) break;
  }
  return master;
}
