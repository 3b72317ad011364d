/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/** The pane beside a spreadsheet: the house in pictures and lists. The same in every host. */
import { drawingVariables } from "./drawings/index.js";
import { button, make } from "./dom.js";
import type { CellPlace } from "./find-cell.js";
import type { ActiveCell, HouseReading, PaneHost } from "./host.js";
import { ChecksTab } from "./tabs/checks.js";
import { CutsTab } from "./tabs/cuts.js";
import { FunctionsTab } from "./tabs/functions.js";
import { OrderTab } from "./tabs/order.js";
import type { PaneTools, Tab, TabName } from "./tabs/tab.js";
import { WallTab } from "./tabs/wall.js";

/** A house is read again this long after the last change. */
const SETTLE_MS = 120;
/** Readings shorter than this say nothing. */
const QUIET_MS = 400;

export interface Pane {
  /** call after the page switched between dark and light */
  themeChanged(): void;
}

const TITLES: readonly (readonly [TabName, string])[] = [
  ["wall", "Wall"],
  ["cuts", "Cuts"],
  ["order", "Order"],
  ["checks", "Checks"],
  ["functions", "Functions"],
];

class HousePane implements Pane, PaneTools {
  private readonly tabs: Readonly<Record<TabName, Tab>>;
  private readonly tabButtons = new Map<TabName, HTMLButtonElement>();
  private readonly panels = new Map<TabName, HTMLElement>();
  private current: TabName = "wall";
  private readonly state = make("p", { class: "pane-state", attributes: { role: "status" } });
  private readonly cancel = button("Stop", () => this.running?.abort(), { hidden: true });
  private readonly work = make("progress", {
    hidden: true,
    attributes: { "aria-label": "Cutting up the house" },
  });
  private readonly showCell = button("Show the cell", () => this.showProblem(), { hidden: true });
  private running: AbortController | undefined;
  private timer: ReturnType<typeof setTimeout> | undefined;
  reading: HouseReading = {};
  private cell: ActiveCell | undefined;

  constructor(
    private readonly root: HTMLElement,
    readonly host: PaneHost
  ) {
    this.tabs = {
      wall: new WallTab(this),
      cuts: new CutsTab(this),
      order: new OrderTab(this),
      checks: new ChecksTab(this),
      functions: new FunctionsTab(this),
    };
    this.layColors();
    this.build();
    host.onChange(() => this.schedule());
    host.onSelection((cell) => {
      this.cell = cell;
      for (const tab of Object.values(this.tabs)) tab.selected?.(cell);
    });
    new ResizeObserver(() => this.tabs[this.current].resized?.()).observe(root);
  }

  themeChanged(): void {
    this.tabs[this.current].show(this.reading);
  }

  get activeCell(): ActiveCell | undefined {
    return this.cell;
  }

  open(name: TabName): void {
    this.current = name;
    for (const [each, tabButton] of this.tabButtons) {
      const isOpen = each === name;
      tabButton.setAttribute("aria-selected", String(isOpen));
      tabButton.tabIndex = isOpen ? 0 : -1;
      (this.panels.get(each) as HTMLElement).hidden = !isOpen;
    }
    this.tabs[name].show(this.reading);
  }

  tab<Name extends TabName>(name: Name): Tab {
    return this.tabs[name];
  }

  private layColors(): void {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(
      `:root { ${drawingVariables("light")} } :root[data-theme="dark"] { ${drawingVariables("dark")} }`
    );
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
  }

  private build(): void {
    const list = make("div", {
      class: "pane-tabs",
      attributes: { role: "tablist", "aria-label": "House" },
      on: { keydown: (event) => this.arrow(event as KeyboardEvent) },
    });
    this.root.classList.add("house-pane");
    this.root.replaceChildren(
      list,
      make("div", { class: "pane-state-line" }, this.state, this.work, this.showCell, this.cancel)
    );
    for (const [name, title] of TITLES) {
      const tabButton = button(title, () => this.open(name), {
        id: `tab-${name}`,
        attributes: { role: "tab", "aria-controls": `panel-${name}` },
      });
      const panel = make("div", {
        class: "pane-panel",
        id: `panel-${name}`,
        attributes: { role: "tabpanel", "aria-labelledby": `tab-${name}`, tabindex: "0" },
      });
      panel.append(this.tabs[name].root);
      this.tabButtons.set(name, tabButton);
      this.panels.set(name, panel);
      list.append(tabButton);
      this.root.append(panel);
    }
    this.open("wall");
  }

  private arrow(event: KeyboardEvent): void {
    const names = TITLES.map(([name]) => name);
    const at = names.indexOf(this.current);
    const last = names.length - 1;
    const next = {
      ArrowRight: at === last ? 0 : at + 1,
      ArrowLeft: at === 0 ? last : at - 1,
      Home: 0,
      End: last,
    }[event.key];
    if (next === undefined) return;
    event.preventDefault();
    const name = names[next] as TabName;
    this.open(name);
    this.tabButtons.get(name)?.focus();
  }

  private schedule(): void {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.read(), SETTLE_MS);
  }

  private async read(): Promise<void> {
    if (this.running) {
      this.schedule();
      return;
    }
    const running = new AbortController();
    this.running = running;
    const busy = setTimeout(() => {
      this.say("Cutting up the house …");
      this.cancel.hidden = false;
      this.work.hidden = false;
    }, QUIET_MS);
    try {
      this.reading = await this.host.readHouse(running.signal);
      const { problem, firstStep = "" } = this.reading;
      this.say(problem ?? firstStep, problem !== undefined);
      this.showCell.hidden = this.problemCell === undefined;
    } catch (error) {
      // what the tabs show must not be of a house that is no longer there
      this.reading = {};
      const reason = error instanceof Error ? error.message : String(error);
      this.say(running.signal.aborted || reason === "stopped" ? "Stopped." : reason, true);
    } finally {
      clearTimeout(busy);
      this.cancel.hidden = true;
      this.work.hidden = true;
      this.running = undefined;
    }
    this.countChecks();
    this.tabs[this.current].show(this.reading);
    this.root.dataset.readings = String(Number(this.root.dataset.readings ?? 0) + 1);
  }

  private countChecks(): void {
    const toFix = (this.reading.findings ?? []).filter((each) => each.level === "fix").length;
    const tabButton = this.tabButtons.get("checks") as HTMLButtonElement;
    tabButton.replaceChildren("Checks");
    if (toFix === 0) return;
    const badge = make("span", { class: "badge", text: String(toFix) });
    badge.setAttribute("aria-label", `${toFix} to fix`);
    tabButton.append(" ", badge);
  }

  private get problemCell(): CellPlace | undefined {
    return this.reading.problemAt;
  }

  private showProblem(): void {
    const cell = this.problemCell;
    if (cell) this.host.select(cell.sheet, cell.row, cell.column);
  }

  say(text: string, isProblem = false): void {
    this.showCell.hidden = true;
    this.state.textContent = text;
    this.state.classList.toggle("is-problem", isProblem && text !== "");
  }
}

/** Builds the pane inside an element. */
export function mountPane(root: HTMLElement, host: PaneHost): Pane {
  return new HousePane(root, host);
}
