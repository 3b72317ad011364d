/// <reference lib="dom" />
/**
 * The page's policy allows no style elements, and some of the grid's parts make some. What they put into one is laid
 * on as a constructed style sheet instead, which the policy allows because no text from outside can become one.
 * Must be the first thing the page runs.
 */
function divert(tag: HTMLElement): void {
  const sheet = new CSSStyleSheet();
  let text = "";
  const lay = (css: string): void => {
    text = css;
    sheet.replaceSync(css);
    if (!document.adoptedStyleSheets.includes(sheet)) {
      document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
    }
  };
  lay("");
  Object.defineProperties(tag, {
    type: { get: () => "text/css", set: () => undefined },
    sheet: { get: () => sheet },
    textContent: { get: () => text, set: lay },
    innerHTML: { get: () => text, set: lay },
    appendChild: {
      value: (node: Node): Node => {
        lay(text + (node.textContent ?? ""));
        return node;
      },
    },
    remove: {
      value: (): void => {
        document.adoptedStyleSheets = document.adoptedStyleSheets.filter((each) => each !== sheet);
        Element.prototype.remove.call(tag);
      },
    },
  });
}

const create = Document.prototype.createElement;
Document.prototype.createElement = function (
  this: Document,
  name: string,
  options?: ElementCreationOptions
): HTMLElement {
  if (this !== document || name.toLowerCase() !== "style") return create.call(this, name, options);
  // stands in the page without any effect of its own
  const stand = create.call(this, "template", options);
  divert(stand);
  return stand;
} as typeof create;

/** Markup that is read in, such as what is pasted, without styles of its own: the policy would refuse each aloud. */
function withoutStyles(markup: string): string {
  return markup
    .replace(/<style\b[\s\S]*?(?:<\/style>|$)/gi, "")
    .replace(/(<[a-z][^<>]*?\s)style(\s*=)/gi, `$1${LAID_ON}$2`);
}
const LAID_ON = "data-laid-on-style";

/** Lays the styles on again as properties, which the policy allows. */
function layStyles(parent: ParentNode): void {
  for (const element of parent.querySelectorAll<HTMLElement>(`[${LAID_ON}]`)) {
    element.style.cssText = element.getAttribute(LAID_ON) ?? "";
    element.removeAttribute(LAID_ON);
  }
}

const fragment = Range.prototype.createContextualFragment;
Range.prototype.createContextualFragment = function (this: Range, markup: string) {
  const read = fragment.call(this, withoutStyles(markup));
  layStyles(read);
  return read;
};

const parse = DOMParser.prototype.parseFromString;
DOMParser.prototype.parseFromString = function (this: DOMParser, text, type) {
  if (type !== "text/html") return parse.call(this, text, type);
  const read = parse.call(this, withoutStyles(text), type);
  layStyles(read);
  return read;
};
