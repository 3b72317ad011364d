/// <reference lib="dom" />
/** Every worksheet function with its arguments; one press starts it in the active cell. */
import type { Entry } from "../../worksheet/entry.js";
import { NAMESPACE, usage, worksheetFunctions } from "../../worksheet/registry.js";
import { button, make } from "../dom.js";
import type { PaneTools, Tab } from "./tab.js";

export class FunctionsTab implements Tab {
  readonly root = make("div", { class: "functions-tab" });
  private readonly list = make("div", { class: "tab-body function-list" });
  private readonly count = make("p", { class: "for-readers", attributes: { role: "status" } });
  private isBuilt = false;

  constructor(private readonly tools: PaneTools) {
    const search = make("input", {
      type: "search",
      attributes: { placeholder: "Search functions", "aria-label": "Search functions" },
      on: { input: (event) => this.filter((event.target as HTMLInputElement).value) },
    });
    this.root.append(make("div", { class: "row tab-head" }, search), this.count, this.list);
  }

  show(): void {
    if (this.isBuilt) return;
    this.isBuilt = true;
    for (const each of worksheetFunctions) this.list.append(this.entry(each));
  }

  private entry(each: Entry): HTMLElement {
    const { name, description, parameters, returns } = each;
    const terms = make("dl");
    for (const one of parameters) {
      terms.append(
        make("dt", { text: one.optional ? `${one.name} (optional)` : one.name }),
        make("dd", { text: one.description })
      );
    }
    terms.append(make("dt", { text: "Answer" }), make("dd", { text: returns }));
    return make(
      "details",
      { data: { search: `${name} ${description}`.toLowerCase() } },
      make(
        "summary",
        {},
        make("code", { text: name }),
        make("span", { class: "what", text: description })
      ),
      make("p", {}, make("code", { text: `=${usage(each)}` })),
      terms,
      button("Insert in the active cell", () => void this.insert(name))
    );
  }

  private insert(name: string): Promise<void> {
    return this.tools.host.insertFormula(`=${NAMESPACE}.${name}(`);
  }

  private filter(text: string): void {
    const words = text.toLowerCase().split(/\s+/).filter(Boolean);
    let shown = 0;
    for (const entry of this.list.children) {
      const found = (entry as HTMLElement).dataset.search ?? "";
      const isShown = words.every((word) => found.includes(word));
      (entry as HTMLElement).hidden = !isShown;
      if (isShown) shown++;
    }
    this.count.textContent = `${shown} functions`;
  }
}
