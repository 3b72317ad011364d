/**
 * The functions as the spreadsheet calls them. This script runs first and does nothing but tell the host which
 * function answers to which name: cells wait for it.
 */
import { tableOf } from "../functions/arguments.js";
import { answer } from "../functions/answer.js";
import * as wrappers from "../functions/functions.js";
import { wrapperNames } from "../functions/names.js";
import { withBlanks } from "./blanks.js";

type Wrapper = (...args: unknown[]) => unknown;

interface HostFunctions {
  associate(id: string, call: Wrapper): void;
}

/** Functions of three tables; HOUSE_MARKS has the wall's name before them. */
const TABLES_FROM: Readonly<Record<string, number>> = {
  HOUSE_ORDER: 0,
  HOUSE_WALLS: 0,
  HOUSE_PIECES: 0,
  HOUSE_CUTS: 0,
  HOUSE_CHECKS: 0,
  HOUSE_WALL_R: 0,
  HOUSE_MARKS: 1,
};

/** The wrapper with blank cells that came as 0 made blank again. */
function onTables(wrapper: Wrapper, from: number): Wrapper {
  return (...args) => {
    const [walls, openings, settings] = args.slice(from);
    const tables = answer(() =>
      withBlanks(
        tableOf("walls", walls),
        tableOf("openings", openings),
        tableOf("settings", settings)
      )
    );
    return wrapper(...args.slice(0, from), ...tables, ...args.slice(from + tables.length));
  };
}

/** Every function by its id, as the host is told. */
export function hostFunctions(): ReadonlyMap<string, Wrapper> {
  return new Map(
    Object.entries(wrapperNames).map(([id, name]) => {
      const wrapper = wrappers[name] as Wrapper;
      const from = TABLES_FROM[id];
      return [id, from === undefined ? wrapper : onTables(wrapper, from)];
    })
  );
}

/** Tells the host; without one there is nobody to tell. Returns how many functions were named. */
export function associateAll(host: HostFunctions | undefined): number {
  if (!host) return 0;
  const functions = hostFunctions();
  for (const [id, call] of functions) host.associate(id, call);
  return functions.size;
}

const page = globalThis as { CustomFunctions?: HostFunctions; sheathAssociated?: number };
page.sheathAssociated = associateAll(page.CustomFunctions);
