/** Finds out whether there is a spreadsheet beside the page. A host that never answers must not stop the pane. */

/** The host is given this long to answer. */
export const PATIENCE_MS = 4000;

export type Connection = "spreadsheet" | "nobody" | "silent" | "no script";

interface OfficeLike {
  onReady(): Promise<{ readonly host: unknown }>;
}

/** Never rejects and never waits longer than the patience. */
export async function connect(
  office: OfficeLike | undefined,
  patienceMs: number = PATIENCE_MS
): Promise<Connection> {
  if (!office) return "no script";
  let timer: ReturnType<typeof setTimeout> | undefined;
  const silence = new Promise<Connection>((resolve) => {
    timer = setTimeout(() => resolve("silent"), patienceMs);
  });
  const ready = Promise.resolve()
    .then(() => office.onReady())
    .then(
      ({ host }): Connection => (host === "Excel" ? "spreadsheet" : "nobody"),
      (): Connection => "nobody"
    );
  try {
    return await Promise.race([ready, silence]);
  } finally {
    clearTimeout(timer);
  }
}
