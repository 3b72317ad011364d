/// <reference lib="dom" />
/** What every tab of the pane has, and what it may use. */
import type { ActiveCell, HouseReading, PaneHost } from "../host.js";

export type TabName = "wall" | "cuts" | "order" | "checks" | "functions";

export interface Tab {
  readonly root: HTMLElement;
  /** shows a reading; called when the tab is opened and when the house changed */
  show(reading: HouseReading): void;
  selected?(cell: ActiveCell): void;
  resized?(): void;
  /** shows one thing of the tab, such as a panel by its name */
  reveal?(what: string): void;
}

export interface PaneTools {
  readonly host: PaneHost;
  readonly reading: HouseReading;
  readonly activeCell: ActiveCell | undefined;
  open(name: TabName): void;
  tab(name: TabName): Tab;
  say(text: string, isProblem?: boolean): void;
}
