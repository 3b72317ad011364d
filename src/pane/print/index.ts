/** A house on paper: crew sheets, cut sheet, order and checks as one page, and all drawings as files. */
export { PRINT_PAGE, type TakeoffFile, fileSlug, takeoffFiles } from "./files.js";
export type { PrintedFinding } from "./list-pages.js";
export {
  type PrintOptions,
  type PrintPart,
  PRINT_PARTS,
  printSections,
  printableHtml,
} from "./printable.js";
export { type Paper, PAPERS, PRINT_STYLE } from "./style.js";
