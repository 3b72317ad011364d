/** The server of `npm run excel`: the add-in's own files, to this machine, under one name, for reading. */
import { spawn, type ChildProcess } from "node:child_process";
import fs from "node:fs";
import net from "node:net";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { ROOT, emptyFolder, removeFolders } from "../cli/run.js";

const HOST = "localhost:3000";
let server: ChildProcess;
let port: number;
let folder: string;

beforeAll(async () => {
  const top = emptyFolder();
  folder = path.join(top, "addin");
  fs.mkdirSync(path.join(folder, "help"), { recursive: true });
  fs.writeFileSync(path.join(top, "secret.json"), "secret");
  fs.writeFileSync(path.join(folder, "functions.json"), "[]");
  fs.writeFileSync(path.join(folder, "taskpane.html"), "<p>pane</p>");
  fs.writeFileSync(path.join(folder, "help", "a b.html"), "<p>help</p>");
  fs.writeFileSync(path.join(folder, "goes.js"), "1");
  const module = pathToFileURL(path.join(ROOT, "src", "tools", "serve-addin.mjs")).href;
  const start = `import http from "node:http";
    import { answerWith } from ${JSON.stringify(module)};
    const server = http.createServer(answerWith(${JSON.stringify(folder)}, "${HOST}"));
    server.listen(0, "127.0.0.1", () => console.log(server.address().port));`;
  server = spawn(process.execPath, ["--input-type=module", "-e", start], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  port = await new Promise((resolve, reject) => {
    server.stdout?.once("data", (data: Buffer) => resolve(Number(data.toString())));
    server.once("exit", () => reject(new Error("the server did not start")));
  });
}, 60_000);
afterAll(() => {
  server.kill();
  removeFolders();
});

/** Asks with the very letters given: a client would tidy a path before it sends it. */
function ask(target: string, { method = "GET", host = HOST } = {}): Promise<string> {
  return new Promise((resolve, reject) => {
    const socket = net.connect(port, "127.0.0.1");
    let said = "";
    socket.on("data", (data) => (said += data.toString("utf8")));
    socket.on("end", () => resolve(said));
    socket.on("error", reject);
    socket.write(`${method} ${target} HTTP/1.1\r\nHost: ${host}\r\nConnection: close\r\n\r\n`);
  });
}

test("the files of the folder are served, whatever the host's page adds behind the name", async () => {
  const pane = await ask("/taskpane.html?_host_Info=Excel$Win32#x");
  expect(pane).toMatch(/^HTTP\/1\.1 200 /);
  expect(pane).toMatch(/content-type: text\/html; charset=utf-8/i);
  expect(pane).toMatch(/<p>pane<\/p>$/);
  expect(await ask("/help/a%20b.html")).toMatch(/<p>help<\/p>$/);
  const head = await ask("/taskpane.html", { method: "HEAD" });
  expect(head).toMatch(/^HTTP\/1\.1 200 [\s\S]*\r\n\r\n$/);
});

test("only the list of functions may be read by a page from elsewhere", async () => {
  expect(await ask("/functions.json")).toMatch(/access-control-allow-origin: \*/i);
  for (const name of ["/taskpane.html", "/help/a%20b.html", "/nothing"]) {
    expect(await ask(name)).not.toMatch(/access-control/i);
  }
});

test.each([
  "//",
  "///x",
  "/",
  "/help",
  "/help/",
  "/../secret.json",
  "/..%2fsecret.json",
  "/%2e%2e/secret.json",
  "/help/../taskpane.html",
  "/..\\secret.json",
  "/%",
  "/%00",
  "/taskpane.html%00",
  "//taskpane.html",
  "http://[/",
  "/__proto__",
])("nothing is at %j, and the server goes on", async (target) => {
  const said = await ask(target);
  expect(said).toMatch(/^HTTP\/1\.1 (?:404|400) /);
  expect(said).not.toContain("secret\n");
  expect(await ask("/functions.json")).toMatch(/^HTTP\/1\.1 200 /);
});

test.each(["evil.test:3000", "evil.test", "localhost", "localhost:3001", "127.0.0.1:3000", ""])(
  "a page that comes under the name %j gets nothing",
  async (host) => {
    const said = await ask("/functions.json", { host });
    expect(said).toMatch(/^HTTP\/1\.1 (?:403|400) /);
    expect(said).not.toContain("[]");
  }
);

test.each(["POST", "PUT", "DELETE", "OPTIONS", "PATCH"])("%s is refused", async (method) => {
  const said = await ask("/functions.json", { method });
  expect(said).toMatch(/^HTTP\/1\.1 405 /);
  expect(said).toMatch(/allow: GET, HEAD/i);
});

test("a file that a build took away meanwhile is not there, and the server goes on", async () => {
  expect(await ask("/goes.js")).toMatch(/^HTTP\/1\.1 200 /);
  fs.rmSync(path.join(folder, "goes.js"));
  expect(await ask("/goes.js")).toMatch(/^HTTP\/1\.1 404 /);
});
