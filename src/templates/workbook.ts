/**
 * A workbook described as plain data: sheets, cells, formulas as a person types them, looks and checks of what is
 * typed. Nothing here knows about files or about a host; a file builder and a task pane write the same description.
 */

import { columnLetters } from "../core/cell-address.js";

export type CellInput = string | number | boolean;

/** How a cell looks; {@link STYLES} says what each means. */
export type StyleName =
  | "title"
  | "help"
  | "instruction"
  | "note"
  | "label"
  | "labelRight"
  | "group"
  | "header"
  | "input"
  | "lengthInput"
  | "settingInput"
  | "lengthSettingInput"
  | "moneyInput"
  | "dateInput"
  | "formula"
  | "figure"
  | "length"
  | "feet"
  | "feetLeft"
  | "decimals"
  | "money"
  | "spilled"
  | "spilledText"
  | "spilledLength"
  | "spilledFeet"
  | "spilledCount"
  | "spilledShare"
  | "date"
  | "dateHeader"
  | "text"
  | "caution";

export interface CellStyle {
  readonly bold?: boolean;
  readonly italic?: boolean;
  /** points */
  readonly size?: number;
  /** six hexadecimal digits, red green blue */
  readonly color?: string;
  readonly fill?: string;
  readonly wrap?: boolean;
  readonly horizontal?: "left" | "center" | "right";
  readonly vertical?: "top" | "middle";
  /** steps in from the cell's edge */
  readonly indent?: number;
  /** number format; "@" keeps what is typed as text */
  readonly format?: string;
  readonly border?: "thin" | "bottom";
}

const INK = "1F2933";
const SOFT_INK = "52606D";
const INPUT_FILL = "FFF7DB";
const HEADER_FILL = "E4E7EB";
const LENGTH_FORMAT = "0.0###";
const FEET_FORMAT = "#,##0.0";

/** Inputs are the only cells with the pale fill and a frame; everything else is worked out. */
export const STYLES: Readonly<Record<StyleName, CellStyle>> = {
  title: { bold: true, size: 16, color: INK },
  help: { color: SOFT_INK },
  instruction: { color: SOFT_INK, wrap: true, vertical: "top" },
  note: { color: SOFT_INK, horizontal: "left", indent: 1 },
  label: { color: INK, bold: true },
  labelRight: { color: INK, bold: true, horizontal: "right" },
  group: { color: SOFT_INK, italic: true },
  header: {
    bold: true,
    color: INK,
    fill: HEADER_FILL,
    wrap: true,
    vertical: "top",
    border: "bottom",
  },
  input: { fill: INPUT_FILL, border: "thin" },
  // text format, or the spreadsheet turns 5/8 into a date
  lengthInput: { fill: INPUT_FILL, border: "thin", format: "@", horizontal: "right" },
  settingInput: { fill: INPUT_FILL, border: "thin", horizontal: "left" },
  lengthSettingInput: { fill: INPUT_FILL, border: "thin", format: "@", horizontal: "left" },
  moneyInput: { fill: INPUT_FILL, border: "thin", format: "#,##0.00" },
  dateInput: { fill: INPUT_FILL, border: "thin", format: "yyyy-mm-dd", horizontal: "left" },
  formula: { color: INK },
  figure: { color: INK, horizontal: "right", vertical: "top" },
  length: { color: INK, horizontal: "right", format: LENGTH_FORMAT },
  feet: { color: INK, horizontal: "right", format: FEET_FORMAT },
  feetLeft: { color: INK, horizontal: "left", vertical: "top", format: FEET_FORMAT, indent: 1 },
  decimals: { color: INK, horizontal: "right", format: "0.000" },
  money: { color: INK, vertical: "top", format: "#,##0.00" },
  spilled: { color: INK, vertical: "top" },
  spilledText: { color: INK, wrap: true, vertical: "top", indent: 1 },
  spilledLength: { color: INK, vertical: "top", format: LENGTH_FORMAT },
  spilledFeet: { color: INK, vertical: "top", format: FEET_FORMAT },
  spilledCount: { color: INK, vertical: "top", format: "#,##0" },
  spilledShare: { color: INK, vertical: "top", format: "0%" },
  date: { color: INK, vertical: "top", horizontal: "left", format: "yyyy-mm-dd" },
  dateHeader: {
    bold: true,
    color: INK,
    fill: HEADER_FILL,
    vertical: "top",
    border: "bottom",
    format: "yyyy-mm-dd",
  },
  text: { color: INK, wrap: true, vertical: "top", indent: 1 },
  caution: { color: INK, wrap: true, vertical: "top", italic: true },
};

export interface TemplateCell {
  /** address such as B4 */
  readonly at: string;
  readonly value?: CellInput;
  /** with its equals sign, as a person types it in English */
  readonly formula?: string;
  readonly style?: StyleName;
}

export interface TemplateColumn {
  /** characters */
  readonly width: number;
  /** look of cells in the column that have none of their own, such as spilled rows */
  readonly style?: StyleName;
}

/** What may be typed into an area. */
export interface TemplateRule {
  readonly area: string;
  /** words to choose from, or the area that lists them, such as =Walls!$A$6:$A$60; or the least whole number */
  readonly allow:
    | { readonly words: readonly string[] }
    | { readonly from: string }
    | { readonly wholeFrom: number };
  /** shown where something else is typed */
  readonly message: string;
  /** true: something else is refused; false: the person is asked */
  readonly strict: boolean;
}

/** Cells that stand out when they hold a certain text. */
export interface TemplateMark {
  readonly area: string;
  readonly text: string;
  readonly fill: string;
}

export interface SheetTemplate {
  readonly name: string;
  readonly columns: readonly TemplateColumn[];
  readonly cells: readonly TemplateCell[];
  /** heights of rows that need one, points */
  readonly rowHeights: Readonly<Record<number, number>>;
  /** rows and columns that stay in sight */
  readonly frozen: { readonly rows: number; readonly columns: number };
  readonly merged: readonly string[];
  readonly rules: readonly TemplateRule[];
  readonly marks: readonly TemplateMark[];
  /** areas where numbers kept as text are meant to be text */
  readonly textNumbers: readonly string[];
  readonly print: {
    readonly orientation: "landscape" | "portrait";
    /** rows repeated on every page, such as 5:5 */
    readonly titleRows?: string;
    /** what is printed; without it everything */
    readonly area?: string;
  };
}

export interface WorkbookTemplate {
  readonly title: string;
  readonly sheets: readonly SheetTemplate[];
}

/** Collects the cells of a sheet; a cell is described once. */
export class SheetBuilder {
  private readonly cells = new Map<string, TemplateCell>();
  private readonly rules: TemplateRule[] = [];
  private readonly marks: TemplateMark[] = [];
  private readonly merged: string[] = [];
  private readonly textNumbers: string[] = [];
  private readonly rowHeights: Record<number, number> = {};
  private columns: readonly TemplateColumn[] = [];
  private frozen = { rows: 0, columns: 0 };
  private print: SheetTemplate["print"] = { orientation: "landscape" };

  constructor(readonly name: string) {}

  /** Puts text, a number or, where text starts with =, a formula into a cell. */
  put(at: string, content: CellInput | undefined, style: StyleName): void {
    if (this.cells.has(at)) throw new Error(`${this.name}!${at} is described twice`);
    const isFormula = typeof content === "string" && content.startsWith("=");
    this.cells.set(at, {
      at,
      ...(content === undefined || content === ""
        ? {}
        : isFormula
          ? { formula: content }
          : { value: content }),
      style,
    });
  }

  /** A row of cells from a column on. */
  row(
    row: number,
    fromColumn: number,
    contents: readonly (CellInput | undefined)[],
    style: StyleName
  ): void {
    contents.forEach((content, index) =>
      this.put(`${columnLetters(fromColumn + index)}${row}`, content, style)
    );
  }

  widths(columns: readonly TemplateColumn[]): void {
    this.columns = columns;
  }
  freeze(rows: number, columns: number): void {
    this.frozen = { rows, columns };
  }
  rule(rule: TemplateRule): void {
    this.rules.push(rule);
  }
  mark(area: string, text: string, fill: string): void {
    this.marks.push({ area, text, fill });
  }
  merge(area: string): void {
    this.merged.push(area);
  }
  keepAsText(area: string): void {
    this.textNumbers.push(area);
  }
  rowHeight(row: number, points: number): void {
    this.rowHeights[row] = points;
  }
  printAs(print: SheetTemplate["print"]): void {
    this.print = print;
  }

  build(): SheetTemplate {
    return {
      name: this.name,
      columns: this.columns,
      cells: [...this.cells.values()],
      rowHeights: this.rowHeights,
      frozen: this.frozen,
      merged: this.merged,
      rules: this.rules,
      marks: this.marks,
      textNumbers: this.textNumbers,
      print: this.print,
    };
  }
}

/** Fill of a cell that says something is wrong, and of one that asks for a look. */
export const WRONG_FILL = "F8D7DA";
export const LOOK_FILL = "FCE8C8";
