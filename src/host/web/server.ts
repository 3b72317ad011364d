/**
 * The server of the local sheet. It answers only on this machine, only to a browser that asks for this machine by
 * name, and only with the files it read when it started: no part of a request is ever used as a path.
 */
import { createHash } from "node:crypto";
import fs from "node:fs";
import http from "node:http";
import path from "node:path";

/** Address of this machine as only this machine sees it. */
export const LOCAL_ADDRESS = "127.0.0.1";

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".txt": "text/plain; charset=utf-8",
  ".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
};

/**
 * What the page may do: run and show what comes from this server, nothing else. Pictures may also come out of the
 * page itself (drawn there); no request can leave the machine.
 */
export const POLICY = [
  "default-src 'self'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "worker-src 'self'",
  "frame-src 'self'",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'self'",
].join("; ");

const HEADERS = {
  "Content-Security-Policy": POLICY,
  "X-Content-Type-Options": "nosniff",
  "Referrer-Policy": "no-referrer",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Resource-Policy": "same-origin",
  "Permissions-Policy": "camera=(), microphone=(), geolocation=()",
  "Cache-Control": "no-cache",
};

interface Asset {
  readonly type: string;
  readonly body: Buffer;
  readonly tag: string;
}

/** Where a file of the site comes from, by the name it is asked for. */
export type Site = ReadonlyMap<string, string>;

/** Every file directly in a folder that a browser may have. */
export function siteOf(folder: string): Map<string, string> {
  const site = new Map<string, string>();
  for (const entry of fs.readdirSync(folder, { withFileTypes: true })) {
    const isAsset = entry.isFile() && path.extname(entry.name) in TYPES;
    if (isAsset) site.set(`/${entry.name}`, path.join(folder, entry.name));
  }
  return site;
}

function readAssets(site: Site): Map<string, Asset> {
  const assets = new Map<string, Asset>();
  for (const [name, file] of site) {
    const body = fs.readFileSync(file);
    const tag = `"${createHash("sha256").update(body).digest("base64url").slice(0, 22)}"`;
    const type = TYPES[path.extname(name)] ?? "application/octet-stream";
    assets.set(name, { type, body, tag });
  }
  const index = assets.get("/index.html");
  if (index) assets.set("/", index);
  return assets;
}

/** True for this machine's own names. A page elsewhere cannot reach the server under a name of its own. */
function isLocalName(host: string | undefined, port: number): boolean {
  return host === `${LOCAL_ADDRESS}:${port}` || host === `localhost:${port}`;
}

function refuse(response: http.ServerResponse, status: number, text: string): void {
  response.writeHead(status, { ...HEADERS, "Content-Type": "text/plain; charset=utf-8" });
  response.end(`${text}\n`);
}

/**
 * Starts serving.
 * @param site files by the path they are asked for, such as "/index.html"
 * @param port port to listen on; 0 takes any that is free
 * @returns the server and the port it listens on
 */
export function serve(site: Site, port: number): Promise<{ server: http.Server; port: number }> {
  const assets = readAssets(site);
  let listening = port;
  const server = http.createServer((request, response) => {
    if (!isLocalName(request.headers.host, listening)) {
      return refuse(response, 403, "This address is served to this machine only.");
    }
    if (request.method !== "GET" && request.method !== "HEAD") {
      response.setHeader("Allow", "GET, HEAD");
      return refuse(response, 405, "Only reading is allowed.");
    }
    const asset = assets.get((request.url ?? "/").split(/[?#]/, 1)[0] as string);
    if (!asset) return refuse(response, 404, "There is nothing here.");
    const headers = { ...HEADERS, ETag: asset.tag, "Content-Type": asset.type };
    if (request.headers["if-none-match"] === asset.tag) {
      response.writeHead(304, headers);
      return response.end();
    }
    response.writeHead(200, { ...headers, "Content-Length": asset.body.length });
    return request.method === "HEAD" ? response.end() : response.end(asset.body);
  });
  return new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, LOCAL_ADDRESS, () => {
      server.removeListener("error", reject);
      listening = (server.address() as { port: number }).port;
      resolve({ server, port: listening });
    });
  });
}
