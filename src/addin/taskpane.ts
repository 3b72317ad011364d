/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/** The add-in's pane: its buttons above, the house below. Without a spreadsheet it is a calculator. */
import "../pane/colors.css";
import "../pane/pane.css";
import "./taskpane.css";
import { VERSION } from "../core/version.js";
import { worksheetFunctions } from "../worksheet/registry.js";
import { wallDrawing } from "../pane/drawings/index.js";
import { button, choice, make } from "../pane/dom.js";
import { mountPane } from "../pane/pane.js";
import {
  HOUSE_FORMULAS,
  Refusal,
  type Workbook,
  addFormulas,
  drawIntoSheet,
  keepValues,
  newHouse,
  repairFormulas,
  selfTest,
} from "./actions.js";
import { Calculator } from "./calculator.js";
import { type Connection, connect } from "./connect.js";
import { ExcelHost } from "./excel-host.js";
import { findTables } from "./house-reader.js";

const WITHOUT: Readonly<Record<Exclude<Connection, "spreadsheet">, string>> = {
  nobody: "No spreadsheet beside this page: work out one function at a time.",
  silent:
    "The spreadsheet does not answer. Work out one function at a time, or close the pane and open it again.",
  "no script":
    "The spreadsheet's script could not be loaded; is its address allowed? Work out one function at a time.",
};

function byId(id: string): HTMLElement {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no element ${id}`);
  return found;
}

function associated(): number {
  return (globalThis as { sheathAssociated?: number }).sheathAssociated ?? 0;
}

/** A drawing as a PNG picture, in base64, drawn at twice its size so that it prints well. */
function toPng(svg: string): Promise<string> {
  return new Promise((resolve, reject) => {
    const picture = new Image();
    picture.onload = () => {
      const canvas = make("canvas");
      canvas.width = picture.naturalWidth * 2;
      canvas.height = picture.naturalHeight * 2;
      const context = canvas.getContext("2d");
      if (!context) return reject(new Refusal("This page cannot draw pictures."));
      context.drawImage(picture, 0, 0, canvas.width, canvas.height);
      resolve(canvas.toDataURL("image/png").replace(/^data:image\/png;base64,/, ""));
    };
    picture.onerror = () => reject(new Refusal("The drawing could not be made into a picture."));
    picture.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  });
}

function insertSvg(svg: string): Promise<void> {
  return new Promise((resolve, reject) => {
    Office.context.document.setSelectedDataAsync(
      svg,
      { coercionType: Office.CoercionType.XmlSvg },
      (result) =>
        result.status === Office.AsyncResultStatus.Failed
          ? reject(new Refusal(result.error.message))
          : resolve()
    );
  });
}

/** Sheets to print, in a frame of the page: a pane has no window of its own to print from. */
function print(html: string, title: string): void {
  const frame = make("iframe", { title, class: "print-frame" });
  frame.srcdoc = html;
  frame.addEventListener("load", () => {
    frame.contentWindow?.addEventListener("afterprint", () => frame.remove());
    frame.contentWindow?.print();
  });
  document.body.append(frame);
}

function withSpreadsheet(): void {
  const workbook: Workbook = {
    run: (work) => Excel.run(work),
    supports: (version) => Office.context.requirements.isSetSupported("ExcelApi", version),
  };
  const say = byId("said");
  const tell = (text: string, isProblem = false): void => {
    say.textContent = text;
    say.classList.toggle("is-problem", isProblem);
  };
  const act = (work: () => Promise<string>) => async (): Promise<void> => {
    tell("…");
    try {
      tell(await work());
    } catch (error) {
      // the host's own errors say what, not why; a Refusal is already in words
      const text = (error as Error).message;
      tell(error instanceof Refusal ? text : `The spreadsheet refused: ${text}`, true);
    }
  };
  const tool = (title: string, work: () => Promise<string>): HTMLButtonElement =>
    button(title, () => void act(work)());

  const calculator = new Calculator((formula) =>
    workbook.run(async (context) => {
      const cell = context.workbook.getActiveCell();
      cell.load("formulas,address");
      await context.sync();
      if ((cell.formulas as unknown[][])[0]?.[0] !== "") {
        throw new Refusal(`${cell.address} is not empty.`);
      }
      cell.formulas = [[formula]];
      await context.sync();
    })
  );
  const calculatorBox = make(
    "details",
    { id: "calculator-box" },
    make("summary", { text: "One function" }),
    calculator.root
  );
  const host = new ExcelHost(workbook.run, {
    print,
    fillIn: (formula) => {
      const name = /\.([A-Z_]+)\(/.exec(formula)?.[1];
      if (name) calculator.choose(name);
      calculatorBox.open = true;
      calculatorBox.scrollIntoView();
    },
  });
  const what = choice("Formulas", HOUSE_FORMULAS, "HOUSE_ORDER", () => undefined);
  byId("tools").append(
    make(
      "div",
      { class: "row" },
      tool("New house", () => newHouse(workbook)),
      what.field,
      tool("Add formulas here", async () =>
        addFormulas(workbook, what.select.value, await workbook.run(findTables))
      )
    ),
    make(
      "div",
      { class: "row" },
      tool("Draw this wall into the sheet", () => {
        const { house } = host.reading;
        if (!house) return Promise.reject(new Refusal("There is no house to draw."));
        const picked = document.querySelector<HTMLSelectElement>(".wall-tab select")?.value ?? "";
        const names = house.walls.map((each) => each.name);
        const wall = names.find((name) => picked.startsWith(name)) ?? (names[0] as string);
        const svg = wallDrawing(house, wall, { theme: "light", width: 900 });
        const canSvg = Office.context.requirements.isSetSupported("ImageCoercion", "1.2");
        return drawIntoSheet(workbook, { toPng, ...(canSvg ? { insertSvg } : {}) }, wall, svg);
      }),
      tool("Repair formulas", () => repairFormulas(workbook)),
      tool("Keep values only", () => keepValues(workbook)),
      tool("Self-test", async () => {
        const { lines } = await selfTest(workbook, associated(), worksheetFunctions.length);
        return lines.join(" ");
      })
    ),
    calculatorBox
  );
  mountPane(byId("pane"), host);
}

async function start(): Promise<void> {
  document.documentElement.dataset.theme = matchMedia("(prefers-color-scheme: dark)").matches
    ? "dark"
    : "light";
  byId("version").textContent = `Sheathing Functions ${VERSION}`;
  const office = (globalThis as { Office?: typeof Office }).Office;
  const connection = await connect(office);
  document.documentElement.dataset.connection = connection;
  if (connection === "spreadsheet") return withSpreadsheet();
  byId("said").textContent = WITHOUT[connection];
  byId("tools").append(new Calculator().root);
}

void start();
