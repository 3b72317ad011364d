/** HTML as text. Everything that came from a table is escaped here and nowhere else. */
import { escapeText } from "../drawings/index.js";

/** Text content, escaped; a mixed number such as 46-1/8 is not broken at its hyphen. */
export function text(value: string | number): string {
  return escapeText(String(value)).replace(/\d+-\d+\/\d+/g, '<span class="whole">$&</span>');
}

/** An element with a class; the content is markup already made. */
export function tag(name: string, className: string, ...content: string[]): string {
  const attribute = className === "" ? "" : ` class="${escapeText(className)}"`;
  return `<${name}${attribute}>${content.join("")}</${name}>`;
}

export interface Column {
  readonly title: string;
  /** class of its cells: `number`, `note` */
  readonly className?: string;
}

/** A table with a header row; cells are plain text. */
export function table(
  className: string,
  columns: readonly Column[],
  rows: readonly (readonly (string | number)[])[]
): string {
  const head = columns.map(({ title, className: kind }) =>
    kind === undefined
      ? `<th scope="col">${text(title)}</th>`
      : `<th scope="col" class="${escapeText(kind)}">${text(title)}</th>`
  );
  const body = rows.map((row) =>
    tag(
      "tr",
      "",
      ...row.map((cell, index) => tag("td", columns[index]?.className ?? "", text(cell)))
    )
  );
  return tag(
    "div",
    "table",
    tag("table", className, tag("thead", "", tag("tr", "", ...head)), tag("tbody", "", ...body))
  );
}

export function list(className: string, items: readonly string[]): string {
  return tag("ul", className, ...items.map((item) => tag("li", "", item)));
}

/** A page's head line: what it is, and of which house. */
export function pageHead(what: string, house: string): string {
  return tag("div", "head", tag("h1", "", text(what)), tag("p", "", text(house)));
}
