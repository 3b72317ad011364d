/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/**
 * The grid: a spreadsheet on the page whose calculation is done elsewhere. That the service that calculates can be
 * replaced is not documented by the grid; it is why the grid's version is pinned and the browser tests watch it.
 */
import {
  CellValueType,
  ICommandService,
  IResourceLoaderService,
  IUniverInstanceService,
  InterceptorEffectEnum,
  LifecycleService,
  LifecycleStages,
  LocaleType,
  LogLevel,
  mergeLocales,
  ThemeService,
  Univer,
  UniverInstanceType,
  WrapStrategy,
  type ICellData,
  type ICommandInfo,
  type IExecutionOptions,
  type Injector,
  type IRange,
  type IWorkbookData,
  type Nullable,
  type Workbook,
  type Worksheet,
} from "@univerjs/core";
import {
  DOCS_FORMULA_BAR_EDITOR_UNIT_ID_KEY,
  DOCS_NORMAL_EDITOR_UNIT_ID_KEY,
} from "@univerjs/core";
import { UniverDataValidationPlugin } from "@univerjs/data-validation";
import designTexts from "@univerjs/design/locale/en-US";
import { UniverDocsPlugin } from "@univerjs/docs";
import { IEditorService, UniverDocsUIPlugin } from "@univerjs/docs-ui";
import docsTexts from "@univerjs/docs-ui/locale/en-US";
import {
  BaseFunction,
  FormulaDataModel,
  FunctionType,
  ICalculateFormulaService,
  SetArrayFormulaDataMutation,
  SetFormulaCalculationNotificationMutation,
  SetFormulaCalculationResultMutation,
  SetFormulaCalculationStartMutation,
  UniverFormulaEnginePlugin,
  type IFunctionInfo,
} from "@univerjs/engine-formula";
import {
  DeviceInputEventType,
  ICanvasColorService,
  UniverRenderEnginePlugin,
} from "@univerjs/engine-render";
import {
  AFTER_CELL_EDIT,
  INTERCEPTOR_POINT,
  InterceptCellContentPriority,
  INumfmtService,
  SetRangeValuesMutation,
  SetRangeValuesUndoMutationFactory,
  SetSelectionsOperation,
  SetWorksheetActiveOperation,
  SetWorksheetRowAutoHeightMutation,
  SheetInterceptorService,
  SheetsSelectionsService,
  UniverSheetsPlugin,
} from "@univerjs/sheets";
import { UniverSheetsDataValidationPlugin } from "@univerjs/sheets-data-validation";
import validationTexts from "@univerjs/sheets-data-validation/locale/en-US";
import { UniverSheetsDataValidationUIPlugin } from "@univerjs/sheets-data-validation-ui";
import validationUiTexts from "@univerjs/sheets-data-validation-ui/locale/en-US";
import {
  CalculationMode,
  TriggerCalculationController,
  UniverSheetsFormulaPlugin,
} from "@univerjs/sheets-formula";
import formulaTexts from "@univerjs/sheets-formula/locale/en-US";
import { UniverSheetsFormulaUIPlugin } from "@univerjs/sheets-formula-ui";
import formulaUiTexts from "@univerjs/sheets-formula-ui/locale/en-US";
import { UniverSheetsNumfmtPlugin } from "@univerjs/sheets-numfmt";
import { UniverSheetsNumfmtUIPlugin } from "@univerjs/sheets-numfmt-ui";
import numberTexts from "@univerjs/sheets-numfmt-ui/locale/en-US";
import { UniverSheetsTablePlugin } from "@univerjs/sheets-table";
import tableTexts from "@univerjs/sheets-table/locale/en-US";
import {
  AutoHeightController,
  IEditorBridgeService,
  ISheetClipboardService,
  ScrollToRangeOperation,
  SetCellEditVisibleOperation,
  UniverSheetsUIPlugin,
  type ISheetDiscreteRangeLocation,
} from "@univerjs/sheets-ui";
import sheetsTexts from "@univerjs/sheets/locale/en-US";
import sheetsUiTexts from "@univerjs/sheets-ui/locale/en-US";
import { defaultTheme } from "@univerjs/themes";
import { IDialogService, ILayoutService, UniverUIPlugin } from "@univerjs/ui";
import uiTexts from "@univerjs/ui/locale/en-US";
import { NAMESPACE, worksheetFunctions } from "../../worksheet/registry.js";
import { PLAIN_TABLE } from "./file/grid-values.js";
import type {
  Calculated,
  ModelBook,
  ModelCell,
  ModelChange,
  ShownCell,
  StructureStep,
} from "./protocol.js";
import { cellFormula, modelBook, modelCell } from "./snapshot.js";
import { tintInDark } from "./dark-tint.js";
import { isTextFormat, isTypedLength } from "./typed-length.js";

/** Changes that concern neither values nor formulas. */
const LOOKS_ONLY = new Set([
  "sheet.mutation.set-col-data",
  "sheet.mutation.set-frozen",
  "sheet.mutation.set-gridlines-color",
  "sheet.mutation.set-row-data",
  "sheet.mutation.set-tab-color",
  "sheet.mutation.set-worksheet-col-width",
  "sheet.mutation.set-worksheet-row-height",
  "sheet.mutation.set-worksheet-row-auto-height",
  "sheet.mutation.set-worksheet-row-is-auto-height",
  "sheet.mutation.set-col-hidden",
  "sheet.mutation.set-col-visible",
  "sheet.mutation.toggle-gridlines",
  "sheet.mutation.set.numfmt",
  "sheet.mutation.remove.numfmt",
  "sheet.mutation.set-worksheet-default-style",
  "sheet.mutation.set-worksheet-column-count",
  "sheet.mutation.set-worksheet-row-count",
  "sheet.mutation.data-validation-formula-mark-dirty",
  "sheet.mutation.mark-dirty-filter-change",
  "sheet.mutation.register-worksheet-range-theme-style",
  "sheet.mutation.unregister-worksheet-range-theme-style",
  "data-validation.mutation.addRule",
  "data-validation.mutation.removeRule",
  "data-validation.mutation.updateRule",
]);
/** Changes the grid makes by itself, which are not the person's. */
const NOT_EDITS = new Set([
  "sheet.mutation.set-worksheet-row-auto-height",
  "sheet.mutation.data-validation-formula-mark-dirty",
  "sheet.mutation.mark-dirty-filter-change",
  "sheet.mutation.register-worksheet-range-theme-style",
  "sheet.mutation.unregister-worksheet-range-theme-style",
  "sheet.mutation.empty",
]);
const NAME_CHANGES = new Set([
  "formula.mutation.set-defined-name",
  "formula.mutation.remove-defined-name",
]);
/** A dialog of the grid has left the page after this. */
const DIALOG_GONE_MS = 400;
/** The grid's tabs of the sheets; they take the keyboard, but nothing of the grid leads there. */
const TABS = '[data-u-comp="slide-tab-bar"]';
const SELECTED_TAB = `${TABS} [role="tab"][aria-selected="true"]`;
/** Shorter texts take one line. */
const SHORTEST_WRAPPED = 8;
/** Rows made high enough after one calculation; a sheet with more of them keeps the file's heights. */
const MOST_FITTED = 1000;
/** Calculation succeeded, as the grid numbers the outcomes. */
const SUCCESS = 3;
/** Opens the list of a cell; the grid does not hand its name out. */
const SHOW_LIST = "sheet.operation.show-data-validation-dropdown";
/** Width of a list's arrow. */
const ARROW_PX = 20;
/** Longest name of a sheet that a file can hold, characters. */
const LONGEST_NAME = 31;

export interface GridPlace {
  readonly sheet: string;
  readonly sheetName: string;
  /** from 1 */
  readonly row: number;
  readonly column: number;
}

export interface GridEvents {
  /** values or formulas changed and must be calculated; `book` where rows, sheets or names did */
  readonly onModel: (change: { book?: ModelBook; changes?: ModelChange[] }) => void;
  /** anything worth saving changed */
  readonly onEdit: () => void;
  readonly onStep: (sheet: string, step: StructureStep) => void;
  readonly onSelection: (place: GridPlace) => void;
  /** a length was typed or pasted and kept as the text it is */
  readonly onLength: (text: string) => void;
  /** something typed was refused, in words */
  readonly onRefusal: (words: string) => void;
}

/** Before the grid's own reading of what was typed, which is of no special importance. */
const FIRST = 100;
/** After the grid has put spilled values in and before it writes numbers as their format says. */
const BEFORE_FORMATS = InterceptCellContentPriority.NUMFMT + 40;

/** The grid heads its refusal of an entry with "Error". */
function withOwnTitle(texts: object): object {
  const part = "sheets-data-validation-ui";
  const held = (texts as Record<string, { alert: object }>)[part];
  const alert = { ...held?.alert, title: "This cell does not take that" };
  return { ...texts, [part]: { ...held, alert } };
}

/** Our functions as the grid lists them. They are never called here. */
function functionList(): {
  classes: [typeof BaseFunction, string][];
  texts: IFunctionInfo[];
} {
  const classes = worksheetFunctions.map(({ name }): [typeof BaseFunction, string] => [
    class extends BaseFunction {},
    `${NAMESPACE}.${name}`,
  ]);
  const texts = worksheetFunctions.map(({ name, description, parameters }): IFunctionInfo => ({
    functionName: `${NAMESPACE}.${name}`,
    functionType: FunctionType.User,
    description,
    abstract: description,
    functionParameter: parameters.map((each) => ({
      name: each.name,
      detail: each.description,
      example: "",
      require: each.optional ? 0 : 1,
      repeat: each.repeats ? 1 : 0,
    })),
  }));
  return { classes, texts };
}

/** Two results in one: of the later one all, of the one before what it has not told anew. */
function joined(before: Calculated, after: Calculated): Calculated {
  const cells: Record<string, readonly ShownCell[]> = { ...after.cells };
  for (const [sheet, earlier] of Object.entries(before.cells)) {
    cells[sheet] = [...earlier, ...(after.cells[sheet] ?? [])];
  }
  return { ...after, cells };
}

/** The range that all of some cells stand in. */
function rangeOf(cells: readonly ShownCell[]): IRange {
  const range = { startRow: Infinity, startColumn: Infinity, endRow: 0, endColumn: 0 };
  for (const { row, column } of cells) {
    range.startRow = Math.min(range.startRow, row - 1);
    range.startColumn = Math.min(range.startColumn, column - 1);
    range.endRow = Math.max(range.endRow, row - 1);
    range.endColumn = Math.max(range.endColumn, column - 1);
  }
  return range;
}

function isFormula(cell: Nullable<ICellData>): boolean {
  return cell ? cellFormula(cell) !== undefined || Boolean(cell.si) : false;
}

export class Grid {
  private readonly univer: Univer;
  private readonly injector: Injector;
  private readonly commands: ICommandService;
  private unit: string | undefined;
  private changed = new Map<string, Set<number>>();
  private structureChanged = false;
  private scheduled = false;
  private applying = false;
  /** what came to results while something was being typed */
  private held: Calculated | undefined;
  private unitCount = 0;
  /** wrapped texts by sheet and row, as their rows were last made high enough for them */
  private fitted = new Map<string, ReadonlyMap<number, string>>();

  constructor(
    private readonly container: HTMLElement,
    isDark: boolean,
    private readonly events: GridEvents
  ) {
    const { classes, texts } = functionList();
    const univer = new Univer({
      theme: defaultTheme,
      darkMode: isDark,
      locale: LocaleType.EN_US,
      logLevel: LogLevel.ERROR,
      locales: {
        [LocaleType.EN_US]: mergeLocales(
          designTexts,
          uiTexts,
          docsTexts,
          sheetsTexts,
          sheetsUiTexts,
          formulaTexts,
          formulaUiTexts,
          numberTexts,
          validationTexts,
          withOwnTitle(validationUiTexts),
          tableTexts
        ),
      },
    });
    univer.registerPlugin(UniverRenderEnginePlugin);
    univer.registerPlugin(UniverFormulaEnginePlugin, { function: classes });
    univer.registerPlugin(UniverUIPlugin, {
      container,
      header: true,
      toolbar: true,
      ribbonType: "simple",
      footer: true,
      headerMenu: false,
    });
    univer.registerPlugin(UniverDocsPlugin);
    univer.registerPlugin(UniverDocsUIPlugin);
    univer.registerPlugin(UniverSheetsPlugin);
    univer.registerPlugin(UniverSheetsUIPlugin, {
      // lengths such as 22' are text on purpose
      disableForceStringAlert: true,
      disableForceStringMark: true,
    });
    univer.registerPlugin(UniverSheetsFormulaPlugin, {
      function: classes,
      description: texts,
      initialFormulaComputing: CalculationMode.NO_CALCULATION,
    });
    univer.registerPlugin(UniverSheetsFormulaUIPlugin);
    univer.registerPlugin(UniverSheetsNumfmtPlugin, {
      disableTextFormatAlert: true,
      disableTextFormatMark: true,
    });
    univer.registerPlugin(UniverSheetsNumfmtUIPlugin);
    univer.registerPlugin(UniverDataValidationPlugin);
    univer.registerPlugin(UniverSheetsDataValidationPlugin);
    // A search box in the list would take the keyboard away from what is being typed into the cell.
    univer.registerPlugin(UniverSheetsDataValidationUIPlugin, {
      showSearchOnDropdown: false,
      showEditOnDropdown: false,
    });
    univer.registerPlugin(UniverSheetsTablePlugin, {
      userThemes: [{ name: PLAIN_TABLE, style: {} }],
    });
    this.univer = univer;
    this.injector = univer.__getInjector();
    this.commands = this.injector.get(ICommandService);
    this.commands.onCommandExecuted((command, options) => this.watch(command, options));
  }

  /** 5/8 stays 5/8 and 24' stays 24'; the grid would make a day of the year and 24 inches of them. */
  private keepLengths(): void {
    const formats = this.injector.get(INumfmtService);
    const isLength = (unit: string, sheet: string, row: number, column: number, text: string) => {
      const format = formats.getValue(unit, sheet, row, column)?.pattern;
      if (!isTypedLength(text, format)) return false;
      // a cell kept as text is meant for it
      if (!isTextFormat(format)) this.events.onLength(text);
      return true;
    };
    this.injector.get(SheetInterceptorService).writeCellInterceptor.intercept(AFTER_CELL_EDIT, {
      priority: FIRST,
      handler: (value, { unitId, subUnitId, row, col }, next) => {
        const typed = value?.p?.body?.dataStream ?? value?.v;
        const text = typeof typed === "string" ? typed.trim() : "";
        if (!value || !isLength(unitId, subUnitId, row, col, text)) return next(value);
        return next({ ...value, p: null, v: text, t: CellValueType.FORCE_STRING });
      },
    });
    /** What is pasted is put in once more as it came, after the grid has read numbers and dates into it. */
    const asText = (
      { unitId, subUnitId, range }: ISheetDiscreteRangeLocation,
      pasted: Iterable<[row: number, column: number, text: unknown]>
    ) => {
      const cellValue: Record<number, Record<number, ICellData>> = {};
      for (const [down, across, held] of pasted) {
        const [row, col] = [range.rows[down], range.cols[across]];
        const text = typeof held === "string" ? held.trim() : "";
        if (row === undefined || col === undefined) continue;
        if (!isLength(unitId, subUnitId, row, col, text)) continue;
        const format = formats.getValue(unitId, subUnitId, row, col);
        const n = format ? { pattern: format.pattern } : null;
        const cell = { v: text, t: CellValueType.FORCE_STRING, p: null, f: null, s: { n } };
        (cellValue[row] ??= {})[col] = cell;
      }
      if (Object.keys(cellValue).length === 0) return { redos: [], undos: [] };
      const params = { unitId, subUnitId, cellValue };
      const before = SetRangeValuesUndoMutationFactory(this.injector, params);
      const { id } = SetRangeValuesMutation;
      return { redos: [{ id, params }], undos: [{ id, params: before }] };
    };
    this.injector.get(ISheetClipboardService).addClipboardHook({
      id: "lengths",
      priority: FIRST,
      onPastePlainText: (to, text) => asText(to, [[0, 0, text]]),
      onPasteCells: (from, to, data) => {
        const pasted: [number, number, unknown][] = [];
        if (!from) {
          data.forValue((row, column, cell) => {
            const text = cell.p?.body?.dataStream.replace(/\r\n$/, "") ?? cell.v;
            pasted.push([row, column, text]);
          });
        }
        return asText(to, pasted);
      },
    });
  }

  /** The tabs cut a name that is too long for a file; it stays as it was typed until it is shorter. */
  private keepNames(): void {
    const name = (event: Event): HTMLElement | undefined => {
      const { target } = event;
      const isName = target instanceof HTMLElement && target.isContentEditable;
      return isName && target.closest(TABS) ? target : undefined;
    };
    this.container.addEventListener("input", (event) => name(event) && event.stopPropagation(), {
      capture: true,
    });
    const refuse = (event: Event): void => {
      const input = name(event);
      const length = input?.innerText.length ?? 0;
      if (!input || length <= LONGEST_NAME) return;
      event.stopPropagation();
      event.preventDefault();
      this.events.onRefusal(
        `A sheet's name has at most ${LONGEST_NAME} characters; this one has ${length}. Shorten it, then press Enter.`
      );
      setTimeout(() => input.focus(), 0);
    };
    this.container.addEventListener("focusout", refuse, { capture: true });
    this.container.addEventListener("keydown", (event) => event.key === "Enter" && refuse(event), {
      capture: true,
    });
  }

  /** The arrow of a list stands at the right end of merged cells, where the grid looks for a list of its own. */
  private openListsOfMerged(): void {
    this.container.addEventListener("pointerup", ({ clientX, clientY, button }) => {
      const merged = this.merged();
      const place = this.place();
      const box = this.activeBox();
      if (!merged || !place || !box || button !== 0) return;
      const isAcross = clientX > box.right - ARROW_PX && clientX < box.right;
      if (!isAcross || clientY < box.top || clientY > box.bottom) return;
      const at = { unitId: this.unit, subUnitId: place.sheet };
      const params = { ...at, row: merged.startRow, column: merged.startColumn };
      setTimeout(() => void this.commands.executeCommand(SHOW_LIST, params), 0);
    });
  }

  /** The merged cells that are selected. */
  private merged(): IRange | undefined {
    const selection = this.injector.get(SheetsSelectionsService).getCurrentLastSelection();
    return selection?.primary?.isMerged ? selection.range : undefined;
  }

  /** A dialog that closes leaves the keyboard nowhere; it goes back to the cell. */
  private followDialogs(): void {
    let wasOpen = false;
    this.injector
      .get(IDialogService)
      .getDialogs$()
      .subscribe((dialogs) => {
        const isOpen = dialogs.some(({ open }) => open);
        const hasClosed = wasOpen && !isOpen;
        wasOpen = isOpen;
        if (!hasClosed) return;
        // The dialog itself gives it to the page once it has gone.
        setTimeout(() => this.focus(), 0);
        setTimeout(() => {
          const { activeElement } = document;
          if (!activeElement || activeElement === document.body) this.focus();
        }, DIALOG_GONE_MS);
      });
  }

  /** Pale fills keep their tint in the dark theme; the grid makes them all but black. */
  private keepTints(): void {
    const colors = this.injector.get(ICanvasColorService);
    const usual = colors.getRenderColor.bind(colors);
    const theme = this.injector.get(ThemeService);
    colors.getRenderColor = (color) => (theme.darkMode && tintInDark(color)) || usual(color);
  }

  /** A spilled number is written as its column says; the grid asks the cell alone, which holds nothing. */
  private formatSpills(): void {
    this.injector.get(SheetInterceptorService).intercept(INTERCEPTOR_POINT.CELL_CONTENT, {
      priority: BEFORE_FORMATS,
      effect: InterceptorEffectEnum.Value,
      handler: (cell, { workbook, worksheet, col, rawData }, next) => {
        if (cell?.t !== CellValueType.NUMBER || cell.s || rawData?.s) return next(cell);
        const styles = workbook.getStyles();
        const n = styles.get(worksheet.getColumnStyle(col))?.n;
        return next(n ? { ...cell, s: { n } } : cell);
      },
    });
  }

  /** Shows a workbook in place of the one shown. */
  async show(data: IWorkbookData): Promise<void> {
    const instances = this.injector.get(IUniverInstanceService);
    this.applying = true;
    if (this.unit !== undefined) instances.disposeUnit(this.unit);
    const unit = `book-${++this.unitCount}`;
    this.univer.createUnit(UniverInstanceType.UNIVER_SHEET, { ...data, id: unit });
    this.unit = unit;
    const life = this.injector.get(LifecycleService);
    if (life.stage < LifecycleStages.Rendered) await life.onStage(LifecycleStages.Rendered);
    // the grid's own services are there once it has shown a workbook
    if (this.unitCount === 1) {
      this.replaceCalculation();
      this.keepLengths();
      this.keepNames();
      this.formatSpills();
      this.followDialogs();
      this.followEditor();
      this.openListsOfMerged();
      this.keepTints();
    }
    instances.focusUnit(unit);
    this.changed = new Map();
    this.fitted = new Map();
    this.held = undefined;
    this.structureChanged = false;
    this.applying = false;
    this.watchSelection();
    const first = data.sheetOrder.find((id) => data.sheets[id]?.hidden !== 1);
    if (first !== undefined) this.select(first, 1, 1);
  }

  /** The workbook as it stands, with names, tables and validations. */
  snapshot(): IWorkbookData {
    const loader = this.injector.get(IResourceLoaderService);
    return loader.saveUnit<IWorkbookData>(this.unit ?? "") as IWorkbookData;
  }

  model(): ModelBook {
    const formulas = this.injector.get(FormulaDataModel);
    return modelBook(
      this.snapshot(),
      (sheet, row, column) =>
        formulas.getFormulaStringByCell(row, column, sheet, this.unit ?? "") ?? undefined
    );
  }

  setDark(isDark: boolean): void {
    this.injector.get(ThemeService).setDarkMode(isDark);
  }

  /**
   * Puts calculated values into the cells, without a step to undo. While something is being typed they wait: the
   * grid would read the cell anew and empty the open editor.
   */
  apply(result: Calculated): void {
    this.held = this.held ? joined(this.held, result) : result;
    this.applyHeld();
  }

  private applyHeld(): void {
    const { held } = this;
    if (!held || this.isEditing) return;
    this.held = undefined;
    this.putIn(held);
  }

  private followEditor(): void {
    this.injector.get(IEditorBridgeService).visible$.subscribe(({ visible }) => {
      // the entry is put into its cell first
      if (!visible && this.held) setTimeout(() => this.applyHeld(), 0);
    });
  }

  private putIn(result: Calculated): void {
    const { unit } = this;
    if (unit === undefined) return;
    const unitData: Record<string, Record<number, Record<number, ICellData>>> = {};
    for (const [sheet, cells] of Object.entries(result.cells)) {
      const rows: Record<number, Record<number, ICellData>> = (unitData[sheet] = {});
      const worksheet = this.workbook()?.getSheetBySheetId(sheet);
      for (const { row, column, v, t } of cells) {
        // typed over since
        if (!isFormula(worksheet?.getCellRaw(row - 1, column - 1))) continue;
        (rows[row - 1] ??= {})[column - 1] = { v, t } as ICellData;
      }
    }
    const arrayFormulaRange: Record<string, Record<number, Record<number, IRange>>> = {};
    for (const [sheet, spills] of Object.entries(result.spills)) {
      const rows: Record<number, Record<number, IRange>> = (arrayFormulaRange[sheet] = {});
      for (const { row, column, bottom, right } of spills) {
        (rows[row - 1] ??= {})[column - 1] = {
          startRow: row - 1,
          startColumn: column - 1,
          endRow: bottom - 1,
          endColumn: right - 1,
        };
      }
    }
    const arrayFormulaCellData: Record<string, Record<number, Record<number, ICellData>>> = {};
    for (const [sheet, cells] of Object.entries(result.spilled)) {
      const rows: Record<number, Record<number, ICellData>> = (arrayFormulaCellData[sheet] = {});
      for (const { row, column, v, t } of cells) {
        (rows[row - 1] ??= {})[column - 1] = { v, t } as ICellData;
      }
    }
    const local = { onlyLocal: true };
    this.applying = true;
    this.commands.syncExecuteCommand(
      SetArrayFormulaDataMutation.id,
      {
        arrayFormulaRange: { [unit]: arrayFormulaRange },
        arrayFormulaCellData: { [unit]: arrayFormulaCellData },
        arrayFormulaEmbedded: {},
      },
      local
    );
    this.commands.syncExecuteCommand(
      SetFormulaCalculationResultMutation.id,
      { unitData: { [unit]: unitData }, unitOtherData: {} },
      local
    );
    this.commands.syncExecuteCommand(
      SetFormulaCalculationNotificationMutation.id,
      { functionsExecutedState: SUCCESS },
      local
    );
    // the page tells in its own words what takes long
    this.injector.get(TriggerCalculationController).clearProgress();
    for (const sheet of this.workbook()?.getSheets() ?? []) this.fitRows(sheet, result);
    // lists may take their words from results
    const dirtyRanges = [...Object.entries(result.cells), ...Object.entries(result.spilled)].map(
      ([sheetId, cells]) => ({ unitId: unit, sheetId, range: rangeOf(cells) })
    );
    const start = SetFormulaCalculationStartMutation.id;
    this.commands.syncExecuteCommand(start, { dirtyRanges }, local);
    this.applying = false;
  }

  /** Makes rows as high as their wrapped text needs, unless a person has set their height. */
  private fitRows(sheet: Worksheet, { spilled }: Calculated): void {
    const id = sheet.getSheetId();
    const before = this.fitted.get(id);
    const texts = new Map<number, string>();
    const note = (row: number, column: number, value: unknown): void => {
      if (typeof value !== "string" || value.length < SHORTEST_WRAPPED) return;
      if (sheet.getComposedCellStyle(row, column).tb !== WrapStrategy.WRAP) return;
      texts.set(row, `${texts.get(row) ?? ""}${value}\n`);
    };
    for (const { row, column, v } of spilled[id] ?? []) note(row - 1, column - 1, v);
    const spilledRows = new Map(texts);
    // other texts once, as the file has them: the grid itself sees to what is typed
    if (!before) sheet.getCellMatrix().forValue((row, column, cell) => note(row, column, cell?.v));
    this.fitted.set(id, spilledRows);
    const endColumn = sheet.getColumnCount() - 1;
    const ranges = [...texts]
      .filter(([row, text]) => before?.get(row) !== text)
      .slice(0, MOST_FITTED)
      .map(([row]) => ({ startRow: row, endRow: row, startColumn: 0, endColumn }));
    const { redos } = this.injector
      .get(AutoHeightController)
      .getUndoRedoParamsOfAutoHeight(ranges, id);
    const local = { onlyLocal: true };
    for (const { id: mutation, params } of redos) {
      this.commands.syncExecuteCommand(mutation, params, local);
    }
    const gone = [...(before?.keys() ?? [])].filter((row) => !texts.has(row));
    if (gone.length === 0) return;
    const autoHeight = sheet.getConfig().defaultRowHeight;
    this.commands.syncExecuteCommand(
      SetWorksheetRowAutoHeightMutation.id,
      {
        unitId: this.unit,
        subUnitId: id,
        rowsAutoHeightInfo: gone.map((row) => ({ row, autoHeight })),
      },
      local
    );
  }

  select(sheet: string, row: number, column: number): void {
    const { unit } = this;
    if (unit === undefined) return;
    const range: IRange = {
      startRow: row - 1,
      endRow: row - 1,
      startColumn: column - 1,
      endColumn: column - 1,
    };
    this.commands.syncExecuteCommand(SetWorksheetActiveOperation.id, {
      unitId: unit,
      subUnitId: sheet,
    });
    const primary = {
      ...range,
      actualRow: row - 1,
      actualColumn: column - 1,
      isMerged: false,
      isMergedMainCell: false,
    };
    this.commands.syncExecuteCommand(SetSelectionsOperation.id, {
      unitId: unit,
      subUnitId: sheet,
      selections: [{ range, primary, style: null }],
    });
    void this.commands.executeCommand(ScrollToRangeOperation.id, { range });
  }

  /** Gives the keyboard to the grid, so that what is typed next goes into the active cell. */
  focus(): void {
    this.injector.get(ILayoutService).focus();
  }

  /** Gives the keyboard to the tabs of the sheets, where the arrow keys go from sheet to sheet. */
  focusTabs(): void {
    this.container.querySelector<HTMLElement>(SELECTED_TAB)?.focus();
  }

  /** True where the keyboard is at the tabs of the sheets. */
  get isAtTabs(): boolean {
    return document.activeElement?.closest(TABS) instanceof Element;
  }

  /** Puts what is being typed into its cell. Until it is checked against the cell's list, all happens at once. */
  finishEditing(): void {
    if (!this.isEditing) return;
    this.commands.syncExecuteCommand(SetCellEditVisibleOperation.id, {
      visible: false,
      unitId: this.unit,
      eventType: DeviceInputEventType.PointerDown,
    });
  }

  get isEditing(): boolean {
    return this.injector.get(IEditorBridgeService).isVisible().visible;
  }

  /** Shows the next sheet, or with -1 the one before; hidden ones are passed over. */
  turnSheet(by: 1 | -1): void {
    const workbook = this.workbook();
    const active = workbook?.getActiveSheet();
    const shown = workbook?.getSheets().filter((each) => !each.isSheetHidden()) ?? [];
    const next = active && shown[shown.indexOf(active) + by];
    if (!next) return;
    this.commands.syncExecuteCommand(SetWorksheetActiveOperation.id, {
      unitId: this.unit,
      subUnitId: next.getSheetId(),
    });
  }

  /** Opens the active cell for typing with a text in it. */
  startTyping(text: string): void {
    const editors = this.injector.get(IEditorService);
    this.commands.syncExecuteCommand(SetCellEditVisibleOperation.id, {
      visible: true,
      unitId: this.unit,
      eventType: DeviceInputEventType.Dblclick,
    });
    editors.getEditor(DOCS_NORMAL_EDITOR_UNIT_ID_KEY)?.replaceText(text);
    editors.getEditor(DOCS_FORMULA_BAR_EDITOR_UNIT_ID_KEY)?.replaceText(text, false);
  }

  place(): GridPlace | undefined {
    const sheet = this.workbook()?.getActiveSheet();
    const selection = this.injector.get(SheetsSelectionsService).getCurrentLastSelection();
    const cell = selection?.primary ?? undefined;
    const range = selection?.range;
    const merged = this.merged();
    if (!sheet || (!cell && !range)) return undefined;
    return {
      sheet: sheet.getSheetId(),
      sheetName: sheet.getName(),
      // merged cells hold what they hold in their first one
      row: (merged?.startRow ?? cell?.actualRow ?? range?.startRow ?? 0) + 1,
      column: (merged?.startColumn ?? cell?.actualColumn ?? range?.startColumn ?? 0) + 1,
    };
  }

  sheetName(id: string): string {
    return this.workbook()?.getSheetBySheetId(id)?.getName() ?? "";
  }

  /** The value behind what a cell shows, spilled values too; for the browser tests. */
  value(sheet: string, row: number, column: number): unknown {
    const spilled = this.injector.get(FormulaDataModel).getArrayFormulaCellData();
    const held =
      spilled?.[this.unit ?? ""]?.[sheet]?.[row - 1]?.[column - 1] ??
      this.workbook()
        ?.getSheetBySheetId(sheet)
        ?.getCellRaw(row - 1, column - 1);
    return held?.v ?? null;
  }

  /** What a cell shows, as its format writes it; for the browser tests. */
  written(sheet: string, row: number, column: number): string {
    const cell = this.workbook()
      ?.getSheetBySheetId(sheet)
      ?.getCell(row - 1, column - 1);
    return String(cell?.v ?? "");
  }

  /** Where the active cell stands on the page; for the browser tests. */
  activeBox(): { left: number; top: number; right: number; bottom: number } | undefined {
    const held = this.injector.get(IEditorBridgeService).getLatestEditCellState();
    if (!held) return undefined;
    const { position, canvasOffset } = held;
    return {
      left: canvasOffset.left + position.startX,
      top: canvasOffset.top + position.startY,
      right: canvasOffset.left + position.endX,
      bottom: canvasOffset.top + position.endY,
    };
  }

  runCommand(id: string, params?: object): Promise<boolean> {
    return this.commands.executeCommand(id, params);
  }

  private workbook(): Workbook | undefined {
    if (this.unit === undefined) return undefined;
    return (
      this.injector
        .get(IUniverInstanceService)
        .getUnit<Workbook>(this.unit, UniverInstanceType.UNIVER_SHEET) ?? undefined
    );
  }

  /** Without any formulas the grid's own calculation still finds the words of lists that stand in cells. */
  private replaceCalculation(): void {
    const service = this.injector.get(ICalculateFormulaService);
    const usual = service.execute.bind(service);
    service.execute = (config) => usual({ ...config, formulaData: {} });
  }

  private watchSelection(): void {
    const tell = (): void => {
      const place = this.place();
      if (place) this.events.onSelection(place);
    };
    if (!this.isWatching) {
      this.isWatching = true;
      this.commands.onCommandExecuted(({ id }) => {
        if (id === SetSelectionsOperation.id || id === SetWorksheetActiveOperation.id) tell();
      });
      this.injector.get(SheetsSelectionsService).selectionMoveEnd$.subscribe(tell);
    }
    tell();
  }
  private isWatching = false;

  private watch(command: Readonly<ICommandInfo>, options?: IExecutionOptions): void {
    const { id } = command;
    const params = command.params as
      | {
          unitId?: string;
          subUnitId?: string;
          range?: IRange;
          cellValue?: Record<string, Record<string, unknown>>;
        }
      | undefined;
    if (this.applying || options?.fromFormula) return;
    const isName = NAME_CHANGES.has(id);
    const concerns = /^(?:sheet|data-validation)\.mutation\./.test(id) || isName;
    if (!concerns || NOT_EDITS.has(id)) return;
    if (params?.unitId !== undefined && params.unitId !== this.unit) return;
    this.events.onEdit();
    if (LOOKS_ONLY.has(id)) return;
    const sheet = params?.subUnitId;
    if (id === SetRangeValuesMutation.id && sheet !== undefined) {
      const cells = this.changed.get(sheet) ?? new Set<number>();
      this.changed.set(sheet, cells);
      for (const [row, columns] of Object.entries(params?.cellValue ?? {})) {
        for (const column of Object.keys(columns ?? {})) {
          cells.add(Number(row) * 20_000 + Number(column));
        }
      }
    } else {
      this.structureChanged = true;
      if (sheet !== undefined && params?.range) this.noteStep(id, sheet, params.range);
    }
    if (this.scheduled) return;
    this.scheduled = true;
    setTimeout(() => this.flush(), 0);
  }

  private noteStep(id: string, sheet: string, range: IRange): void {
    const rows = range.endRow - range.startRow + 1;
    const columns = range.endColumn - range.startColumn + 1;
    const step: StructureStep | undefined =
      id === "sheet.mutation.insert-row"
        ? { axis: "row", at: range.startRow + 1, count: rows }
        : id === "sheet.mutation.remove-rows"
          ? { axis: "row", at: range.startRow + 1, count: -rows }
          : id === "sheet.mutation.insert-col"
            ? { axis: "column", at: range.startColumn + 1, count: columns }
            : id === "sheet.mutation.remove-col"
              ? { axis: "column", at: range.startColumn + 1, count: -columns }
              : undefined;
    if (step) this.events.onStep(sheet, step);
  }

  private flush(): void {
    this.scheduled = false;
    if (this.structureChanged) {
      this.structureChanged = false;
      this.changed = new Map();
      this.events.onModel({ book: this.model() });
      return;
    }
    const formulas = this.injector.get(FormulaDataModel);
    const changes: ModelChange[] = [];
    for (const [sheet, cells] of this.changed) {
      const worksheet = this.workbook()?.getSheetBySheetId(sheet);
      if (!worksheet) continue;
      const list: ModelCell[] = [];
      for (const key of cells) {
        const row = Math.floor(key / 20_000);
        const column = key % 20_000;
        const cell = worksheet.getCellRaw(row, column);
        const formula =
          (cell && cellFormula(cell)) ??
          (cell?.si
            ? (formulas.getFormulaStringByCell(row, column, sheet, this.unit ?? "") ?? undefined)
            : undefined);
        list.push(modelCell(cell, row, column, formula));
      }
      changes.push({ sheet, cells: list });
    }
    this.changed = new Map();
    if (changes.length > 0) this.events.onModel({ changes });
  }
}
