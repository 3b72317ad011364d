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
    const code = /^#(\d+|x[0-9a-f]+)$/i.exec(key)?.[1];
    const found = code ? String.fromCodePoint(Number(code.replace(/^x/i, "0x"))) : ENTITIES[key];
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
  if (source.startsWith("<?xml ")) at = source.indexOf("?>") + 2;
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
      const value = take(/^=(?:"[^"<]*"|'[^'<]*')/);
      if (key in attributes) fail(`${key} twice`);
      attributes[key] = resolve(value.slice(2, -1));
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
