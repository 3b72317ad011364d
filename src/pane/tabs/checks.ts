/// <reference lib="dom" />
/** Findings by level; one that belongs to a wall leads to its row. */
import type { Finding, FindingLevel } from "../../core/house/checks.js";
import { nameKey } from "../../core/house/tables.js";
import { button, make } from "../dom.js";
import type { HouseReading } from "../host.js";
import { printHouse } from "../print-house.js";
import type { PaneTools, Tab } from "./tab.js";

const LEVELS: readonly (readonly [FindingLevel, string, string])[] = [
  ["fix", "!", "Fix before ordering"],
  ["look", "?", "Look at"],
  ["note", "i", "Know"],
];

export class ChecksTab implements Tab {
  readonly root = make("div", { class: "checks-tab" });
  private readonly list = make("div", { class: "tab-body" });

  constructor(private readonly tools: PaneTools) {
    this.root.append(
      make(
        "div",
        { class: "row tab-head" },
        button("Print", () => printHouse(tools, { parts: ["checks"] }))
      ),
      this.list
    );
  }

  show({ findings }: HouseReading): void {
    this.list.replaceChildren();
    if (!findings) return;
    for (const [level, sign, title] of LEVELS) {
      const here = findings.filter((each) => each.level === level);
      const head = make(
        "h3",
        { class: `level ${level}` },
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
    const row = this.rowOf(each.wall);
    const where =
      each.wall === ""
        ? undefined
        : row === undefined
          ? make("strong", { text: each.wall })
          : button(each.wall, () => this.tools.host.select(row.sheet, row.row, row.column), {
              class: "link",
              title: "Select the wall in the sheet",
            });
    return [
      make("p", {}, where, where && " ", each.finding),
      make("p", { class: "what-to-do", text: each.whatToDo }),
    ];
  }

  private rowOf(wallName: string): { sheet: string; row: number; column: number } | undefined {
    const { house, places } = this.tools.reading;
    const walls = places?.walls;
    if (!walls || wallName === "") return undefined;
    const wall = house?.walls.find((each) => nameKey(each.name) === nameKey(wallName));
    if (!wall) return undefined;
    return { sheet: walls.sheet, row: walls.top + wall.row - 1, column: walls.left };
  }
}
