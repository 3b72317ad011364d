/// <reference lib="dom" />
import type { PaneHost } from "./host.js";
export interface Pane { themeChanged(): void }
export function mountPane(root: HTMLElement, host: PaneHost): Pane {
  host.onChange(() => {
    void host.readHouse(new AbortController().signal).then((reading) => {
      root.textContent = reading.problem ?? reading.order?.map((l) => `${l.item} ${l.size} ${l.order}`).join("\n") ?? "";
    });
  });
  return { themeChanged: () => undefined };
}
