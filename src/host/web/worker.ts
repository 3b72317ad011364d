/** Everything that may take long, off the page's main thread: opening, calculating, cutting up, saving. */
import { WorkbookError } from "../engine/index.js";
import { GridModel } from "./calculation.js";
import { openForGrid } from "./file/open-book.js";
import { saveFromGrid } from "./file/save-book.js";
import { readHouse } from "./house-tables.js";
import type { WorkerAnswer, WorkerRequest, WorkerRequests } from "./protocol.js";

interface WorkerScope {
  onmessage: ((event: { data: WorkerRequest }) => void) | null;
  postMessage(message: WorkerAnswer): void;
}

const scope = globalThis as unknown as WorkerScope;
const model = new GridModel();

type Handlers = {
  [Name in keyof WorkerRequests]: (
    takes: WorkerRequests[Name]["takes"]
  ) => WorkerRequests[Name]["gives"];
};

const handlers: Handlers = {
  open: ({ bytes, unit }) => openForGrid(bytes, unit),
  calculate: ({ book, changes }) => {
    if (book) model.load(book);
    if (changes) model.change(changes);
    return model.calculate();
  },
  house: ({ activeSheet }) => {
    const active = model.book.sheets.find((sheet) => model.sheetId(sheet) === activeSheet);
    const reading = readHouse(model.book, active, (sheet) => model.sheetId(sheet));
    // the cut plan is made here, not on the page's thread
    if (reading.house) void reading.house.plan;
    return reading;
  },
  save: (takes) => saveFromGrid(takes),
};

scope.onmessage = ({ data: { id, name, takes } }) => {
  try {
    const handle = handlers[name] as (takes: unknown) => unknown;
    scope.postMessage({ id, gives: handle(takes) });
  } catch (error) {
    const isExpected = error instanceof WorkbookError;
    const message = error instanceof Error ? error.message : String(error);
    scope.postMessage({ id, failed: { message, isExpected } });
  }
};
