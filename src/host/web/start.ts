/** `npm start`: the local sheet in the browser. */
import { spawn } from "node:child_process";
import process from "node:process";
import { LOCAL_ADDRESS, serve } from "./server.js";
import { preparedSite } from "./site.js";

/** Always the same port where it is free: a browser keeps unsaved work by address. */
const PORT = 8377;
/** Ports tried after it. */
const MORE_PORTS = 10;

const USAGE = `Usage: npm start -- [--port <number>] [--no-open]

Serves the local sheet on ${LOCAL_ADDRESS} until it is stopped with Ctrl+C.
  --port <number>  port to serve on (${PORT})
  --no-open        do not open the browser`;

function openBrowser(address: string): void {
  const [command, args]: [string, string[]] =
    process.platform === "win32"
      ? ["cmd", ["/c", "start", "", address]]
      : [process.platform === "darwin" ? "open" : "xdg-open", [address]];
  // Where there is no browser to open, the address on the screen is enough.
  const child = spawn(command, args, { stdio: "ignore", detached: true });
  child.on("error", () => undefined);
  child.unref();
}

export async function main(args: readonly string[]): Promise<number> {
  let port: number | undefined;
  let opens = process.stdout.isTTY === true && !process.env.CI;
  for (let at = 0; at < args.length; at++) {
    const arg = args[at];
    if (arg === "--help") {
      console.log(USAGE);
      return 0;
    }
    if (arg === "--no-open") opens = false;
    else if (
      arg === "--port" &&
      /^\d{1,5}$/.test(args[at + 1] ?? "") &&
      Number(args[at + 1]) < 65536
    )
      port = Number(args[++at]);
    else {
      console.error(
        `${arg === "--port" ? "--port needs a number up to 65535" : `there is no option ${arg}`}\n\n${USAGE}`
      );
      return 2;
    }
  }
  const site = await preparedSite();
  for (let tried = port ?? PORT; ; tried++) {
    try {
      const { server, port: taken } = await serve(site, tried);
      const address = `http://${LOCAL_ADDRESS}:${taken}/`;
      console.log(`The local sheet is at ${address}\nStop it with Ctrl+C.`);
      if (opens) openBrowser(address);
      await new Promise<void>((resolve) => {
        const stop = (): void => {
          server.closeAllConnections();
          server.close(() => resolve());
        };
        process.once("SIGINT", stop);
        process.once("SIGTERM", stop);
      });
      return 0;
    } catch (error) {
      const { code } = error as NodeJS.ErrnoException;
      const isBusy = code === "EADDRINUSE" || code === "EACCES";
      if (!isBusy || port !== undefined || tried >= PORT + MORE_PORTS) {
        if (!isBusy) throw error;
        console.error(`Port ${tried} cannot be used (${code}); choose another with --port.`);
        return 1;
      }
    }
  }
}
