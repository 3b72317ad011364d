/**
 * A hand-written stand-in for the host's workbook API. It keeps cells by sheet, takes changes only at `sync`, and refuses
 * to be asked for what was not loaded, as the host does.
 */
import type { Run } from "../../src/addin/actions.js";

export type CellContent = string | number | boolean;

export interface FakeCell {
  /** formula with its equals sign, or what was typed */
  content: CellContent;
  value: CellContent;
}

export interface Change {
  readonly sheet: string;
  readonly area: string;
  readonly what: string;
  readonly value: unknown;
}

function lettersOf(column: number): string {
  let text = "";
  for (let rest = column; rest > 0; rest = Math.floor((rest - 1) / 26)) {
    text = String.fromCharCode(65 + ((rest - 1) % 26)) + text;
  }
  return text;
}

function columnOf(letters: string): number {
  return [...letters.toUpperCase()].reduce((sum, each) => sum * 26 + each.charCodeAt(0) - 64, 0);
}

interface Area {
  readonly top: number;
  readonly left: number;
  readonly rows: number;
  readonly columns: number;
}

/** A1, A1:B2, A:A or 5:5; whole columns and rows are one cell deep, only their looks are set. */
function parseArea(text: string): Area {
  const plain = text.replaceAll("$", "");
  const [from = "", to = from] = plain.split(":");
  const parts = (cell: string): [row: number, column: number] => [
    Number(/\d+/.exec(cell)?.[0] ?? 1),
    columnOf(/[A-Za-z]+/.exec(cell)?.[0] ?? "A"),
  ];
  const [top, left] = parts(from);
  const [bottom, right] = parts(to);
  return { top, left, rows: bottom - top + 1, columns: right - left + 1 };
}

/** Answers every path of properties and calls, and writes down what was set or called. */
function recorder(note: (what: string, value: unknown) => void, path: string): never {
  return new Proxy(() => undefined, {
    get: (_target, name) =>
      name === "then" ? undefined : recorder(note, path ? `${path}.${String(name)}` : String(name)),
    set: (_target, name, value) => {
      note(`${path}.${String(name)}`, value);
      return true;
    },
    apply: (_target, _self, args: unknown[]) => {
      note(`${path}()`, args);
      return recorder(note, `${path}()`);
    },
  }) as never;
}

export class FakeSheet {
  readonly cells = new Map<string, FakeCell>();
  visibility = "Visible";
  constructor(public name: string) {}

  at(address: string): FakeCell | undefined {
    const { top, left } = parseArea(address);
    return this.cells.get(`${top},${left}`);
  }
  put(address: string, content: CellContent, value: CellContent = content): this {
    const { top, left } = parseArea(address);
    this.cells.set(`${top},${left}`, { content, value });
    return this;
  }
  used(): Area | undefined {
    if (this.cells.size === 0) return undefined;
    const places = [...this.cells.keys()].map((key) => key.split(",").map(Number));
    const rows = places.map(([row]) => row as number);
    const columns = places.map(([, column]) => column as number);
    const [top, left] = [Math.min(...rows), Math.min(...columns)];
    return {
      top,
      left,
      rows: Math.max(...rows) - top + 1,
      columns: Math.max(...columns) - left + 1,
    };
  }
}

export class FakeWorkbook {
  readonly sheets: FakeSheet[] = [];
  readonly changes: Change[] = [];
  readonly selectionListeners: (() => unknown)[] = [];
  readonly changeListeners: (() => unknown)[] = [];
  active: { sheet: string; address: string } = { sheet: "Sheet1", address: "A1" };
  activated: string[] = [];
  syncs = 0;

  /** @param evaluate what a formula comes to when it is entered */
  constructor(private readonly evaluate: (formula: string) => CellContent = () => 0) {
    this.add("Sheet1");
  }

  add(name: string): FakeSheet {
    if (this.find(name)) throw new Error(`a sheet named ${name} is already there`);
    const sheet = new FakeSheet(name);
    this.sheets.push(sheet);
    return sheet;
  }
  find(name: string): FakeSheet | undefined {
    return this.sheets.find((each) => each.name.toLowerCase() === name.toLowerCase());
  }

  enter(sheet: FakeSheet, row: number, column: number, content: CellContent): void {
    const key = `${row},${column}`;
    if (content === "") {
      sheet.cells.delete(key);
      return;
    }
    const isFormula = typeof content === "string" && content.startsWith("=");
    if (isFormula && /(?:'([^']+)'|\b([A-Za-z_]\w*))!/.test(content)) {
      for (const [, quoted, plain] of content
        .replace(/"(?:[^"]|"")*"/g, "")
        .matchAll(/(?:'([^']+)'|\b([A-Za-z_]\w*))!/g)) {
        const name = quoted ?? plain ?? "";
        if (!this.find(name))
          throw new Error(`the formula ${content} names a sheet that is not there`);
      }
    }
    const text =
      typeof content === "string" && content.startsWith("'") ? content.slice(1) : content;
    sheet.cells.set(key, { content: text, value: isFormula ? this.evaluate(content) : text });
  }

  readonly run: Run = async (work) => {
    const pending: (() => void)[] = [];
    const context = this.context(pending);
    const result = await work(context as never);
    for (const each of pending.splice(0)) each();
    return result;
  };

  private context(pending: (() => void)[]): unknown {
    const later = (work: () => void): void => void pending.push(work);
    const sync = (): Promise<void> => {
      this.syncs++;
      for (const each of pending.splice(0)) each();
      return Promise.resolve();
    };

    /** An object whose listed properties can be read only after load and sync. */
    const loadable = (
      base: Record<string, unknown>,
      read: Readonly<Record<string, () => unknown>>
    ): Record<string, unknown> => {
      const loaded = new Map<string, unknown>();
      const object: Record<string, unknown> = {
        ...base,
        load: (names: string) => {
          const wanted = names.split(",").map((each) => each.trim().replace(/\/.*$/, ""));
          later(() => {
            for (const name of wanted) {
              const get = read[name];
              if (get) loaded.set(name, get());
              else if (!(name in object)) throw new Error(`there is no property ${name} to load`);
            }
          });
        },
      };
      for (const name of Object.keys(read)) {
        Object.defineProperty(object, name, {
          get: () => {
            if (!loaded.has(name)) throw new Error(`${name} was not loaded`);
            return loaded.get(name);
          },
          set: (value: unknown) => {
            const setter = base[`set ${name}`] as ((value: unknown) => void) | undefined;
            if (!setter) throw new Error(`${name} cannot be set`);
            setter(value);
          },
          configurable: true,
        });
      }
      return object;
    };

    const rangeOf = (sheet: FakeSheet, text: string): Record<string, unknown> =>
      areaRange(sheet, () => parseArea(text), text);

    const areaRange = (
      sheet: FakeSheet,
      areaNow: () => Area,
      name: string
    ): Record<string, unknown> => {
      const address = (): string => {
        const { top, left, rows, columns } = areaNow();
        const first = `${lettersOf(left)}${top}`;
        const last = `${lettersOf(left + columns - 1)}${top + rows - 1}`;
        return first === last ? first : `${first}:${last}`;
      };
      const grid = (pick: (cell: FakeCell | undefined) => unknown): unknown[][] => {
        const { top, left, rows, columns } = areaNow();
        return Array.from({ length: rows }, (_row, r) =>
          Array.from({ length: columns }, (_column, c) =>
            pick(sheet.cells.get(`${top + r},${left + c}`))
          )
        );
      };
      const note = (what: string, value: unknown): void =>
        later(() => void this.changes.push({ sheet: sheet.name, area: name, what, value }));
      const range = loadable(
        {
          worksheet: sheetOf(sheet),
          format: recorder(note, "format"),
          dataValidation: recorder(note, "dataValidation"),
          conditionalFormats: recorder(note, "conditionalFormats"),
          merge: () => note("merge", true),
          select: () => later(() => (this.active = { sheet: sheet.name, address: address() })),
          getCell: (row: number, column: number) =>
            areaRange(
              sheet,
              () => {
                const { top, left } = areaNow();
                return { top: top + row, left: left + column, rows: 1, columns: 1 };
              },
              `${name} cell ${row},${column}`
            ),
          copyFrom: (source: { copied: () => unknown[][] }, kind: string) =>
            later(() => {
              if (kind !== "Values")
                throw new Error(`copying ${kind} is not part of this stand-in`);
              const { top, left } = areaNow();
              source
                .copied()
                .forEach((row, r) =>
                  row.forEach((value, c) =>
                    this.enter(sheet, top + r, left + c, value as CellContent)
                  )
                );
            }),
          copied: () => grid((cell) => cell?.value ?? ""),
          "set formulas": (rows: CellContent[][]) =>
            later(() => {
              const area = areaNow();
              if (rows.length !== area.rows || rows.some((row) => row.length !== area.columns)) {
                throw new Error(`${name} takes ${area.rows} x ${area.columns} cells`);
              }
              rows.forEach((row, r) =>
                row.forEach((content, c) => this.enter(sheet, area.top + r, area.left + c, content))
              );
            }),
        },
        {
          address: () =>
            `${/^\w+$/.test(sheet.name) ? sheet.name : `'${sheet.name}'`}!${address()}`,
          formulas: () => grid((cell) => cell?.content ?? ""),
          values: () => grid((cell) => cell?.value ?? ""),
          rowIndex: () => areaNow().top - 1,
          columnIndex: () => areaNow().left - 1,
          rowCount: () => areaNow().rows,
          columnCount: () => areaNow().columns,
          left: () => areaNow().left * 48,
          top: () => areaNow().top * 15,
        }
      );
      Object.defineProperty(range, "numberFormat", {
        set: (value: unknown) => note("numberFormat", value),
      });
      return range;
    };

    const sheetOf = (sheet: FakeSheet): Record<string, unknown> => {
      const note = (what: string, value: unknown): void =>
        later(() => void this.changes.push({ sheet: sheet.name, area: "", what, value }));
      const object: Record<string, unknown> = {
        get name() {
          return sheet.name;
        },
        set name(text: string) {
          later(() => (sheet.name = text));
        },
        get visibility() {
          return sheet.visibility;
        },
        freezePanes: recorder(note, "freezePanes"),
        pageLayout: recorder(note, "pageLayout"),
        shapes: {
          addImage: (image: string) => {
            note("addImage", image);
            return recorder(note, "shape");
          },
        },
        set showGridlines(isShown: boolean) {
          note("showGridlines", isShown);
        },
        activate: () => later(() => void this.activated.push(sheet.name)),
        delete: () => later(() => void this.sheets.splice(this.sheets.indexOf(sheet), 1)),
        getRange: (area: string) => rangeOf(sheet, area),
        getRangeByIndexes: (row: number, column: number, rows: number, columns: number) =>
          areaRange(
            sheet,
            () => ({ top: row + 1, left: column + 1, rows, columns }),
            `${row},${column},${rows},${columns}`
          ),
        getUsedRangeOrNullObject: () => {
          const used = sheet.used();
          const range = areaRange(sheet, () => used ?? parseArea("A1"), "used");
          range.isNullObject = used === undefined;
          return range;
        },
        copy: () => {
          // made at once, so that it can be named and filled in the same batch
          const copy = new FakeSheet(`${sheet.name} (2)`);
          for (const [key, cell] of sheet.cells) copy.cells.set(key, { ...cell });
          this.sheets.push(copy);
          return sheetOf(copy);
        },
      };
      return object;
    };

    const worksheets = loadable(
      {
        add: (name?: string) => sheetOf(this.add(name ?? `Sheet${this.sheets.length + 1}`)),
        getItem: (name: string) => {
          const sheet = this.find(name);
          if (!sheet) throw new Error(`there is no sheet ${name}`);
          return sheetOf(sheet);
        },
        getActiveWorksheet: () => sheetOf(this.find(this.active.sheet) as FakeSheet),
        onChanged: { add: (each: () => unknown) => this.changeListeners.push(each) },
        onDeleted: { add: (each: () => unknown) => this.changeListeners.push(each) },
      },
      { items: () => this.sheets.map(sheetOf) }
    );
    return {
      sync,
      workbook: {
        worksheets,
        getActiveCell: () =>
          rangeOf(this.find(this.active.sheet) as FakeSheet, this.active.address),
        onSelectionChanged: { add: (each: () => unknown) => this.selectionListeners.push(each) },
      },
    };
  }
}
