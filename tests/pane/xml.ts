/** A small strict reader of XML without document types: throws on anything that is not well formed. */

export interface Node {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Node[];
  /** text of its own, entities resolved */
  text: string;
  /** text and elements in their order */
  readonly parts: (string | Node)[];
  readonly parent: Node | undefined;
}

/** All text in an element, in reading order. */
export function textOf(node: Node): string {
  return node.parts.map((part) => (typeof part === "string" ? part : textOf(part))).join("");
}

const NAME = /^[A-Za-z_:][\w:.-]*/;
const ENTITIES: Readonly<Record<string, string>> = {
  amp: "&",
  lt: "<",
  gt: ">",
  quot: '"',
  apos: "'",
};

function resolve(text: string): string {
  if (/[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]/.test(text)) {
    throw new Error("a character XML does not allow");
  }
  return text.replace(/&([^;]*;)?/g, (whole, name?: string) => {
    const key = name?.slice(0, -1) ?? "";
    const code = /^#(\d+)$/.exec(key);
    const found = code ? String.fromCodePoint(Number(code[1])) : ENTITIES[key];
    if (found === undefined) throw new Error(`entity ${whole}`);
    return found;
  });
}

export function parseXml(source: string): Node {
  let at = 0;
  let root: Node | undefined;
  let open: Node | undefined;
  const fail = (what: string): never => {
    throw new Error(`${what} at ${at}: ${source.slice(at, at + 60)}`);
  };
  const take = (pattern: RegExp): string => {
    const found = pattern.exec(source.slice(at, at + 100_000));
    if (!found || found.index !== 0) return fail(`expected ${pattern}`);
    at += found[0].length;
    return found[0];
  };
  while (at < source.length) {
    if (source[at] !== "<") {
      const end = source.indexOf("<", at);
      const text = source.slice(at, end < 0 ? source.length : end);
      if (text.includes(">")) fail("a bare >");
      if (open) {
        open.text += resolve(text);
        open.parts.push(resolve(text));
      } else if (text.trim() !== "") fail("text outside the root");
      at += text.length;
      continue;
    }
    if (source.startsWith("</", at)) {
      at += 2;
      const name = take(NAME);
      take(/^\s*>/);
      if (open?.name !== name) fail(`</${name}> closes ${open?.name}`);
      open = (open as Node).parent;
      continue;
    }
    at += 1;
    const name = take(NAME);
    const attributes: Record<string, string> = {};
    for (;;) {
      const space = take(/^\s*/);
      if (source[at] === ">" || source.startsWith("/>", at)) break;
      if (space === "") fail("no space before an attribute");
      const key = take(NAME);
      take(/^="/);
      const value = take(/^[^"<]*/);
      take(/^"/);
      if (key in attributes) fail(`${key} twice`);
      attributes[key] = resolve(value);
    }
    const node: Node = { name, attributes, children: [], text: "", parts: [], parent: open };
    if (open) {
      open.children.push(node);
      open.parts.push(node);
    } else if (root) fail("a second root");
    else root = node;
    const isClosed = source[at] === "/";
    at += isClosed ? 2 : 1;
    if (!isClosed) open = node;
  }
  if (!root || open) throw new Error(`not closed: ${open?.name ?? "nothing there"}`);
  return root;
}

export function all(node: Node, test: (node: Node) => boolean): Node[] {
  return [...(test(node) ? [node] : []), ...node.children.flatMap((child) => all(child, test))];
}

export function named(node: Node, name: string): Node[] {
  return all(node, (each) => each.name === name);
}

export function classed(node: Node, className: string): Node[] {
  return all(node, (each) => (each.attributes.class ?? "").split(" ").includes(className));
}

/** Points a shape goes through, for the straight-line paths that the drawings are made of. */
export function pointsOf(node: Node): [number, number][] {
  const value = (key: string): number => Number(node.attributes[key] ?? NaN);
  switch (node.name) {
    case "line":
      return [
        [value("x1"), value("y1")],
        [value("x2"), value("y2")],
      ];
    case "rect":
      return [
        [value("x"), value("y")],
        [value("x") + value("width"), value("y") + value("height")],
      ];
    case "circle":
      return [
        [value("cx") - value("r"), value("cy") - value("r")],
        [value("cx") + value("r"), value("cy") + value("r")],
      ];
    case "path": {
      const numbers = (node.attributes.d ?? "").match(/-?\d+(\.\d+)?/g) ?? [];
      return Array.from({ length: numbers.length / 2 }, (_, index) => [
        Number(numbers[2 * index]),
        Number(numbers[2 * index + 1]),
      ]);
    }
    default:
      return [];
  }
}

export interface TextBox {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Average width of a letter and height of a capital, in parts of the font size: common practice. */
const LETTER = 0.52;
const NARROW_LETTER = 0.3;
const CAPITAL = 0.72;

/** Where a text comes out, by an estimate of its own: not the one the drawings use. */
export function textBox(node: Node): TextBox {
  const size = Number(node.attributes["font-size"]);
  const x = Number(node.attributes.x);
  const y = Number(node.attributes.y);
  const wide = [...node.text].reduce(
    (sum, char) => sum + (/[ '"ijlt.,:;/-]/.test(char) ? NARROW_LETTER : LETTER) * size,
    0
  );
  const anchor = node.attributes["text-anchor"] ?? "start";
  const from = anchor === "middle" ? -wide / 2 : anchor === "end" ? -wide : 0;
  const turned = node.attributes.transform;
  if (turned === undefined) {
    return {
      text: node.text,
      left: x + from,
      right: x + from + wide,
      top: y - CAPITAL * size,
      bottom: y,
    };
  }
  if (!/^rotate\(-90 /.test(turned)) throw new Error(`transform ${turned}`);
  return {
    text: node.text,
    left: x - CAPITAL * size,
    right: x,
    top: y - from - wide,
    bottom: y - from,
  };
}

export function overlapping(a: TextBox, b: TextBox): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}
