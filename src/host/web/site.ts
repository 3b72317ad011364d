/** The files of the local sheet, built where a source changed. */
import fs from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { siteOf } from "./server.js";

/** Workbooks the page offers, by the name it asks for. */
const WORKBOOKS = ["demo-house.xlsx", "house-template.xlsx"];

/** The bundler of the page. Named at run time: it is run as it is, and must not become a part of this command. */
const BUNDLER = path.resolve("src", "tools", "local-sheet.mjs");

/** The files of the site by the path a browser asks for. */
export async function preparedSite(): Promise<Map<string, string>> {
  const { localSheet } = (await import(pathToFileURL(BUNDLER).href)) as {
    localSheet: () => Promise<string>;
  };
  const site = siteOf(await localSheet());
  for (const name of WORKBOOKS) {
    const file = path.resolve("sample-workbooks", name);
    if (fs.existsSync(file)) site.set(`/${name}`, file);
  }
  return site;
}
