/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/**
 * One function at a time, without a cell: choose it, fill in the arguments, read the answer. It works with no
 * spreadsheet at all; beside one, it writes the call into the active cell.
 */
import { button, choice, make, tableOf } from "../pane/dom.js";
import type { Entry } from "../worksheet/entry.js";
import { NAMESPACE, worksheetFunctions } from "../worksheet/registry.js";

/** What was typed as an argument: a number, a word for true or false, blank, or text. */
export function argumentOf(text: string): string | number | boolean | null {
  const trimmed = text.trim();
  if (trimmed === "") return null;
  if (/^(?:true|false)$/i.test(trimmed)) return trimmed.toLowerCase() === "true";
  if (/^-?(?:\d+\.?\d*|\.\d+)$/.test(trimmed)) return Number(trimmed);
  // a decimal comma alone in a number; 1,000 stays text and is refused with a message
  if (/^-?\d+,\d{1,2}$/.test(trimmed)) return Number(trimmed.replace(",", "."));
  return trimmed.replace(/^'/, "");
}

/** Rows of a table typed or pasted: tabs between cells, or semicolons. */
export function rowsOf(text: string): (string | number | boolean | null)[][] {
  const lines = text.split(/\r?\n/).filter((line) => line.trim() !== "");
  const separator = text.includes("\t") ? "\t" : ";";
  return lines.map((line) => line.split(separator).map(argumentOf));
}

const CELLS = /^(?:(?:'[^']+'|[\w.]+)!)?\$?[A-Z]{1,3}\$?\d{1,7}(?::\$?[A-Z]{1,3}\$?\d{1,7})?#?$/i;

/** An argument in a formula: cells and numbers as they are, all else as text. */
function inFormula(text: string, isRange: boolean): string {
  const trimmed = text.trim();
  if (trimmed === "") return "";
  if (CELLS.test(trimmed) || (isRange && /^[A-Za-z_]\w*(?:\[#All\])?$/i.test(trimmed)))
    return trimmed;
  const value = argumentOf(text);
  if (typeof value === "number") return String(value);
  if (typeof value === "boolean") return value ? "TRUE" : "FALSE";
  return `"${(value ?? "").replaceAll('"', '""')}"`;
}

export function formulaOf(called: Entry, texts: readonly string[]): string {
  const args = called.parameters.map((each, index) => inFormula(texts[index] ?? "", each.matrix));
  while (args.at(-1) === "") args.pop();
  return `=${NAMESPACE}.${called.name}(${args.join(",")})`;
}

export class Calculator {
  readonly root = make("section", {
    class: "calculator",
    attributes: { "aria-label": "One function" },
  });
  private readonly fields = make("div", { class: "calculator-fields" });
  private readonly help = make("p", { class: "calculator-help" });
  private readonly answer = make("div", {
    class: "calculator-answer",
    attributes: { role: "status" },
  });
  private readonly picker = choice(
    "Function",
    worksheetFunctions.map(({ name }) => [name, name] as const),
    "CORNER_OFFSET",
    (name) => this.choose(name)
  );
  private inputs: (HTMLInputElement | HTMLTextAreaElement)[] = [];
  private called = worksheetFunctions[0] as Entry;

  /** @param insert writes a formula into the active cell; without it there is no sheet */
  constructor(private readonly insert?: (formula: string) => Promise<void>) {
    this.root.append(
      this.picker.field,
      this.help,
      this.fields,
      make(
        "div",
        { class: "row" },
        button("Work it out", () => this.work()),
        insert && button("Insert in the active cell", () => void this.write())
      ),
      this.answer
    );
    this.choose("CORNER_OFFSET");
  }

  choose(name: string): void {
    const called = worksheetFunctions.find((each) => each.name === name);
    if (!called) return;
    this.called = called;
    this.picker.select.value = name;
    this.help.textContent = called.description;
    this.answer.replaceChildren();
    this.inputs = [];
    this.fields.replaceChildren(
      ...called.parameters.map((each) => {
        const input = each.matrix
          ? make("textarea", { attributes: { rows: "3", spellcheck: "false" } })
          : make("input", {
              type: "text",
              attributes: { autocomplete: "off", spellcheck: "false" },
            });
        this.inputs.push(input);
        const title = each.optional ? `${each.name} (may be left out)` : each.name;
        return make(
          "label",
          { class: "field" },
          make("span", { text: title }),
          input,
          make("small", { text: each.description })
        );
      })
    );
  }

  private work(): void {
    try {
      const args = this.called.parameters.map((each, index) => {
        const text = this.inputs[index]?.value ?? "";
        return each.matrix ? rowsOf(text) : argumentOf(text);
      });
      this.show(this.called.call(...args));
    } catch (error) {
      const { code, message } = error as { code?: string; message: string };
      this.answer.replaceChildren(
        make("strong", { class: "is-problem", text: code ?? "#VALUE!" }),
        ` ${message}`
      );
    }
  }

  private show(value: unknown): void {
    if (!Array.isArray(value)) {
      this.answer.replaceChildren(make("output", { text: String(value) }));
      return;
    }
    const rows = value as (string | number)[][];
    const hasHeader = typeof rows[0]?.[0] === "string";
    const [header = [], ...body] = hasHeader ? rows : [[this.called.returns], ...rows];
    const columns = header.map((title) => ({ title: String(title) }));
    this.answer.replaceChildren(tableOf(this.called.name, columns, body));
  }

  private async write(): Promise<void> {
    const formula = formulaOf(
      this.called,
      this.inputs.map((input) => input.value)
    );
    try {
      await this.insert?.(formula);
      this.answer.replaceChildren(make("code", { text: formula }));
    } catch (error) {
      this.answer.replaceChildren(
        make("span", { class: "is-problem", text: (error as Error).message })
      );
    }
  }
}
