/** Drawings of a house as SVG text, and what they say in words. Pure: no page, no files. */
export {
  type CutDrawingOptions,
  type CutStep,
  type LaidPiece,
  type SheetView,
  cutDrawing,
  sheetView,
} from "./cut-drawing.js";
export {
  type Burn,
  type MarkRow,
  type MarksTable,
  type PiecePlace,
  type WallGroup,
  builtWall,
  burnOf,
  copyName,
  inches,
  marksOf,
  piecePlaces,
  pieceSize,
  sheetNames,
  sheetText,
  shortName,
  thicknessText,
  wallGroups,
  wallMarksTable,
} from "./house-view.js";
export { escapeText, shortened, textWidth, wrapped } from "./svg.js";
export { type Theme, THEMES, drawingVariables } from "./theme.js";
export {
  type WallDrawingOptions,
  WIDTH_LIMITS,
  drawBuiltWall,
  wallDrawing,
} from "./wall-drawing.js";
