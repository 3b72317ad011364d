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
