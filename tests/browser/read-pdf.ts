/** Reads the text, the colours and the pictures off the pages of a PDF the browser printed. */
import { inflateSync } from "node:zlib";

/** A run of letters and where it starts, points from the page's left top corner. */
export interface PdfText {
  readonly text: string;
  readonly x: number;
  readonly y: number;
}

export interface PdfPage {
  readonly width: number;
  readonly height: number;
  readonly texts: readonly PdfText[];
  /** every colour that something is drawn in, red, green and blue from 0 to 1 */
  readonly colours: readonly (readonly [number, number, number])[];
  /** pictures on the page: a hatch drawn as a pattern comes out as one */
  readonly pictureCount: number;
}

type Matrix = readonly [number, number, number, number, number, number];
const UNIT: Matrix = [1, 0, 0, 1, 0, 0];

/** First `a`, then `b`. */
function times(a: Matrix, b: Matrix): Matrix {
  return [
    a[0] * b[0] + a[1] * b[2],
    a[0] * b[1] + a[1] * b[3],
    a[2] * b[0] + a[3] * b[2],
    a[2] * b[1] + a[3] * b[3],
    a[4] * b[0] + a[5] * b[2] + b[4],
    a[4] * b[1] + a[5] * b[3] + b[5],
  ];
}

/** Objects of the file by number, as they stand; the browser packs none of them away. */
function objectsOf(file: string): Map<number, string> {
  const found = new Map<number, string>();
  for (const match of file.matchAll(/(?:^|\n)(\d+) 0 obj\n([^]*?)\nendobj/g)) {
    found.set(Number(match[1]), match[2] as string);
  }
  return found;
}

function streamOf(object: string): string {
  const start = object.indexOf("stream\n") + "stream\n".length;
  const length = Number(/\/Length (\d+)/.exec(object)?.[1]);
  const bytes = Buffer.from(object.slice(start, start + length), "latin1");
  return object.includes("/FlateDecode")
    ? inflateSync(bytes).toString("latin1")
    : bytes.toString("latin1");
}

/** What each glyph of a font reads as. */
function lettersOf(map: string): Map<number, string> {
  const letters = new Map<number, string>();
  const text = (hex: string): string =>
    String.fromCharCode(...(hex.match(/.{4}/g) ?? []).map((each) => parseInt(each, 16)));
  for (const [, body = ""] of map.matchAll(/beginbfchar([^]*?)endbfchar/g)) {
    for (const [, from = "", to = ""] of body.matchAll(/<(\w+)>\s*<(\w+)>/g)) {
      letters.set(parseInt(from, 16), text(to));
    }
  }
  for (const [, body = ""] of map.matchAll(/beginbfrange([^]*?)endbfrange/g)) {
    for (const [, from = "", to = "", start = ""] of body.matchAll(
      /<(\w+)>\s*<(\w+)>\s*<(\w+)>/g
    )) {
      for (let code = parseInt(from, 16); code <= parseInt(to, 16); code++) {
        letters.set(code, String.fromCharCode(parseInt(start, 16) + code - parseInt(from, 16)));
      }
    }
  }
  return letters;
}

export function readPdf(bytes: Uint8Array): PdfPage[] {
  const objects = objectsOf(Buffer.from(bytes).toString("latin1"));
  const fonts = new Map<number, Map<number, string>>();
  const fontOf = (id: number): Map<number, string> => {
    const known = fonts.get(id);
    if (known) return known;
    const map = Number(/\/ToUnicode (\d+)/.exec(objects.get(id) ?? "")?.[1]);
    const letters = lettersOf(streamOf(objects.get(map) ?? ""));
    fonts.set(id, letters);
    return letters;
  };
  return [...objects.values()]
    .filter((object) => object.startsWith("<</Type /Page\n"))
    .map((page) => pageOf(page, objects, fontOf));
}

function pageOf(
  page: string,
  objects: ReadonlyMap<number, string>,
  fontOf: (id: number) => Map<number, string>
): PdfPage {
  const [, , , width = NaN, height = NaN] = (
    /\/MediaBox \[(\S+) (\S+) (\S+) (\S+)\]/.exec(page) ?? []
  ).map(Number);
  const texts: PdfText[] = [];
  const colours = new Map<string, readonly [number, number, number]>();
  let pictureCount = 0;

  function draw(content: string, resources: string, outer: Matrix): void {
    const named = (name: string): number =>
      Number(new RegExp(`/${name} (\\d+) 0 R`).exec(resources)?.[1]);
    let matrix = outer;
    const kept: Matrix[] = [];
    let [line, letters] = [UNIT, new Map<number, string>()];
    for (const row of content.split("\n")) {
      const words = row.trim().split(/\s+/);
      for (let at = 0, first = 0; at < words.length; at++) {
        const word = words[at] as string;
        const numbers = words.slice(first, at).map(Number);
        if (word === "q") kept.push(matrix);
        else if (word === "Q") matrix = kept.pop() ?? matrix;
        else if (word === "cm") matrix = times(numbers as unknown as Matrix, matrix);
        else if (word === "Tm") line = numbers as unknown as Matrix;
        else if (word === "Td") line = times([1, 0, 0, 1, ...(numbers as [number, number])], line);
        else if (word === "Tf") letters = fontOf(named((words[first] as string).slice(1)));
        else if (word === "rg" || word === "RG") {
          colours.set(numbers.join(" "), numbers as unknown as [number, number, number]);
        } else if (word === "Tj") {
          const codes = (words[first] as string).slice(1, -1).match(/.{4}/g) ?? [];
          const text = codes.map((code) => letters.get(parseInt(code, 16)) ?? "?").join("");
          const [, , , , x, y] = times(line, matrix);
          texts.push({ text, x, y: height - y });
        } else if (word === "Do") {
          const form = objects.get(named((words[first] as string).slice(1))) ?? "";
          if (form.includes("/Subtype /Image")) pictureCount++;
          else draw(streamOf(form), form, matrix);
        } else if (word === "scn" || word === "SCN") pictureCount++;
        else continue;
        first = at + 1;
      }
    }
  }
  const contents = objects.get(Number(/\/Contents (\d+)/.exec(page)?.[1])) ?? "";
  draw(streamOf(contents), page, UNIT);
  return { width, height, texts, colours: [...colours.values()], pictureCount };
}

/** The text of a page without its spaces, which are not drawn everywhere, and with its joined letters apart. */
export function solidText(page: PdfPage): string {
  return page.texts
    .map((each) => each.text)
    .join("")
    .normalize("NFKC")
    .replace(/\s+/g, "");
}
