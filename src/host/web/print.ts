/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
/** The page that sheets are printed from: takes them from the page that opened it, and sends nothing anywhere. */
import "./print.css";

interface Sheets {
  readonly kind: "sheets";
  readonly html: string;
}

const select = document.getElementById("paper") as HTMLSelectElement;
const state = document.getElementById("print-state") as HTMLElement;
const style = new CSSStyleSheet();
document.adoptedStyleSheets = [style];

/** Takes over what the sheets look like and hold; scripts in them would not be run. */
function show(html: string): void {
  const parsed = new DOMParser().parseFromString(html, "text/html");
  style.replaceSync(parsed.querySelector("style")?.textContent ?? "");
  document.documentElement.className = parsed.documentElement.className;
  document.title = parsed.title;
  const body = [...parsed.body.childNodes].map((node) => document.importNode(node, true));
  document.getElementById("sheets")?.replaceChildren(...body);
  state.textContent = "";
}

function ask(): void {
  const opener = window.opener as Window | null;
  if (!opener) {
    state.textContent = "Open this page with a Print button of the local sheet.";
    return;
  }
  opener.postMessage({ kind: "ready-to-print", paper: select.value || null }, location.origin);
}

window.addEventListener("message", ({ origin, data }: MessageEvent<Sheets & { paper: string }>) => {
  if (origin !== location.origin || data.kind !== "sheets") return;
  select.value = data.paper;
  show(data.html);
});
select.onchange = ask;
(document.getElementById("print") as HTMLElement).onclick = () => window.print();
select.selectedIndex = -1;
ask();
