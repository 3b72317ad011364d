/**
 * npm run bench [-- NAME ...]
 *
 * Runs benchmarks by name, all of them where none is named.
 */

/** A benchmark: runs, prints its table to standard output, and returns the exit code. */
interface Bench {
  readonly main: (args: readonly string[]) => number | Promise<number>;
}

const BENCHES: Readonly<
  Record<string, { readonly what: string; readonly load: () => Promise<Bench> }>
> = {
  plans: {
    what: "cost, proven bound and time of cut plans, beside simpler ways of ordering",
    load: () => import("./bench/plans.js"),
  },

  scale: {
    what: "houses a second and memory of one run over 10, 100 and 1,000 houses",
    load: () => import("./bench/scale.js"),
  },
  speed: {
    what: "recalculation beside native formulas, each function's cost, start to first answer",
    load: () => import("./bench/speed.js"),
  },
  workbooks: {
    what: "formulas of a folder of workbooks, calculated again and compared with the stored values",
    load: () => import("./bench/workbooks.js"),
  },
};

function usage(): string {
  const names = Object.entries(BENCHES).map(([name, { what }]) => `  ${name.padEnd(10)}${what}`);
  return [
    "Usage: npm run bench [-- NAME [options]]",
    "",
    "Without a name every benchmark runs:",
    ...names,
    "",
  ].join("\n");
}

export async function main(args: readonly string[]): Promise<number> {
  const [name, ...rest] = args;
  if (name === "--help" || name === "-h") {
    process.stdout.write(usage());
    return 0;
  }
  if (name !== undefined && !Object.hasOwn(BENCHES, name)) {
    process.stderr.write(
      `benchmark must be one of ${Object.keys(BENCHES).join(", ")}; got ${name}\n\n${usage()}`
    );
    return 2;
  }
  let code = 0;
  for (const each of name === undefined ? Object.keys(BENCHES) : [name]) {
    const bench = await BENCHES[each]!.load();
    code = Math.max(code, await bench.main(name === undefined ? [] : rest));
  }
  return code;
}
