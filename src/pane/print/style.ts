/** Style of the printed sheets: black on white, letter or A4, page numbers, one wall to a page. */

export type Paper = "letter" | "a4";
export const PAPERS: readonly Paper[] = ["letter", "a4"];

export const PRINT_STYLE = `
@page { size: letter portrait; margin: 0.5in; }
@page letter-sheet { size: letter portrait; margin: 0.5in 0.5in 0.55in;
  @bottom-right { content: "page " counter(page) " of " counter(pages); font: 8pt sans-serif; color: #333; } }
@page a4-sheet { size: A4 portrait; margin: 12.7mm 12.7mm 14mm;
  @bottom-right { content: "page " counter(page) " of " counter(pages); font: 8pt sans-serif; color: #333; } }
* { box-sizing: border-box; }
html { font: 10pt/1.3 system-ui, "DejaVu Sans", Arial, sans-serif; color: #000; background: #fff; -webkit-text-size-adjust: 100%; }
body { margin: 0; }
h1, h2, h3, p, ol, ul, figure, table { margin: 0; padding: 0; }
h1 { font-size: 16pt; line-height: 1.15; overflow-wrap: anywhere; }
h2 { font-size: 10.5pt; margin: 4pt 0 2pt; border-bottom: 0.75pt solid #000; break-after: avoid; overflow-wrap: anywhere; }
ol, ul { list-style: none; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: 1.5pt 5pt 1.5pt 0; border-bottom: 0.5pt solid #999; overflow-wrap: anywhere; }
th { font-size: 8.5pt; border-bottom: 0.75pt solid #000; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
td.number, th.number { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
svg { display: block; max-width: 100%; height: auto; }
.drawing svg { width: 100%; }
.sheet { break-after: page; }
.sheet:last-child { break-after: auto; }
.paper-letter .sheet { page: letter-sheet; }
.paper-a4 .sheet { page: a4-sheet; }
.head { display: flex; justify-content: space-between; align-items: baseline; gap: 12pt; border-bottom: 1.5pt solid #000; padding-bottom: 2pt; margin-bottom: 4pt; }
.head p { font-size: 9pt; text-align: right; overflow-wrap: anywhere; }
.first-step { border: 1.5pt solid #000; padding: 2pt 6pt; margin-bottom: 3pt; font-size: 9.5pt; line-height: 1.25; }
.first-step strong { font-size: 12.5pt; }
.hint { font-size: 8.5pt; }
.marks { columns: 3; column-gap: 9pt; column-rule: 0.5pt solid #999; }
.marks.raked { columns: 2; }
.marks.full { columns: 4; }
.marks.full .tape { font-size: 16pt; }
.marks.full .note { font-size: 8pt; }
.marks.full.raked { columns: 3; }
.marks li { break-inside: avoid; display: flex; flex-wrap: wrap; align-items: baseline; gap: 0 4pt; border-bottom: 0.5pt solid #bbb; line-height: 1.15; padding: 0.5pt 0; }
.marks .mark { flex: 0 0 auto; min-width: 14pt; font-size: 8pt; text-align: right; }
.marks .tape { flex: 0 0 auto; font-size: 13.5pt; font-variant-numeric: tabular-nums; white-space: nowrap; }
.marks .breaks .tape { font-weight: bold; text-decoration: underline; text-decoration-thickness: 1.5pt; text-underline-offset: 1.5pt; }
.marks .note { font-size: 7pt; line-height: 1; overflow-wrap: break-word; }
.columns { display: flex; gap: 0 14pt; align-items: flex-start; }
.columns > .wide { flex: 1.6 1 0; min-width: 0; }
.columns > .half { flex: 1 1 0; min-width: 0; }
.columns > .narrow { flex: 1 1 0; min-width: 0; }
.facts li { padding: 0.75pt 0 0.75pt 8pt; text-indent: -8pt; font-size: 8pt; line-height: 1.2; overflow-wrap: anywhere; }
.facts li::before { content: "\\2022\\00a0"; }
.openings .facts { columns: 2; column-gap: 14pt; }
.openings .facts li { break-inside: avoid; }
.piece-list { columns: 4; column-gap: 10pt; font-size: 7.5pt; line-height: 1.2; }
.piece-list li { break-inside: avoid; overflow-wrap: anywhere; }
.cautions { break-inside: avoid; font-size: 7pt; line-height: 1.15; margin-top: 5pt; border-top: 0.5pt solid #000; padding-top: 2pt; }
.cuts svg { width: 100%; }
.cuts { display: grid; gap: 8pt; align-items: start; }
.cuts.of-2, .cuts.of-4 { grid-template-columns: 1fr 1fr; }
.cuts.of-3, .cuts.of-5, .cuts.of-6 { grid-template-columns: 1fr 1fr 1fr; }
.cuts figure { break-inside: avoid; min-width: 0; }
.cuts .steps { columns: 2; column-gap: 6pt; font-size: 7.5pt; line-height: 1.2; }
.cuts.of-1 .steps { columns: 4; font-size: 10pt; }
.whole { white-space: nowrap; }
.cuts .laid { font-size: 7pt; line-height: 1.15; font-weight: bold; overflow-wrap: anywhere; }
.cuts.of-1 .laid { font-size: 10pt; }
.cuts .steps li { break-inside: avoid; padding-left: 13pt; text-indent: -13pt; }
.cuts .steps b { display: inline-block; min-width: 10pt; text-indent: 0; text-align: right; margin-right: 3pt; }
.order td { font-size: 11pt; padding-top: 3pt; padding-bottom: 3pt; }
td.short { white-space: nowrap; }
.order td.buy { font-size: 15pt; font-weight: bold; }
.order td.note { font-size: 9pt; }
.summary td, .summary th { font-size: 8.5pt; }
.finding { break-inside: avoid; padding: 2.5pt 0; border-bottom: 0.5pt solid #bbb; font-size: 9.5pt; }
.finding .what { display: block; font-size: 9pt; padding-left: 10pt; }
.checks .cautions { font-size: 10pt; line-height: 1.35; break-inside: auto; border: 0; margin: 0; }
.checks .cautions li { break-inside: avoid; padding: 3pt 0; }
@media screen {
  body { background: #ddd; padding: 12px; }
  .sheet { background: #fff; max-width: 8.5in; margin: 0 auto 12px; padding: 0.5in; box-shadow: 0 1px 3px #0006; }
}
@media screen and (max-width: 700px) {
  body { padding: 0; }
  .sheet { padding: 12px; }
  .head { display: block; }
  .head p { text-align: left; }
  .drawing { overflow-x: auto; }
  .drawing svg { width: 696px; max-width: none; }
  .columns { display: block; }
  .marks, .marks.raked { columns: 2; }
  .piece-list { columns: 2; }
  .cuts.of-2, .cuts.of-3, .cuts.of-4, .cuts.of-5, .cuts.of-6 { grid-template-columns: 1fr; }
  .table { overflow-x: auto; }
}
`;
