/**
 * Reading and changing XML parts by position: what is not changed stays byte for byte as it was.
 * Workbook parts are simple XML (no DTD), so a scanner of tags is enough; a part with a DTD is refused.
 */
import { WorkbookError } from "./values.js";

export interface Tag {
  /** name without a namespace prefix */
  readonly name: string;
  /** namespace prefix with its colon, or nothing */
  readonly prefix: string;
  readonly kind: "open" | "close" | "single";
  readonly start: number;
  readonly end: number;
}

/** The next tag at or after a position; comments, instructions and CDATA are passed over. */
export function nextTag(xml: string, from: number): Tag | undefined {
  let at = from;
  for (;;) {
    const start = xml.indexOf("<", at);
    if (start < 0) return undefined;
    const after = xml[start + 1];
    if (after === "!" || after === "?") {
      at = endOfMarkup(xml, start);
      continue;
    }
    const end = endOfTag(xml, start);
    const closing = after === "/";
    const nameStart = closing ? start + 2 : start + 1;
    let nameEnd = nameStart;
    while (nameEnd < end && !/[\s/>]/.test(xml[nameEnd] as string)) nameEnd++;
    const full = xml.slice(nameStart, nameEnd);
    const colon = full.indexOf(":");
    return {
      name: full.slice(colon + 1),
      prefix: full.slice(0, colon + 1),
      kind: closing ? "close" : xml[end - 2] === "/" ? "single" : "open",
      start,
      end,
    };
  }
}

function endOfTag(xml: string, start: number): number {
  let quote = "";
  for (let at = start + 1; at < xml.length; at++) {
    const character = xml[at] as string;
    if (quote) {
      if (character === quote) quote = "";
    } else if (character === '"' || character === "'") quote = character;
    else if (character === ">") return at + 1;
  }
  throw new WorkbookError("the workbook is damaged: a tag is not closed");
}

function endOfMarkup(xml: string, start: number): number {
  const [close, length] = xml.startsWith("<!--", start)
    ? ["-->", 3]
    : xml.startsWith("<![CDATA[", start)
      ? ["]]>", 3]
      : xml.startsWith("<?", start)
        ? ["?>", 2]
        : ["", 0];
  if (close === "") throw new WorkbookError("the workbook is damaged: unexpected XML");
  const end = xml.indexOf(close, start);
  if (end < 0) throw new WorkbookError("the workbook is damaged: XML is cut short");
  return end + length;
}

const ATTRIBUTE = /([^\s=/<>"']+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g;

/** The attributes of a tag, names without prefix, entities resolved. */
export function attributes(xml: string, tag: Tag): Record<string, string> {
  const found: Record<string, string> = {};
  const text = xml.slice(tag.start, tag.end);
  const body = text.slice(text.search(/[\s/>]/));
  for (const [, name = "", double, single] of body.matchAll(ATTRIBUTE)) {
    found[name.slice(name.indexOf(":") + 1)] = unescapeXml(double ?? single ?? "");
  }
  return found;
}

export interface Element {
  readonly tag: Tag;
  readonly attributes: Record<string, string>;
  /** where the content starts and ends; equal for an empty element */
  readonly contentStart: number;
  readonly contentEnd: number;
  readonly end: number;
}

/** Every element of one name below a position, not looking inside the elements found. */
export function elements(xml: string, name: string, from = 0, to = xml.length): Element[] {
  const found: Element[] = [];
  let at = from;
  while (at < to) {
    const tag = nextTag(xml, at);
    if (!tag || tag.start >= to) break;
    at = tag.end;
    if (tag.name !== name || tag.kind === "close") continue;
    const element = elementAt(xml, tag);
    found.push(element);
    at = element.end;
  }
  return found;
}

/** The first element of one name, if any. */
export function element(xml: string, name: string, from = 0, to = xml.length): Element | undefined {
  let at = from;
  for (;;) {
    const tag = nextTag(xml, at);
    if (!tag || tag.start >= to) return undefined;
    if (tag.name === name && tag.kind !== "close") return elementAt(xml, tag);
    at = tag.end;
  }
}

/** The whole element that a tag opens. */
export function elementAt(xml: string, tag: Tag): Element {
  const held = attributes(xml, tag);
  if (tag.kind === "single") {
    return { tag, attributes: held, contentStart: tag.end, contentEnd: tag.end, end: tag.end };
  }
  let depth = 1;
  let at = tag.end;
  for (;;) {
    const inner = nextTag(xml, at);
    if (!inner) throw new WorkbookError(`the workbook is damaged: ${tag.name} is not closed`);
    at = inner.end;
    if (inner.name !== tag.name || inner.kind === "single") continue;
    depth += inner.kind === "open" ? 1 : -1;
    if (depth === 0) {
      return {
        tag,
        attributes: held,
        contentStart: tag.end,
        contentEnd: inner.start,
        end: inner.end,
      };
    }
  }
}

const ENTITIES: Readonly<Record<string, string>> = {
  amp: "&",
  lt: "<",
  gt: ">",
  quot: '"',
  apos: "'",
};

export function unescapeXml(text: string): string {
  if (!text.includes("&")) return text;
  return text.replace(/&(#x[0-9a-fA-F]+|#\d+|\w+);/g, (whole, body: string) => {
    if (body.startsWith("#")) {
      const code = body[1] === "x" ? parseInt(body.slice(2), 16) : parseInt(body.slice(1), 10);
      return code > 0 && code <= 0x10ffff ? String.fromCodePoint(code) : "";
    }
    return ENTITIES[body] ?? whole;
  });
}

/** Text content of an element: entities resolved, CDATA taken as it is, tags inside left out. */
export function textOf(xml: string, from: number, to: number): string {
  const raw = xml.slice(from, to);
  if (!raw.includes("<")) return unescapeXml(raw);
  return raw
    .split(/(<!\[CDATA\[[\s\S]*?\]\]>|<!--[\s\S]*?-->|<[^>]*>)/)
    .map((part) => {
      if (part.startsWith("<![CDATA[")) return part.slice(9, -3);
      return part.startsWith("<") ? "" : unescapeXml(part);
    })
    .join("");
}

/** Cell text in the form files use: _x000D_ stands for a carriage return. */
export function unescapeCellText(text: string): string {
  return text.includes("_x")
    ? text.replace(/_x([0-9A-Fa-f]{4})_/g, (_, code: string) =>
        String.fromCharCode(parseInt(code, 16))
      )
    : text;
}

/** Control characters XML cannot hold, and text that reads like their escape, written as _xHHHH_. */
export function escapeCellText(text: string): string {
  const escaped = text
    .replace(/_(?=x[0-9A-Fa-f]{4}_)/g, "_x005F_")

    .replace(/[\u0000-\u0008\u000b\u000c\u000d\u000e-\u001f\ufffe\uffff]/g, (character) => {
      return `_x${character.charCodeAt(0).toString(16).toUpperCase().padStart(4, "0")}_`;
    });
  return escapeXml(escaped);
}

export function escapeXml(text: string): string {
  return text
    .replace(/&/g, "&amp;")
    .replace(/</g, "&lt;")
    .replace(/>/g, "&gt;")
    .replace(/"/g, "&quot;");
}
