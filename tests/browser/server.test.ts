/** The server answers this machine only, and only with the files of the site. */
import http from "node:http";
import net from "node:net";
import os from "node:os";
import { ADDRESS } from "./open-page.js";

const { port } = new URL(ADDRESS);

interface Answer {
  readonly status: number;
  readonly headers: http.IncomingHttpHeaders;
  readonly body: string;
}

function ask(path: string, options: http.RequestOptions = {}): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const request = http.request(
      { host: "127.0.0.1", port, path, agent: false, ...options },
      (response) => {
        let body = "";
        response.setEncoding("utf8");
        response.on("data", (text: string) => (body += text));
        response.on("end", () =>
          resolve({ status: response.statusCode ?? 0, headers: response.headers, body })
        );
      }
    );
    request.on("error", reject);
    request.end();
  });
}

/** Sends a request line as it is, which the usual client would tidy up. */
function raw(line: string): Promise<string> {
  return new Promise((resolve, reject) => {
    const socket = net.connect(Number(port), "127.0.0.1", () => {
      socket.write(`${line} HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nConnection: close\r\n\r\n`);
    });
    let text = "";
    socket.setEncoding("utf8");
    socket.on("data", (part) => (text += part));
    socket.on("end", () => resolve(text));
    socket.on("error", reject);
  });
}

test("the page comes with a policy that lets nothing out", async () => {
  const { status, headers } = await ask("/");
  expect(status).toBe(200);
  const policy = headers["content-security-policy"] ?? "";
  expect(policy).toContain("default-src 'self'");
  expect(policy).not.toMatch(/unsafe|https?:|\*/);
  expect(headers["x-content-type-options"]).toBe("nosniff");
});

test.each([
  "GET /../package.json",
  "GET /..%2fpackage.json",
  "GET /%2e%2e/package.json",
  "GET /..\\package.json",
  "GET //etc/passwd",
  "GET /./../../package.json",
  "GET /demo-house.xlsx/../../package.json",
  "GET /.local-sheet-built-from",
  "GET http://127.0.0.1/../package.json",
  "GET /page.js%00.html",
])("nothing outside the site is served: %s", async (line) => {
  const answer = await raw(line);
  expect(answer).toMatch(/^HTTP\/1\.1 40[0-9] /);
  expect(answer).not.toContain("sheathing-functions");
  expect(answer).not.toContain("root:");
});

test("a request under another name is refused", async () => {
  for (const host of ["example.test", `example.test:${port}`, "127.0.0.1", "localhost:1"]) {
    expect((await ask("/", { headers: { host } })).status).toBe(403);
  }
  expect((await ask("/", { headers: { host: `localhost:${port}` } })).status).toBe(200);
});

test("only reading is allowed", async () => {
  for (const method of ["POST", "PUT", "DELETE", "OPTIONS"]) {
    expect((await ask("/", { method })).status).toBe(405);
  }
  expect((await ask("/", { method: "HEAD" })).status).toBe(200);
});

test("a file the browser has already is not sent again", async () => {
  const { headers } = await ask("/page.css");
  const again = await ask("/page.css", { headers: { "if-none-match": headers.etag ?? "" } });
  expect(again.status).toBe(304);
  expect(again.body).toBe("");
});

test("other machines cannot reach it", async () => {
  const others = Object.values(os.networkInterfaces())
    .flatMap((list) => list ?? [])
    .filter((each) => !each.internal && each.family === "IPv4");
  for (const { address } of others) {
    await expect(ask("/", { host: address, timeout: 2000 })).rejects.toThrow();
  }
  expect(new URL(ADDRESS).hostname).toBe("127.0.0.1");
});
