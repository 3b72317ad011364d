/// <reference lib="dom" />
/** Findings by level; one that belongs to a wall leads to its row. */
import type { Finding, FindingLevel } from "../../core/house/checks.js";
import { button, enable, make } from "../dom.js";
import { findCell } from "../find-cell.js";
import type { HouseReading } from "../host.js";
import { printHouse } from "../print-house.js";
import type { PaneTools, Tab } from "./tab.js";

const LEVELS: readonly (readonly [FindingLevel, string, string])[] = [
  ["fix", "!", "Fix before ordering"],
  ["look", "?", "Look at"],
  ["note", "i", "Notes"],
];

export class ChecksTab implements Tab {
  readonly root = make("div", { class: "checks-tab" });
  private readonly list = make("div", { class: "tab-body" });

  private readonly print = button("Print", () => printHouse(this.tools, { parts: ["checks"] }));

  constructor(private readonly tools: PaneTools) {
    this.root.append(make("div", { class: "row tab-head" }, this.print), this.list);
  }

  show({ house, findings }: HouseReading): void {
    enable(house !== undefined, this.print);
    this.list.replaceChildren();
    if (!findings) return;
    for (const [level, sign, title] of LEVELS) {
      const here = findings.filter((each) => each.level === level);
      const head = make(
        "h2",
        { class: here.length > 0 ? `level ${level}` : "level" },
        make("span", { class: "sign", text: sign, attributes: { "aria-hidden": "true" } }),
        `${title} (${here.length})`
      );
      const items = make("ul", { class: "findings" });
      for (const each of here) items.append(make("li", { class: level }, ...this.finding(each)));
      this.list.append(
        head,
        here.length > 0 ? items : make("p", { class: "none", text: "Nothing." })
      );
    }
  }

  private finding(each: Finding): (Node | string)[] {
    const { finding, wall, whatToDo } = each;
    const { host, reading } = this.tools;
    const cell = findCell(reading, each);
    const show = (): void => {
      if (cell) host.select(cell.sheet, cell.row, cell.column);
    };
    const title = "Select the cell in the sheet";
    const name = cell
      ? button(wall, show, { class: "link", title })
      : make("strong", { text: wall });
    return [
      make("p", {}, ...(wall === "" ? [] : [name, " "]), finding),
      make("p", { class: "what-to-do", text: whatToDo }),
      ...(cell && wall === ""
        ? [make("p", {}, button("Show the cell", show, { class: "link", title }))]
        : []),
    ];
  }
}
