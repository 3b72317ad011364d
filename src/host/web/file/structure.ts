/** Follows what the grid does not know (conditional formats, print areas, drawings) through inserted and removed rows. */
import {
  areaAddress,
  columnLetters,
  columnNumber,
  parseArea,
  sheetPrefix,
  type Area,
} from "../../../core/cell-address.js";
import { parseFormula, writeFormula } from "../../engine/formula.js";
import type { StructureStep } from "../protocol.js";

/** Adds a step; one that takes back the last (an undo) removes it instead. */
export function addStep(steps: StructureStep[], step: StructureStep): StructureStep[] {
  const last = steps[steps.length - 1];
  const isUndo =
    last !== undefined &&
    last.axis === step.axis &&
    last.at === step.at &&
    last.count === -step.count;
  return isUndo ? steps.slice(0, -1) : [...steps, step];
}

type Span = readonly [first: number, last: number];

function movedSpan([first, last]: Span, at: number, count: number): Span | undefined {
  if (count > 0) {
    return [first >= at ? first + count : first, last >= at ? last + count : last];
  }
  const end = at - count - 1;
  const low = first > end ? first + count : Math.min(first, at);
  const high = last > end ? last + count : last >= at ? at - 1 : last;
  const start = first >= at && first <= end ? at : low;
  return high < start ? undefined : [start, high];
}

/** Where an area stands after the steps; undefined where all of it was removed. */
export function movedArea(area: Area, steps: readonly StructureStep[]): Area | undefined {
  let now: Area = area;
  for (const { axis, at, count } of steps) {
    const span =
      axis === "row" ? ([now.top, now.bottom] as const) : ([now.left, now.right] as const);
    const moved = movedSpan(span, at, count);
    if (!moved) return undefined;
    now =
      axis === "row"
        ? { ...now, top: moved[0], bottom: moved[1] }
        : { ...now, left: moved[0], right: moved[1] };
  }
  return now;
}

/** A list of areas such as "A1:B4 D2" after the steps; empty where nothing is left. */
export function movedList(sqref: string, steps: readonly StructureStep[]): string {
  if (steps.length === 0) return sqref;
  return sqref
    .trim()
    .split(/\s+/)
    .flatMap((text) => {
      const area = parseArea(text);
      if (!area) return [text];
      const moved = movedArea(area, steps);
      return moved ? [areaAddress(moved)] : [];
    })
    .join(" ");
}

/**
 * A formula after the steps and after sheets were renamed.
 * @param home    name of the sheet the formula stands on, as it was in the file
 * @param stepsOf steps of a sheet by its name in the file
 * @param renamed the sheet's name now; undefined where it was removed
 */
export function movedFormula(
  typed: string,
  home: string,
  stepsOf: (sheet: string) => readonly StructureStep[],
  renamed: (sheet: string) => string | undefined
): string {
  try {
    return writeFormula(typed, parseFormula(typed), (node) => {
      if (node.kind !== "reference" || node.lastSheet !== undefined) return undefined;
      const sheet = node.sheet ?? home;
      const name = renamed(sheet);
      if (name === undefined) return "#REF!";
      const address = typed.slice(node.addressStart, node.end);
      const moved = movedAddress(address, stepsOf(sheet));
      if (moved === undefined) return "#REF!";
      if (node.sheet === undefined) return moved;
      return sheetPrefix(name) + moved;
    });
  } catch {
    return typed;
  }
}

/** An address with its dollar signs, such as $A$1:$B$4, 3:3 or B:B. */
function movedAddress(address: string, steps: readonly StructureStep[]): string | undefined {
  if (steps.length === 0) return address;
  const parts = address.split(":").map((part) => /^(\$?)([A-Za-z]*)(\$?)(\d*)$/.exec(part.trim()));
  const [a, b = a] = parts;
  if (!a || !b) return address;
  const rowOf = (part: RegExpExecArray): number | undefined =>
    part[4] ? Number(part[4]) : undefined;
  const columnOf = (part: RegExpExecArray): number | undefined =>
    part[2] ? columnNumber(part[2]) : undefined;
  const area: Area = {
    top: rowOf(a) ?? 1,
    bottom: rowOf(b) ?? 1_048_576,
    left: columnOf(a) ?? 1,
    right: columnOf(b) ?? 16_384,
  };
  const moved = movedArea(
    area,
    // whole rows are not moved by columns, nor whole columns by rows
    steps.filter((step) =>
      step.axis === "row" ? rowOf(a) !== undefined : columnOf(a) !== undefined
    )
  );
  if (!moved) return undefined;
  const write = (part: RegExpExecArray, row: number, column: number): string => {
    const [, firstMark = "", letters = "", middleMark = "", digits = ""] = part;
    if (letters === "") return `${firstMark}${row}`;
    return firstMark + columnLetters(column) + (digits === "" ? "" : `${middleMark}${row}`);
  };
  const first = write(a, moved.top, moved.left);
  return parts.length === 1 ? first : `${first}:${write(b, moved.bottom, moved.right)}`;
}
