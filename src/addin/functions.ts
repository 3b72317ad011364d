/**
 * The functions as the spreadsheet calls them. This script runs first and does nothing but tell the host which
 * function answers to which name: cells wait for it.
 */
import { answer } from "../worksheet/answer.js";
import { tableOf } from "../worksheet/arguments.js";
import type { Entry } from "../worksheet/entry.js";
import { worksheetFunctions } from "../worksheet/registry.js";
import { withBlanks } from "./blanks.js";

type Call = Entry["call"];

interface HostFunctions {
  associate(id: string, call: Call): void;
}

/** The tables of a house with blank cells that came as 0 made blank again. */
function onTables({ parameters, call }: Entry): Call {
  const from = parameters.findIndex((each) => each.matrix);
  return (...args) => {
    const [walls, openings, settings] = args.slice(from);
    const tables = answer(() =>
      withBlanks(
        tableOf("walls", walls),
        tableOf("openings", openings),
        tableOf("settings", settings)
      )
    );
    return call(...args.slice(0, from), ...tables, ...args.slice(from + tables.length));
  };
}

/** An argument that repeats comes as one list of all that was given for it. */
function onRepeats({ parameters, call }: Entry): Call {
  const last = parameters.length - 1;
  return (...args) => call(...args.slice(0, last), ...(args[last] as unknown[]));
}

/** Every function by its id, as the host is told. */
export function hostFunctions(): ReadonlyMap<string, Call> {
  return new Map(
    worksheetFunctions.map((entry) => {
      if (entry.house) return [entry.name, onTables(entry)];
      return [entry.name, entry.parameters.at(-1)?.repeats ? onRepeats(entry) : entry.call];
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
