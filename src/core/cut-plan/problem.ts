/**
 * What the cut planner is asked and what it answers. One narrow interface: pieces, rip runs, stock
 * and scrap in; a plan a saw can follow and a proven lower bound out. All lengths are inches.
 *
 * A panel or scrap lies with x across its width and y along its length, (0, 0) at one corner of its
 * wood face. Placements give the lower left corner of the piece's bounding box.
 */

/** One piece to cut: a rectangle when both sides are equal, else a rake piece (level bottom). */
export interface CutPiece {
  /** unique; the plan names the piece by it */
  readonly id: string;
  readonly widthIn: number;
  /** plumb side at the left, in; 0 where the rake runs out to a point */
  readonly leftIn: number;
  /** plumb side at the right, in */
  readonly rightIn: number;
}

/** A panel length on sale. */
export interface CutStock {
  readonly lengthIn: number;
  /** cost of one panel in any one unit; the plan minimizes the total */
  readonly cost: number;
}

/** A piece of scrap that may be cut once, for nothing: a routed drop or an offcut kept. */
export interface CutScrap {
  readonly id: string;
  readonly widthIn: number;
  readonly heightIn: number;
}

/** A strip that must be covered end to end with rips of one height; joints only where listed. */
export interface RipRun {
  readonly id: string;
  readonly heightIn: number;
  /** positions where a joint may fall, ascending; the first and last are the ends of the run */
  readonly jointsIn: readonly number[];
  /** no rip shorter than this unless the run itself is; one stud space */
  readonly smallestIn: number;
  /** positions a joint keeps away from where it can: the panel seams above */
  readonly seamsIn?: readonly number[];
}

export interface CutProblem {
  readonly panelWidthIn: number;
  /** width of a saw cut */
  readonly kerfIn: number;
  /** may a rectangle be turned a quarter turn; rake pieces and rips: see below */
  readonly canTurn: boolean;
  readonly stock: readonly CutStock[];
  readonly pieces: readonly CutPiece[];
  readonly rips: readonly RipRun[];
  readonly scrap: readonly CutScrap[];
  /** a leftover with both sides at least this is listed as worth keeping, in */
  readonly keepIn?: number;
}

export interface CutPlacement {
  /** id of the piece, or of the rip in CutPlan.rips */
  readonly id: string;
  readonly xIn: number;
  readonly yIn: number;
  /** bounding box as it lies on the panel */
  readonly widthIn: number;
  readonly heightIn: number;
  /** degrees the piece is turned from how it stands on the wall: 0, 90 or 180; never flipped */
  readonly turned: 0 | 90 | 180;
}

/** One straight edge-to-edge cut, in the order they are made, across the part it divides. */
export interface SawCut {
  readonly fromX: number;
  readonly fromY: number;
  readonly toX: number;
  readonly toY: number;
}

export interface LeftoverPiece {
  readonly xIn: number;
  readonly yIn: number;
  readonly widthIn: number;
  readonly heightIn: number;
}

/** One panel bought, or one scrap used, with what is cut from it. */
export interface CutSheet {
  readonly kind: "panel" | "scrap";
  /** for scrap: its id */
  readonly scrapId?: string;
  readonly widthIn: number;
  readonly lengthIn: number;
  readonly cost: number;
  readonly placements: readonly CutPlacement[];
  readonly cuts: readonly SawCut[];
  readonly leftovers: readonly LeftoverPiece[];
}

/** One rip of a run: from joint to joint. */
export interface PlannedRip {
  readonly id: string;
  readonly runId: string;
  readonly startIn: number;
  readonly endIn: number;
}

export interface CutPlan {
  /** panels first (longest first), then the scrap used */
  readonly sheets: readonly CutSheet[];
  readonly rips: readonly PlannedRip[];
  /** panels bought, by length, in the order of the stock list; 0 where none */
  readonly bought: readonly { readonly lengthIn: number; readonly count: number }[];
  readonly panelCount: number;
  readonly cost: number;
  /** no plan whatever can cost less: proven */
  readonly lowestCost: number;
  /** no plan whatever can use fewer panels: proven */
  readonly fewestPanels: number;
  /** which argument gave lowestCost: "area", "dual-feasible function", "column generation" ... */
  readonly boundBy: string;
  /** area of pieces on bought panels over area of bought panels, 0..1 */
  readonly usedShare: number;
}
