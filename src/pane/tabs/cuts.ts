/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/** Every panel bought and scrap used, with its pieces and saw cuts. */
import { cutDrawing, sheetNames, sheetView } from "../drawings/index.js";
import { boundNote } from "../../core/house/order.js";
import type { HouseTakeoff } from "../../core/house/takeoff.js";
import { button, choice, drawing, enable, make } from "../dom.js";
import type { HouseReading } from "../host.js";
import { printHouse } from "../print-house.js";
import type { PaneTools, Tab } from "./tab.js";

/** Width of a drawing, CSS pixels: as wide as its card has room for, within what can be read. */
const NARROWEST = 190;
const WIDEST = 300;

export class CutsTab implements Tab {
  readonly root = make("div", { class: "cuts-tab" });
  private readonly summary = make("p", { class: "summary" });
  private readonly cards = make("div", { class: "cards" });
  private readonly perPage = choice(
    "Panels a page",
    ["1", "2", "3", "4", "5", "6"].map((each) => [each, each] as const),
    "6",
    () => undefined
  );
  private readonly print: HTMLButtonElement;
  private shownHouse: HouseTakeoff | undefined;
  private observer: IntersectionObserver | undefined;

  constructor(tools: PaneTools) {
    this.print = button("Print cut sheet", () =>
      printHouse(tools, { parts: ["cuts"], panelsPerPage: Number(this.perPage.select.value) })
    );
    this.root.append(
      make("div", { class: "row tab-head" }, this.perPage.field, this.print),
      make("div", { class: "tab-body" }, this.summary, this.cards)
    );
  }

  show({ house }: HouseReading): void {
    enable(house !== undefined, this.print);
    if (house === this.shownHouse) return;
    this.shownHouse = house;
    this.observer?.disconnect();
    this.cards.replaceChildren();
    this.summary.textContent = "";
    if (!house) return;
    const { plan } = house;
    const bought = plan.bought
      .filter((each) => each.count > 0)
      .map((each) => `${each.count} of ${each.lengthIn} in`)
      .join(", ");
    const used = (plan.usedShare * 100).toFixed(1);
    const lengths = bought === "" ? "" : ` Bought: ${bought}; ${used} % of them becomes pieces.`;
    this.summary.textContent = `${boundNote(house)}.${lengths}`;
    // Drawn when scrolled to: a large house has hundreds.
    const observer = new IntersectionObserver(
      (entries) => {
        for (const entry of entries) {
          if (!entry.isIntersecting) continue;
          observer.unobserve(entry.target);
          this.fill(entry.target as HTMLElement, house);
        }
      },
      { root: this.root.closest(".pane-panel"), rootMargin: "400px" }
    );
    this.observer = observer;
    sheetNames(house).forEach((name, index) => {
      const card = make("figure", {
        class: "card",
        id: `cut-${name}`,
        data: { index: String(index) },
        attributes: { tabindex: "-1" },
      });
      this.cards.append(card);
      observer.observe(card);
    });
  }

  reveal(what: string): void {
    const card = this.cards.querySelector<HTMLElement>(`#cut-${CSS.escape(what)}`);
    if (!card || !this.shownHouse) return;
    this.fill(card, this.shownHouse);
    card.scrollIntoView({ block: "start" });
    card.focus({ preventScroll: true });
  }

  private fill(card: HTMLElement, house: HouseTakeoff): void {
    if (card.childElementCount > 0) return;
    const index = Number(card.dataset.index);
    const view = sheetView(house, index);
    const steps = make("ol", { class: "steps" });
    for (const step of view.steps) {
      steps.append(make("li", { text: step.words, attributes: { value: String(step.number) } }));
    }
    const { paddingLeft, paddingRight } = getComputedStyle(card);
    const room = card.clientWidth - parseFloat(paddingLeft) - parseFloat(paddingRight);
    const width = Math.floor(Math.min(WIDEST, Math.max(NARROWEST, room)));
    card.append(
      make("figcaption", { class: "for-readers", text: view.title }),
      drawing(cutDrawing(house, index, { ids: `cut${index}`, width })),
      make(
        "details",
        {},
        make("summary", {
          text: `${counted(view.steps.length, "saw cut")}, ${counted(view.pieces.length, "piece")}`,
        }),
        steps
      )
    );
  }
}

function counted(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? "" : "s"}`;
}
