/// <reference lib="dom" />
/** Sends sheets of the house to the host's printing. */
import { printableHtml, type Paper, type PrintOptions } from "./print/index.js";
import type { PaneTools } from "./tabs/tab.js";

/** Places that print on letter paper; everyone else on A4. */
const LETTER_REGIONS = new Set(["US", "CA", "MX", "PH", "CL", "CO", "VE", "CR", "GT", "PA", "DO"]);

export function usualPaper(language: string): Paper {
  const region = /-([A-Z]{2})\b/.exec(language)?.[1];
  return region === undefined || LETTER_REGIONS.has(region) ? "letter" : "a4";
}

export function printHouse(tools: PaneTools, options: PrintOptions): void {
  const { house, findings } = tools.reading;
  if (!house) {
    tools.say("There is no house to print.", true);
    return;
  }
  const title = tools.host.bookName;
  const paperOf = (paper: Paper): string =>
    printableHtml(house, { title, paper, ...(findings ? { findings } : {}), ...options });
  tools.host.print(paperOf, usualPaper(navigator.language));
}
