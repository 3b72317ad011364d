/** The spreadsheet's own API, types only; on the page it comes from the script the host asks for. */
// eslint-disable-next-line @typescript-eslint/triple-slash-reference -- the package has no types entry to import
/// <reference path="../../node_modules/@microsoft/office-js/dist/office.d.ts" />
