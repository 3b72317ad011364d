/**
 * Answers with the add-in's folder, on this machine, for `npm run excel`. Only the files that are in the folder when it
 * starts are known, each by its name: no part of a request is ever used as a path.
 */
import fs from "node:fs";
import path from "node:path";

const KINDS = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".json": "application/json; charset=utf-8",
  ".xml": "application/xml; charset=utf-8",
  ".png": "image/png",
  ".svg": "image/svg+xml",
};

const HEADERS = { "Cache-Control": "no-cache", "X-Content-Type-Options": "nosniff" };
/** The list of functions: the spreadsheet's web version reads it from its own origin, and nothing else. */
const SHARED = "/functions.json";

/** Every file below a folder by the name it is asked for. */
function filesByName(folder) {
  const files = new Map();
  for (const entry of fs.readdirSync(folder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const file = path.join(entry.parentPath ?? entry.path, entry.name);
    const name = path.relative(folder, file).split(path.sep).map(encodeURIComponent).join("/");
    files.set(`/${name}`, file);
  }
  return files;
}

/**
 * What a server does with each request.
 * @param folder the add-in, built
 * @param host   the only name it answers to, with its port: a page elsewhere cannot come under a name of its own
 */
export function answerWith(folder, host) {
  const files = filesByName(folder);
  return (request, response) => {
    const refuse = (status, text, headers = {}) => {
      const kind = { "Content-Type": "text/plain; charset=utf-8" };
      response.writeHead(status, { ...HEADERS, ...kind, ...headers }).end(`${text}\n`);
    };
    if (request.headers.host?.toLowerCase() !== host) {
      return refuse(403, "This address is served to this machine only.");
    }
    if (request.method !== "GET" && request.method !== "HEAD") {
      return refuse(405, "Only reading is allowed.", { Allow: "GET, HEAD" });
    }
    const [name] = (request.url ?? "/").split(/[?#]/, 1);
    let body;
    try {
      // read each time: a build meanwhile is seen, and may have taken the file away
      body = files.has(name) ? fs.readFileSync(files.get(name)) : undefined;
    } catch {
      body = undefined;
    }
    if (body === undefined) return refuse(404, "There is nothing here.");
    response.writeHead(200, {
      ...HEADERS,
      ...(name === SHARED ? { "Access-Control-Allow-Origin": "*" } : {}),
      "Content-Type": KINDS[path.extname(name)] ?? "application/octet-stream",
      "Content-Length": body.length,
    });
    response.end(request.method === "HEAD" ? undefined : body);
  };
}
