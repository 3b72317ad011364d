/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/** The page of the local sheet: the grid, the pane beside it, files in and out. */
import "./inline-styles.js";
import "./styles.js";
import { mountPane, type Pane } from "../../pane/pane.js";
import { HouseTakeoff } from "../../core/house/takeoff.js";
import type { ActiveCell, HouseReading, PaneHost } from "../../pane/host.js";
import type { Paper } from "../../pane/print/index.js";
import { cellAddress } from "../../core/cell-address.js";
import { Grid, type GridPlace } from "./grid.js";
import { addStep } from "./file/structure.js";
import type { CellMessage, ModelBook, ModelChange, StructureStep } from "./protocol.js";
import { dropWork, keepWork, takeWork, type Work } from "./store.js";
import { ExpectedFailure, Stopped, WorkerClient } from "./worker-client.js";

/** Workbooks the page brings along. */
const DEMO = "demo-house.xlsx";
const TEMPLATE = "house-template.xlsx";
/** Work is kept this long after the last change. */
const KEEP_AFTER_MS = 500;
/** Calculations shorter than this say nothing. */
const QUIET_MS = 350;
/** A word about an entry is said this long after it, when the grid has made its changes. */
const PASSING_AFTER_MS = 100;
/** Largest file taken, bytes; a house workbook is under 1 MB. */
const MOST_BYTES = 50 * 1024 * 1024;

function byId<T extends HTMLElement>(id: string): T {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no element ${id}`);
  return found as T;
}

interface OpenBook {
  name: string;
  original: Uint8Array;
  steps: Record<string, StructureStep[]>;
  isUnsaved: boolean;
  /** counted, so that what takes a while can tell whether it has them all */
  edits: number;
}

class LocalSheet implements PaneHost {
  private readonly worker = new WorkerClient("worker.js");
  private readonly grid: Grid;
  private readonly pane: Pane;
  private book: OpenBook | undefined;
  private pending: { book?: ModelBook; changes: ModelChange[] } | undefined;
  private isCalculating = false;
  private toldOfLengths = false;
  /** the notice shown is about what was typed last, and goes with the next entry */
  private isPassingNotice = false;
  /** the worker has the workbook as it stands in the grid */
  private isInWorker = false;
  private messages = new Map<string, CellMessage>();
  private keepTimer: ReturnType<typeof setTimeout> | undefined;
  private busyTimer: ReturnType<typeof setTimeout> | undefined;
  private readonly changeListeners: (() => void)[] = [];
  private readonly selectionListeners: ((cell: ActiveCell) => void)[] = [];
  private place: GridPlace | undefined;
  private idle: (() => void)[] = [];

  constructor() {
    const isDark = this.wantsDark();
    document.documentElement.dataset.theme = isDark ? "dark" : "light";
    this.grid = new Grid(byId("sheet"), isDark, {
      onModel: (change) => this.modelChanged(change),
      onEdit: () => this.edited(),
      onStep: (sheet, step) => {
        if (this.book) this.book.steps[sheet] = addStep(this.book.steps[sheet] ?? [], step);
      },
      onSelection: (place) => this.selected(place),
      onLength: (text) => this.lengthKept(text),
      onRefusal: (words) => this.notice(words),
    });
    this.pane = mountPane(byId("pane"), this);
    this.wireButtons();
    this.wireViews();
    this.wireDivider();
  }

  // --- what the pane asks for -----------------------------------------------------------------------------------------

  get bookName(): string {
    return this.book?.name ?? "house";
  }

  async readHouse(signal: AbortSignal): Promise<HouseReading> {
    await this.calculated();
    if (signal.aborted) throw new Stopped();
    if (!this.isInWorker) throw new Error("The calculation was stopped; recalculate to go on.");
    const stop = (): void => this.stopWork();
    signal.addEventListener("abort", stop);
    try {
      const reading = await this.worker.request("house", { activeSheet: this.place?.sheet });
      // what comes from another thread is plain data
      return reading.house ? { ...reading, house: new HouseTakeoff(reading.house) } : reading;
    } finally {
      signal.removeEventListener("abort", stop);
    }
  }

  onChange(listener: () => void): void {
    this.changeListeners.push(listener);
  }

  onSelection(listener: (cell: ActiveCell) => void): void {
    this.selectionListeners.push(listener);
    if (this.place) listener(activeCell(this.place));
  }

  select(sheet: string, row: number, column: number): void {
    this.showView("sheet");
    this.grid.select(sheet, row, column);
    this.grid.focus();
  }

  insertFormula(text: string): Promise<void> {
    this.showView("sheet");
    this.grid.startTyping(text);
    return Promise.resolve();
  }

  print(sheets: (paper: Paper) => string, usual: Paper): void {
    const opened = window.open("print.html");
    if (!opened) {
      this.notice(
        "The browser did not allow the page with the sheets; allow it and press Print again."
      );
      return;
    }
    const answer = ({ source, origin, data }: MessageEvent): void => {
      const asked = data as { kind?: string; paper?: Paper | null };
      if (source !== opened || origin !== location.origin || asked.kind !== "ready-to-print")
        return;
      const paper = asked.paper ?? usual;
      opened.postMessage({ kind: "sheets", paper, html: sheets(paper) }, location.origin);
    };
    window.addEventListener("message", answer);
  }

  // --- opening and saving ---------------------------------------------------------------------------------------------

  async start(): Promise<void> {
    const { work, others } = await takeWork().catch(() => ({ work: undefined, others: 0 }));
    const isBack = work !== undefined && (await this.showKept(work));
    if (!isBack) await this.openBundled(DEMO);
    this.tellKept(isBack ? work : undefined, others);
  }

  private async showKept({ name, original, steps, data, isSaved }: Work): Promise<boolean> {
    try {
      await this.show({ name, original, steps, isUnsaved: !isSaved, edits: 0 }, data);
      return true;
    } catch (error) {
      console.warn("work kept in the browser could not be shown", error);
      return false;
    }
  }

  /** Says which work is back, and how to come to that of other tabs. */
  private tellKept(work: Work | undefined, others: number): void {
    const back = !work
      ? ""
      : work.isSaved
        ? "The workbook is back as you saved it. "
        : "Your unsaved work is back as you left it. ";
    if (others > 0) {
      const left =
        others === 1
          ? "Unsaved work of a closed tab is kept"
          : `Unsaved work of ${others} closed tabs is kept`;
      this.notice(`${back}${left}.`, {
        label: others === 1 ? "Open it in a new tab" : "Open the newest in a new tab",
        // with a session of its own; the new tab takes the newest that nobody has
        run: () => void window.open(location.href, "_blank", "noopener"),
      });
    } else if (work) {
      this.notice(back.trimEnd(), {
        label: "Open the demo house instead",
        run: () => void this.openBundled(DEMO),
      });
    }
  }

  private async openBundled(name: string): Promise<void> {
    const response = await fetch(name);
    if (!response.ok) {
      this.notice(`The workbook ${name} is not part of this copy. Open one of your own.`);
      return;
    }
    const bytes = new Uint8Array(await response.arrayBuffer());
    await this.openBytes(bytes, name === TEMPLATE ? "new house" : name.replace(/\.xlsx$/, ""));
  }

  private async openBytes(bytes: Uint8Array, name: string): Promise<void> {
    if (bytes.length > MOST_BYTES) {
      this.notice(`${name} is larger than ${MOST_BYTES / 1024 / 1024} MB and is not opened.`);
      return;
    }
    if (this.isCalculating) this.stopWork();
    this.busy("Opening");
    try {
      const data = await this.worker.request("open", { bytes, unit: "opened" });
      const book = { name, original: bytes, steps: {}, isUnsaved: false, edits: 0 };
      await this.show(book, data);
      // once it was edited, its own copy has taken the place of the one before
      if (this.book === book && book.edits === 0) await dropWork().catch(() => undefined);
    } catch (error) {
      if (error instanceof Stopped) return;
      const reason = error instanceof Error ? error.message : String(error);
      this.notice(
        error instanceof ExpectedFailure
          ? `${name} was not opened: ${reason}.`
          : `${name} could not be opened (${reason}).`
      );
    } finally {
      this.quiet();
    }
  }

  private async show(book: OpenBook, data: Parameters<Grid["show"]>[0]): Promise<void> {
    clearTimeout(this.keepTimer);
    this.keepTimer = undefined;
    this.book = book;
    this.messages.clear();
    this.isInWorker = false;
    await this.grid.show(data);
    this.pending = { book: this.grid.model(), changes: [] };
    this.showState();
    this.hideNotice();
    // a button that was pressed must not take the next Enter
    this.grid.focus();
    await this.calculate();
  }

  /** The workbook as a file, from what the grid holds now. */
  async fileBytes(): Promise<Uint8Array> {
    return (await this.file()).bytes;
  }

  /** The workbook as a file, and how many of its edits are in it: one may be edited while it is written. */
  private async file(): Promise<{ book: OpenBook; edits: number; bytes: Uint8Array }> {
    await this.calculated();
    const { book } = this;
    if (!book) throw new Error("no workbook is open");
    const { original, steps, edits } = book;
    const data = this.grid.snapshot();
    const bytes = await this.worker.request("save", { original, data, steps });
    return { book, edits, bytes };
  }

  private async save(): Promise<void> {
    if (!this.book) return;
    this.busy("Saving");
    this.grid.finishEditing();
    try {
      const { book, edits, bytes } = await this.file();
      const type = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";
      const link = document.createElement("a");
      link.href = URL.createObjectURL(new Blob([bytes as BlobPart], { type }));
      link.download = `${book.name}.xlsx`;
      link.click();
      setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
      if (book.edits === edits) book.isUnsaved = false;
      if (this.book !== book) return;
      this.showState();
      // kept all the same: nobody tells the page that a person did not let the browser write the file
      await this.keep();
    } catch (error) {
      if (error instanceof Stopped) return;
      this.notice(`The workbook could not be saved (${(error as Error).message}).`);
    } finally {
      this.quiet();
    }
  }

  private edited(): void {
    if (!this.book) return;
    this.book.edits++;
    if (this.isPassingNotice) this.hideNotice();
    this.book.isUnsaved = true;
    this.showState();
    clearTimeout(this.keepTimer);
    this.keepTimer = setTimeout(() => void this.keep(), KEEP_AFTER_MS);
  }

  private async keep(): Promise<void> {
    clearTimeout(this.keepTimer);
    this.keepTimer = undefined;
    const { book } = this;
    if (!book) return;
    const { name, original, steps, isUnsaved } = book;
    try {
      await keepWork({ name, original, steps, data: this.grid.snapshot(), isSaved: !isUnsaved });
    } catch {
      if (this.book !== book || !book.isUnsaved) return;
      byId("file-state").textContent = "Unsaved changes (the browser keeps no copy)";
    }
  }

  private showState(): void {
    const { name, isUnsaved } = this.book ?? { name: "", isUnsaved: false };
    byId("file-name").textContent = name;
    byId("file-state").textContent = isUnsaved ? "Unsaved changes" : "";
    document.title = `${isUnsaved ? "• " : ""}${name} – Local sheet`;
  }

  // --- calculating ----------------------------------------------------------------------------------------------------

  private modelChanged(change: { book?: ModelBook; changes?: ModelChange[] }): void {
    if (change.book) this.pending = { book: change.book, changes: [] };
    else if (!this.isInWorker && !this.isCalculating) {
      this.pending = { book: this.grid.model(), changes: [] };
    } else {
      this.pending ??= { changes: [] };
      this.pending.changes.push(...(change.changes ?? []));
    }
    void this.calculate();
  }

  private async calculate(): Promise<void> {
    if (this.isCalculating) return;
    this.isCalculating = true;
    this.busyTimer = setTimeout(() => this.busy("Calculating"), QUIET_MS);
    try {
      while (this.pending) {
        const takes = this.pending;
        this.pending = undefined;
        const result = await this.worker.request("calculate", takes);
        this.isInWorker = true;
        this.grid.apply(result);
        this.messages = new Map(
          result.messages.map((each) => [`${each.sheet}!${each.row},${each.column}`, each])
        );
        document.documentElement.dataset.calculated = String(
          Number(document.documentElement.dataset.calculated ?? 0) + 1
        );
      }
    } catch (error) {
      this.isInWorker = false;
      if (!(error instanceof Stopped)) {
        this.notice(`The workbook could not be calculated (${(error as Error).message}).`);
      }
    } finally {
      this.isCalculating = false;
      clearTimeout(this.busyTimer);
      this.quiet();
    }
    this.showCell();
    const waiting = this.idle;
    this.idle = [];
    for (const go of waiting) go();
    for (const listener of this.changeListeners) listener();
  }

  /** Resolves once nothing is left to calculate. */
  private calculated(): Promise<void> {
    if (!this.isCalculating && !this.pending) return Promise.resolve();
    return new Promise((resolve) => this.idle.push(resolve));
  }

  private stopWork(): void {
    this.pending = undefined;
    this.worker.stop();
    this.isInWorker = false;
    this.notice("Stopped. Cells show the values of the last finished calculation.", {
      label: "Recalculate",
      run: () => {
        this.pending = { book: this.grid.model(), changes: [] };
        void this.calculate();
      },
    });
  }

  // --- the cell that is selected --------------------------------------------------------------------------------------

  private selected(place: GridPlace): void {
    this.place = place;
    this.showCell();
    for (const listener of this.selectionListeners) listener(activeCell(place));
  }

  private showCell(): void {
    const { place } = this;
    if (!place) return;
    const message = this.messages.get(`${place.sheet}!${place.row},${place.column}`);
    byId("cell-place").textContent = cellAddress(place.row, place.column);
    const shown = byId("cell-message");
    const text = message ? `${message.code}  ${message.message}` : "";
    if (shown.textContent !== text) shown.textContent = text;
    shown.title = text;
  }

  // --- words for the person -------------------------------------------------------------------------------------------

  private busy(text: string): void {
    byId("work-state").textContent = `${text} …`;
    byId("work-bar").hidden = false;
    byId("stop-work").hidden = false;
  }

  private quiet(): void {
    if (this.isCalculating) return;
    byId("work-state").textContent = "";
    byId("work-bar").hidden = true;
    byId("stop-work").hidden = true;
  }

  /** Said once: people type many of them. */
  private lengthKept(text: string): void {
    if (this.toldOfLengths) return;
    this.toldOfLengths = true;
    // after the change that this entry itself is
    setTimeout(() => {
      this.notice(
        `${text} is kept as text, so that it stays a length. SHEATH functions read it as one; to reckon with it yourself, write SHEATH.INCHES(…) around its cell.`
      );
      this.isPassingNotice = true;
    }, PASSING_AFTER_MS);
  }

  private notice(text: string, action?: { label: string; run: () => void }): void {
    byId("notice-text").textContent = text;
    this.isPassingNotice = false;
    const button = byId<HTMLButtonElement>("notice-action");
    button.hidden = !action;
    button.textContent = action?.label ?? "";
    button.onclick = () => {
      this.hideNotice();
      this.grid.focus();
      action?.run();
    };
    byId("notice").hidden = false;
  }

  private hideNotice(): void {
    const notice = byId("notice");
    const hadKeyboard = notice.contains(document.activeElement);
    this.isPassingNotice = false;
    notice.hidden = true;
    if (hadKeyboard) this.grid.focus();
  }

  /** Asks before work is thrown away. */
  private mayLeave(): boolean {
    this.grid.finishEditing();
    return (
      !this.book?.isUnsaved ||
      window.confirm(`${this.book.name} has changes that are not saved. Leave them?`)
    );
  }

  // --- controls -------------------------------------------------------------------------------------------------------

  private wireButtons(): void {
    const input = byId<HTMLInputElement>("file-input");
    byId("open-file").onclick = () => input.click();
    input.onchange = async () => {
      const file = input.files?.[0];
      input.value = "";
      if (!file || !this.mayLeave()) return;
      await this.openBytes(
        new Uint8Array(await file.arrayBuffer()),
        file.name.replace(/\.xlsx$/i, "")
      );
    };
    byId("new-house").onclick = () => {
      if (this.mayLeave()) void this.openBundled(TEMPLATE);
    };
    byId("save-file").onclick = () => void this.save();
    byId("switch-theme").onclick = () => this.switchTheme();
    // a button that goes away must not take the keyboard with it
    byId("stop-work").onclick = () => {
      this.stopWork();
      this.grid.focus();
    };
    byId("notice-close").onclick = () => {
      this.hideNotice();
      this.grid.focus();
    };
    document.addEventListener(
      "keydown",
      (event) => {
        if (event.key === "F6") {
          event.preventDefault();
          this.switchRegion(event.shiftKey ? -1 : 1);
          return;
        }
        if (event.key === "Escape" && !byId("notice").hidden && !this.grid.isEditing) {
          this.hideNotice();
          return;
        }
        const turn = { PageDown: 1, PageUp: -1 }[event.key] as 1 | -1 | undefined;
        // with Ctrl alone most browsers keep these keys for their own tabs
        if (turn && event.ctrlKey && !event.shiftKey && !this.grid.isEditing) {
          event.preventDefault();
          event.stopPropagation();
          this.showView("sheet");
          this.grid.turnSheet(turn);
          return;
        }
        if (!(event.ctrlKey || event.metaKey) || event.altKey || event.shiftKey) return;
        if (event.key.toLowerCase() === "s") {
          event.preventDefault();
          void this.save();
        } else if (event.key.toLowerCase() === "o") {
          event.preventDefault();
          input.click();
        }
      },
      true
    );
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "hidden" && this.keepTimer) void this.keep();
    });
    // what is being typed as well, at once: the page may be gone before anything that waits
    for (const leaving of ["beforeunload", "pagehide"]) {
      window.addEventListener(leaving, () => {
        this.grid.finishEditing();
        if (this.keepTimer) void this.keep();
      });
    }
  }

  private wantsDark(): boolean {
    const chosen = localStorage.getItem("theme");
    if (chosen === "dark" || chosen === "light") return chosen === "dark";
    return window.matchMedia("(prefers-color-scheme: dark)").matches;
  }

  private switchTheme(): void {
    const isDark = document.documentElement.dataset.theme !== "dark";
    document.documentElement.dataset.theme = isDark ? "dark" : "light";
    localStorage.setItem("theme", isDark ? "dark" : "light");
    this.grid.setDark(isDark);
    this.pane.themeChanged();
  }

  private wireViews(): void {
    byId("view-sheet").onclick = () => this.showView("sheet");
    byId("view-pane").onclick = () => this.showView("pane");
    byId("views").onkeydown = (event) => {
      if (event.key !== "ArrowLeft" && event.key !== "ArrowRight") return;
      const next = byId("work").dataset.view === "sheet" ? "pane" : "sheet";
      this.showView(next);
      byId(`view-${next}`).focus();
    };
  }

  /** The grid keeps the Tab key for itself; F6 leads from one part of the page to the next, Shift+F6 back. */
  private switchRegion(by: 1 | -1): void {
    const inSheet = (): boolean => byId("sheet").contains(document.activeElement);
    const inside = (id: string) => (): boolean => byId(id).contains(document.activeElement);
    const regions: readonly { isHere: () => boolean; go: () => void }[] = [
      { isHere: inside("bar-buttons"), go: () => byId("open-file").focus() },
      {
        isHere: () => inSheet() && !this.grid.isAtTabs,
        go: () => {
          this.showView("sheet");
          this.grid.focus();
        },
      },
      {
        isHere: () => inSheet() && this.grid.isAtTabs,
        go: () => {
          this.showView("sheet");
          this.grid.focusTabs();
        },
      },
      {
        isHere: inside("pane"),
        go: () => {
          this.showView("pane");
          byId("pane").querySelector<HTMLElement>('[role="tab"][aria-selected="true"]')?.focus();
        },
      },
      ...(byId("notice").hidden
        ? []
        : [{ isHere: inside("notice"), go: () => byId("notice-close").focus() }]),
    ];
    const at = regions.findIndex(({ isHere }) => isHere());
    // from anywhere else the way leads to the sheet
    const next = at < 0 ? 1 : (at + by + regions.length) % regions.length;
    regions[next]?.go();
  }

  /** On a narrow screen one of the two is seen at a time. */
  private showView(view: "sheet" | "pane"): void {
    byId("work").dataset.view = view;
    for (const name of ["sheet", "pane"]) {
      const tab = byId(`view-${name}`);
      tab.setAttribute("aria-selected", String(name === view));
      tab.tabIndex = name === view ? 0 : -1;
    }
    window.dispatchEvent(new Event("resize"));
  }

  private wireDivider(): void {
    const divider = byId("divider");
    const work = byId("work");
    const least = 280;
    const set = (width: number): void => {
      const most = Math.max(least, work.clientWidth - 320);
      const kept = Math.round(Math.min(most, Math.max(least, width)));
      work.style.setProperty("--pane-width", `${kept}px`);
      divider.setAttribute("aria-valuenow", String(kept));
      divider.setAttribute("aria-valuemax", String(most));
    };
    divider.onpointerdown = (event) => {
      divider.setPointerCapture(event.pointerId);
      divider.onpointermove = (move) => set(work.getBoundingClientRect().right - move.clientX);
    };
    divider.onpointerup = () => {
      divider.onpointermove = null;
      window.dispatchEvent(new Event("resize"));
    };
    divider.onkeydown = (event) => {
      const step = { ArrowLeft: 24, ArrowRight: -24 }[event.key];
      if (step === undefined) return;
      event.preventDefault();
      set(byId("pane").clientWidth + step);
      window.dispatchEvent(new Event("resize"));
    };
  }

  /** For the browser tests: what the grid shows and how to reach it. */
  get test(): Grid {
    return this.grid;
  }
}

function activeCell(place: GridPlace): ActiveCell {
  const { sheet, row, column } = place;
  return { sheet, row, column, address: cellAddress(row, column) };
}

const sheet = new LocalSheet();
Object.assign(window, { localSheet: sheet });
void sheet.start();
