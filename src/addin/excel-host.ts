/** The spreadsheet beside the pane, through the host's API. */
import type { ActiveCell, HouseReading, PaneHost } from "../pane/host.js";
import type { Paper } from "../pane/print/index.js";
import { columnLetters } from "../core/cell-address.js";
import type { Run } from "./actions.js";
import { readHouse } from "./house-reader.js";

export interface PageTools {
  /** shows the sheets ready to be printed */
  readonly print: (html: string, title: string) => void;
  /** lets the person fill in the arguments of a function */
  readonly fillIn: (formula: string) => void;
}

export class ExcelHost implements PaneHost {
  readonly bookName = "house";
  private cell: ActiveCell | undefined;
  /** the last house read, for the buttons */
  reading: HouseReading = {};

  constructor(
    private readonly run: Run,
    private readonly page: PageTools
  ) {}

  async readHouse(_signal: AbortSignal): Promise<HouseReading> {
    this.reading = await this.run((context) => readHouse(context));
    return this.reading;
  }

  onChange(listener: () => void): void {
    void this.run(async (context) => {
      const { worksheets } = context.workbook;
      const changed = (): Promise<void> => {
        listener();
        return Promise.resolve();
      };
      worksheets.onChanged.add(changed);
      worksheets.onDeleted.add(changed);
      await context.sync();
    }).catch(() => undefined);
    listener();
  }

  onSelection(listener: (cell: ActiveCell) => void): void {
    const tell = async (): Promise<void> => {
      await this.run(async (context) => {
        const cell = context.workbook.getActiveCell();
        cell.load("rowIndex,columnIndex,worksheet/name");
        await context.sync();
        const [row, column] = [cell.rowIndex + 1, cell.columnIndex + 1];
        const address = `${columnLetters(column)}${row}`;
        this.cell = { sheet: cell.worksheet.name, row, column, address };
        listener(this.cell);
      });
    };
    void this.run(async (context) => {
      context.workbook.onSelectionChanged.add(tell);
      await context.sync();
    }).catch(() => undefined);
    void tell().catch(() => undefined);
  }

  select(sheet: string, row: number, column: number): void {
    void this.run(async (context) => {
      const place = context.workbook.worksheets.getItem(sheet);
      place.activate();
      place.getRange(`${columnLetters(column)}${row}`).select();
      await context.sync();
    }).catch(() => undefined);
  }

  /** The host cannot start a formula for the person to finish: the arguments are filled in in the pane. */
  insertFormula(text: string): Promise<void> {
    this.page.fillIn(text);
    return Promise.resolve();
  }

  print(sheets: (paper: Paper) => string, usual: Paper): void {
    this.page.print(sheets(usual), this.bookName);
  }
}
