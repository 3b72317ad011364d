/** Rules for what may be typed into a cell: between the file's form and the grid's. */
import type { IRange } from "@univerjs/core";
import { areaAddress, parseArea } from "../../../core/cell-address.js";
import { storedFormula, typedFormula } from "../../engine/spelling.js";
import { element, elements, escapeXml, textOf } from "../../engine/xml.js";
import { NAMESPACE } from "../../engine/values.js";

/** A rule as the grid holds it. */
export interface GridRule {
  uid: string;
  type: string;
  ranges: IRange[];
  allowBlank?: boolean;
  formula1?: string;
  formula2?: string;
  operator?: string;
  showErrorMessage?: boolean;
  error?: string;
  errorTitle?: string;
  /** 0 information, 1 stop, 2 warning */
  errorStyle?: number;
  showInputMessage?: boolean;
  prompt?: string;
  promptTitle?: string;
  showDropDown?: boolean;
  /** 1: with an arrow, as the file's lists have */
  renderMode?: number;
}

const ERROR_STYLES = ["information", "stop", "warning"];
const TYPES = new Set(["custom", "list", "textLength", "date", "time", "whole", "decimal"]);
const COMPARED = new Set(["textLength", "date", "time", "whole", "decimal"]);

function isTrue(text: string | undefined): boolean {
  return text === "1" || text === "true";
}

export function readValidations(xml: string, idPrefix: string): GridRule[] {
  const holder = element(xml, "dataValidations");
  if (!holder) return [];
  return elements(xml, "dataValidation", holder.contentStart, holder.contentEnd).flatMap(
    ({ attributes: held, contentStart, contentEnd }, index) => {
      const type = held.type ?? "none";
      const ranges = (held.sqref ?? "").split(/\s+/).flatMap((text): IRange[] => {
        const area = parseArea(text);
        if (!area) return [];
        return [
          {
            startRow: area.top - 1,
            endRow: area.bottom - 1,
            startColumn: area.left - 1,
            endColumn: area.right - 1,
          },
        ];
      });
      if (!TYPES.has(type) || ranges.length === 0) return [];
      const formula = (name: string): string | undefined => {
        const found = element(xml, name, contentStart, contentEnd);
        return found && textOf(xml, found.contentStart, found.contentEnd);
      };
      const rule: GridRule = {
        uid: `${idPrefix}${index}`,
        type,
        ranges,
        allowBlank: isTrue(held.allowBlank),
        showErrorMessage: isTrue(held.showErrorMessage),
        errorStyle: Math.max(0, ERROR_STYLES.indexOf(held.errorStyle ?? "stop")),
        showInputMessage: isTrue(held.showInputMessage),
        // in the file the attribute means the opposite of its name
        showDropDown: !isTrue(held.showDropDown),
        renderMode: 1,
      };
      if (COMPARED.has(type)) rule.operator = held.operator ?? "between";
      if (held.error !== undefined) rule.error = held.error;
      if (held.errorTitle !== undefined) rule.errorTitle = held.errorTitle;
      if (held.prompt !== undefined) rule.prompt = held.prompt;
      if (held.promptTitle !== undefined) rule.promptTitle = held.promptTitle;
      const first = formula("formula1");
      const second = formula("formula2");
      if (first !== undefined) rule.formula1 = gridFormula(type, first);
      if (second !== undefined) rule.formula2 = gridFormula(type, second);
      return [rule];
    }
  );
}

/** Lists of words stand in quotes in the file and bare in the grid; everything else is a formula. */
function gridFormula(type: string, stored: string): string {
  const words = /^"((?:[^"]|"")*)"$/.exec(stored.trim());
  if (type === "list" && words) return (words[1] as string).replace(/""/g, '"');
  const typed = typedFormula(stored, NAMESPACE);
  return /^-?\d+(?:\.\d+)?$/.test(typed) ? typed : `=${typed}`;
}

function fileFormula(type: string, text: string): string {
  if (text.startsWith("=")) {
    return storedFormula(text.slice(1), { namespace: NAMESPACE, functions: new Set() });
  }
  return type === "list" ? `"${text.replace(/"/g, '""')}"` : text;
}

/** The element dataValidations for a sheet; nothing where there is no rule. */
export function validationsXml(rules: readonly GridRule[], prefix: string): string {
  const kept = rules.filter((rule) => TYPES.has(rule.type) && rule.ranges.length > 0);
  if (kept.length === 0) return "";
  const body = kept.map((rule) => {
    const flag = (name: string, on: boolean | undefined): string => (on ? ` ${name}="1"` : "");
    const text = (name: string, value: string | undefined): string =>
      value ? ` ${name}="${escapeXml(value)}"` : "";
    const sqref = rule.ranges
      .map((range) =>
        areaAddress({
          top: range.startRow + 1,
          bottom: range.endRow + 1,
          left: range.startColumn + 1,
          right: range.endColumn + 1,
        })
      )
      .join(" ");
    const operator =
      rule.operator && rule.operator !== "between" ? ` operator="${rule.operator}"` : "";
    const style = ERROR_STYLES[rule.errorStyle ?? 1] ?? "stop";
    const formula = (name: string, value: string | undefined): string =>
      value === undefined || value === ""
        ? ""
        : `<${prefix}${name}>${escapeXml(fileFormula(rule.type, value))}</${prefix}${name}>`;
    return (
      `<${prefix}dataValidation type="${rule.type}"${style === "stop" ? "" : ` errorStyle="${style}"`}${operator}` +
      flag("allowBlank", rule.allowBlank) +
      flag("showDropDown", rule.showDropDown === false) +
      flag("showInputMessage", rule.showInputMessage) +
      flag("showErrorMessage", rule.showErrorMessage) +
      text("errorTitle", rule.errorTitle) +
      text("error", rule.error) +
      text("promptTitle", rule.promptTitle) +
      text("prompt", rule.prompt) +
      ` sqref="${sqref}">${formula("formula1", rule.formula1)}${formula("formula2", rule.formula2)}</${prefix}dataValidation>`
    );
  });
  return `<${prefix}dataValidations count="${kept.length}">${body.join("")}</${prefix}dataValidations>`;
}
