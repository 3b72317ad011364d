/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/** One wall from outside: its drawing, its marks, its pieces. */
import {
  builtWall,
  copyName,
  pieceSize,
  piecePlaces,
  wallDrawing,
  wallMarksTable,
  WIDTH_LIMITS,
} from "../drawings/index.js";
import type { HouseTakeoff, WallTakeoff } from "../../core/house/takeoff.js";
import { nameKey } from "../../core/house/tables.js";
import { button, checkbox, choice, drawing, enable, make, tableOf, unbroken } from "../dom.js";
import type { ActiveCell, HouseReading, TablePlace } from "../host.js";
import { printHouse } from "../print-house.js";
import type { PaneTools, Tab } from "./tab.js";

/** How many pane widths the drawing is wide. */
const ZOOMS = [1, 1.5, 2, 3, 4];

export class WallTab implements Tab {
  readonly root = make("div", { class: "wall-tab" });
  private readonly view = make("div", {
    class: "drawing",
    attributes: { tabindex: "0", role: "group" },
  });
  private readonly detail = make("div", { class: "piece-detail", attributes: { role: "status" } });
  private readonly burn = make("p", { class: "burn" });
  private readonly marks = scrolling("Marks to pull");
  private readonly pieces = scrolling("Pieces");
  private readonly body = make("div", { class: "tab-body" });
  private readonly picker = choice("Wall", [], "", (value) => this.pick(value));
  private readonly before = button("‹", () => this.step(-1), {
    attributes: { "aria-label": "Wall before" },
  });
  private readonly after = button("›", () => this.step(1), {
    attributes: { "aria-label": "Next wall" },
  });
  private readonly printWall = button("Print wall", () => this.print(true));
  private readonly printAll = button("Print all", () => this.print(false));
  /** name of the wall shown, and which of equal ones */
  private shown: { name: string; copy: number } | undefined;
  private zoom = 0;
  private readonly options = { nails: false, studs: true, tape: true };
  private drawnFor = "";

  constructor(private readonly tools: PaneTools) {
    const toggles = make(
      "div",
      { class: "row" },
      checkbox("Studs", true, (isOn) => this.toggle("studs", isOn)),
      checkbox("Tape", true, (isOn) => this.toggle("tape", isOn)),
      checkbox("Nails", false, (isOn) => this.toggle("nails", isOn)),
      make(
        "span",
        { class: "zoom" },
        button("−", () => this.zoomBy(-1), { attributes: { "aria-label": "Smaller drawing" } }),
        button("+", () => this.zoomBy(1), { attributes: { "aria-label": "Larger drawing" } })
      )
    );
    this.body.append(
      this.burn,
      toggles,
      this.view,
      this.detail,
      make("h2", { text: "Marks to pull" }),
      this.marks,
      make("h2", { text: "Pieces" }),
      this.pieces
    );
    this.root.append(
      make(
        "div",
        { class: "row tab-head" },
        this.picker.field,
        make("span", { class: "together" }, this.before, this.after),
        make("span", { class: "together" }, this.printWall, this.printAll)
      ),
      this.body
    );
    for (const event of ["pointerover", "click", "focusin"]) {
      this.view.addEventListener(event, (happened) => this.tell(happened.target as Element));
    }
  }

  show({ house }: HouseReading): void {
    this.body.hidden = !house;
    const { select } = this.picker;
    enable(house !== undefined, select, this.before, this.after, this.printWall, this.printAll);
    if (!house) {
      select.replaceChildren();
      this.view.replaceChildren();
      this.drawnFor = "";
      return;
    }
    const walls = house.built.map((each) => [key(each), copyName(each)] as const);
    const known = [...select.options].map((each) => each.value).join("\n");
    if (known !== walls.map(([value]) => value).join("\n")) {
      select.replaceChildren(
        ...walls.map(([value, text]) => make("option", { text, attributes: { value } }))
      );
    }
    const current = this.shown && house.built.find((each) => isShown(each, this.shown));
    const wall = current ?? house.built[0];
    if (!wall) return;
    this.shown = { name: wall.cut.wall.name, copy: wall.copy };
    select.value = key(wall);
    if (!current && this.tools.activeCell) this.selected(this.tools.activeCell);
    this.draw(house);
  }

  /** Follows the selected cell to the wall of its row. */
  selected(cell: ActiveCell): void {
    const { house, places } = this.tools.reading;
    if (!house || !places) return;
    const rowIn = (place: TablePlace | undefined): number | undefined =>
      place &&
      cell.sheet === place.sheet &&
      cell.row > place.top &&
      cell.row <= place.bottom &&
      cell.column >= place.left &&
      cell.column <= place.right
        ? cell.row - place.top
        : undefined;
    const wallRow = rowIn(places.walls);
    const openingRow = rowIn(places.openings);
    const name =
      wallRow !== undefined
        ? house.walls.find((wall) => wall.row === wallRow)?.name
        : openingRow !== undefined
          ? house.openings.find((opening) => opening.row === openingRow)?.wall
          : undefined;
    if (name === undefined || (this.shown && nameKey(this.shown.name) === nameKey(name))) return;
    this.shown = { name, copy: 1 };
    this.picker.select.value = `${name}\n1`;
    if (this.root.isConnected) this.draw(house);
  }

  resized(): void {
    const { house } = this.tools.reading;
    if (house) this.draw(house);
  }

  reveal(what: string): void {
    this.pick(`${what}\n1`);
  }

  private pick(value: string): void {
    const [name = "", copy = "1"] = value.split("\n");
    this.shown = { name, copy: Number(copy) };
    const { house } = this.tools.reading;
    if (house) this.draw(house);
  }

  private step(by: number): void {
    const { select } = this.picker;
    const count = select.options.length;
    if (count === 0) return;
    select.selectedIndex = (select.selectedIndex + by + count) % count;
    this.pick(select.value);
  }

  private toggle(name: "nails" | "studs" | "tape", isOn: boolean): void {
    this.options[name] = isOn;
    this.resized();
  }

  private zoomBy(by: number): void {
    this.zoom = Math.min(ZOOMS.length - 1, Math.max(0, this.zoom + by));
    this.resized();
  }

  private draw(house: HouseTakeoff): void {
    const { shown } = this;
    const room = this.view.clientWidth || this.root.clientWidth;
    if (!shown || room === 0) return;
    const scale = ZOOMS[this.zoom] ?? 1;
    const width = Math.min(WIDTH_LIMITS.max, Math.max(WIDTH_LIMITS.min, Math.floor(room * scale)));
    const built = house.built.find((each) => isShown(each, shown)) ?? builtWall(house, shown.name);
    const { name } = built.cut.wall;
    const svg = wallDrawing(house, name, { ...this.options, copy: built.copy, width });
    if (svg !== this.drawnFor) {
      this.drawnFor = svg;
      this.view.replaceChildren(drawing(svg));
      this.view.setAttribute("aria-label", `Drawing of wall ${copyName(built)}; scrolls`);
      this.detail.replaceChildren("Point at a piece or tap it: its name, size and panel.");
    }
    this.list(house, built);
  }

  private list(house: HouseTakeoff, built: WallTakeoff): void {
    const { name } = built.cut.wall;
    const marks = wallMarksTable(house, name);
    this.burn.replaceChildren(...unbroken(marks.burn.words));
    const raked = marks.isRaked;
    this.marks.replaceChildren(
      tableOf(
        `Marks of wall ${name}`,
        [
          { title: "Mark", class: "number" },
          { title: "Tape", class: "number strong" },
          { title: "Near edge", class: "number" },
          ...(raked
            ? [
                { title: "Stud", class: "number" },
                { title: "Bevel", class: "number" },
              ]
            : []),
          { title: "Note" },
        ],
        marks.rows.map((row) => [
          row.mark,
          row.tape,
          row.line,
          ...(raked ? [row.studLength ?? "", row.bevel ?? ""] : []),
          row.note,
        ])
      )
    );
    const places = piecePlaces(house);
    this.pieces.replaceChildren(
      tableOf(
        `Pieces of wall ${name}`,
        [{ title: "Piece" }, { title: "Size" }, { title: "Cut from" }],
        built.pieces.map((each) => {
          const place = places.get(each.planId);
          const from = place
            ? button(
                place.sheetName.startsWith("S")
                  ? `scrap ${place.sheetName}`
                  : `panel ${place.sheetName}`,
                () => this.showCut(place.sheetName),
                { class: "link" }
              )
            : "";
          return [each.label, pieceSize(each, place), from];
        })
      )
    );
  }

  private showCut(sheetName: string): void {
    this.tools.open("cuts");
    this.tools.tab("cuts").reveal?.(sheetName);
  }

  private tell(target: Element): void {
    const piece = target.closest?.("[data-piece]");
    if (!(piece instanceof SVGElement)) return;
    const { piece: name = "", size = "", panel = "" } = piece.dataset;
    for (const each of this.view.querySelectorAll(".is-told")) each.classList.remove("is-told");
    piece.classList.add("is-told");
    const from = panel.startsWith("S") ? `scrap ${panel}` : `panel ${panel}`;
    this.detail.replaceChildren(
      make("strong", { text: name }),
      ` ${size}, ${panel === "" ? "not cut" : ""}`,
      panel === "" ? "" : button(from, () => this.showCut(panel), { class: "link" })
    );
  }

  private print(isOne: boolean): void {
    const { shown } = this;
    printHouse(this.tools, {
      parts: ["crew"],
      nails: this.options.nails,
      ...(isOne && shown ? { walls: [shown.name] } : {}),
    });
  }
}

/** A place for a table that may be wider than the pane. */
function scrolling(label: string): HTMLElement {
  return make("div", {
    class: "table-view",
    attributes: { tabindex: "0", role: "group", "aria-label": label },
  });
}

function key(each: WallTakeoff): string {
  return `${each.cut.wall.name}\n${each.copy}`;
}

function isShown(each: WallTakeoff, shown: { name: string; copy: number } | undefined): boolean {
  return (
    shown !== undefined &&
    nameKey(each.cut.wall.name) === nameKey(shown.name) &&
    each.copy === shown.copy
  );
}
