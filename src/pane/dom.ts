/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/** Small helpers to build elements. Text is always set as text, never read as markup. */

type Content = Node | string | number | undefined | false;

export interface Properties {
  readonly class?: string;
  readonly id?: string;
  readonly text?: string;
  readonly type?: string;
  readonly title?: string;
  readonly hidden?: boolean;
  readonly on?: Readonly<Record<string, (event: Event) => void>>;
  readonly data?: Readonly<Record<string, string>>;
  readonly attributes?: Readonly<Record<string, string>>;
}

export function make<Name extends keyof HTMLElementTagNameMap>(
  name: Name,
  properties: Properties = {},
  ...content: Content[]
): HTMLElementTagNameMap[Name] {
  const element = document.createElement(name);
  if (properties.class) element.className = properties.class;
  if (properties.id) element.id = properties.id;
  if (properties.text !== undefined) element.textContent = properties.text;
  if (properties.type) element.setAttribute("type", properties.type);
  if (properties.title) element.title = properties.title;
  if (properties.hidden) element.hidden = true;
  for (const [event, listener] of Object.entries(properties.on ?? {})) {
    element.addEventListener(event, listener);
  }
  for (const [key, value] of Object.entries(properties.data ?? {})) element.dataset[key] = value;
  for (const [key, value] of Object.entries(properties.attributes ?? {})) {
    element.setAttribute(key, value);
  }
  for (const each of content) {
    if (each === undefined || each === false) continue;
    element.append(typeof each === "object" ? each : String(each));
  }
  return element;
}

export function button(
  text: string,
  press: () => void,
  properties: Properties = {}
): HTMLButtonElement {
  return make("button", { ...properties, type: "button", text, on: { click: press } });
}

/** Lets buttons and lists be used, or not. */
export function enable(
  isOn: boolean,
  ...controls: readonly (HTMLButtonElement | HTMLSelectElement)[]
): void {
  for (const each of controls) each.disabled = !isOn;
}

/** A labelled choice from a list. */
export function choice(
  label: string,
  options: readonly (readonly [value: string, text: string])[],
  value: string,
  change: (value: string) => void
): { field: HTMLLabelElement; select: HTMLSelectElement } {
  const select = make("select", {
    on: { change: (event) => change((event.target as HTMLSelectElement).value) },
  });
  for (const [key, text] of options) {
    select.append(make("option", { text, attributes: { value: key } }));
  }
  select.value = value;
  return {
    field: make("label", { class: "field" }, make("span", { text: label }), select),
    select,
  };
}

export function checkbox(
  label: string,
  isOn: boolean,
  change: (isOn: boolean) => void
): HTMLLabelElement {
  const box = make("input", {
    type: "checkbox",
    on: { change: (event) => change((event.target as HTMLInputElement).checked) },
  });
  box.checked = isOn;
  return make("label", { class: "check" }, box, make("span", { text: label }));
}

/** 1-7/8, 24'-6 1/2": a length as a tape says it. */
const TAPE_LENGTH = /((?:\d+'-)?(?:\d+[- ])?\d+\/\d+"?)/;

/** Text whose lengths are not broken across two lines. */
export function unbroken(text: string): (Node | string)[] {
  return text
    .split(TAPE_LENGTH)
    .map((part, index) => (index % 2 === 1 ? make("span", { class: "length", text: part }) : part));
}

/** A table with a header row; cells are text. */
export function tableOf(
  caption: string,
  columns: readonly { readonly title: string; readonly class?: string }[],
  rows: readonly (readonly (string | number | Node)[])[]
): HTMLTableElement {
  const head = make("tr");
  for (const column of columns) {
    head.append(
      make("th", {
        text: column.title,
        attributes: { scope: "col" },
        ...(column.class ? { class: column.class } : {}),
      })
    );
  }
  const body = make("tbody");
  for (const row of rows) {
    const line = make("tr");
    row.forEach((cell, index) => {
      const kind = columns[index]?.class;
      line.append(make("td", kind ? { class: kind } : {}, cell));
    });
    body.append(line);
  }
  const title = make("caption", { class: "for-readers", text: caption });
  return make("table", {}, title, make("thead", {}, head), body);
}

/** A drawing from its text. It is made by the project's own code, and read as a picture, not as a page. */
export function drawing(svg: string): Element {
  const parsed = new DOMParser().parseFromString(svg, "image/svg+xml");
  return document.importNode(parsed.documentElement, true);
}
