/** The spreadsheet's own API, types only; on the page it comes from the script the host asks for. */
/// <reference types="office-js" />
