/// <reference lib="dom" />
/** The purchase list. */
import type { OrderLine } from "../../core/house/order.js";
import { safeText, toCsv } from "../csv.js";
import { button, enable, make, tableOf } from "../dom.js";
import type { HouseReading } from "../host.js";
import { orderCount, packageText } from "../order-words.js";
import { printHouse } from "../print-house.js";
import type { PaneTools, Tab } from "./tab.js";

const HEADER = ["Item", "Size", "Needed", "Unit", "Extra", "Per package", "Order", "Note"];

function rowOf(line: OrderLine): (string | number)[] {
  const { item, size, needed, unit, extra, perPackage, order, note } = line;
  return [item, size, needed, unit, extra, perPackage, order, note];
}

/** Figures as people read them; the copy and the file keep every digit. */
function shown(value: number): string {
  return value.toLocaleString("en-US", { maximumFractionDigits: 2 });
}

export class OrderTab implements Tab {
  readonly root = make("div", { class: "order-tab" });
  private readonly list = make("div", { class: "tab-body" });
  private lines: readonly OrderLine[] = [];
  private readonly buttons: readonly HTMLButtonElement[] = [
    button("Copy", () => void this.copy()),
    button("CSV file", () => this.download()),
    button("Print", () => printHouse(this.tools, { parts: ["order"] })),
  ];

  constructor(private readonly tools: PaneTools) {
    this.root.append(make("div", { class: "row tab-head" }, ...this.buttons), this.list);
  }

  show({ order }: HouseReading): void {
    enable(order !== undefined, ...this.buttons);
    this.lines = order ?? [];
    if (!order) {
      this.list.replaceChildren();
      return;
    }
    this.list.replaceChildren(
      tableOf(
        "Order",
        [
          { title: "Item" },
          { title: "Order", class: "number" },
          { title: "Needed", class: "number" },
        ],
        order.map((line) => [
          make(
            "div",
            {},
            make("strong", { text: line.item }),
            ` ${line.size}`,
            line.note !== "" && make("span", { class: "note", text: line.note })
          ),
          make(
            "div",
            {},
            make("strong", { class: "large", text: orderCount(line) }),
            packageText(line) !== "" && make("span", { class: "note", text: packageText(line) })
          ),
          make(
            "div",
            {},
            `${shown(line.needed)} ${line.unit}`,
            line.extra > 0 &&
              make("span", { class: "note", text: `+ ${shown(line.extra * 100)} %` })
          ),
        ])
      )
    );
  }

  private async copy(): Promise<void> {
    const rows = [HEADER, ...this.lines.map(rowOf)];
    const onOneLine = (cell: string | number): string | number =>
      typeof cell === "number" ? cell : cell.replace(/[\t\r\n]+/g, " ");
    const text = rows
      .map((row) => row.map((cell) => safeText(onOneLine(cell))).join("\t"))
      .join("\n");
    try {
      await navigator.clipboard.writeText(text);
      this.tools.say("The order is copied.");
    } catch {
      this.tools.say("The browser did not allow copying; use the CSV file.", true);
    }
  }

  private download(): void {
    const csv = toCsv([HEADER, ...this.lines.map(rowOf)]);
    const link = make("a");
    link.href = URL.createObjectURL(new Blob([csv], { type: "text/csv" }));
    link.download = `${this.tools.host.bookName} order.csv`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
  }
}
