/**
 * Reading and writing the zip container of a workbook, guarded against files made to exhaust the machine: the
 * declared sizes are limited, and no entry may unpack to more than it declares.
 */
import { compressSync } from "@cj-tech-master/excelts/archive";
import { inflate, InflateError } from "./inflate.js";
import { WorkbookError } from "./values.js";

/** Most that all entries of a workbook may unpack to, bytes. A house workbook unpacks to under 2 MB. */
export const MOST_BYTES = 200 * 1024 * 1024;
/** Most entries a workbook may have. */
export const MOST_ENTRIES = 5000;

export interface ZipEntry {
  readonly path: string;
  /** 0 stored, 8 deflated */
  readonly method: number;
  readonly crc: number;
  readonly size: number;
  readonly compressed: Uint8Array;
}

const END_RECORD = 0x06054b50;
const CENTRAL_RECORD = 0x02014b50;
const LOCAL_RECORD = 0x04034b50;

function damaged(detail: string): WorkbookError {
  return new WorkbookError(`the file is damaged or is not an .xlsx workbook (${detail})`);
}

/** The entries of a zip file, still compressed. */
export function readEntries(bytes: Uint8Array): ZipEntry[] {
  if (bytes.length < 22) throw damaged("it is too short");
  if (bytes[0] === 0xd0 && bytes[1] === 0xcf && bytes[2] === 0x11 && bytes[3] === 0xe0) {
    throw new WorkbookError(
      "the file is an older .xls workbook or is protected by a password; save it as .xlsx without a password"
    );
  }
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = findEnd(view);
  const count = view.getUint16(end + 10, true);
  let at = view.getUint32(end + 16, true);
  if (count === 0xffff || at === 0xffffffff) {
    throw new WorkbookError("the workbook is too large to open here");
  }
  if (count > MOST_ENTRIES) {
    throw new WorkbookError(`the workbook has ${count} parts; at most ${MOST_ENTRIES} are read`);
  }
  const entries: ZipEntry[] = [];
  let total = 0;
  for (let index = 0; index < count; index++) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== CENTRAL_RECORD) {
      throw damaged("its list of parts is cut short");
    }
    const flags = view.getUint16(at + 8, true);
    const method = view.getUint16(at + 10, true);
    const crc = view.getUint32(at + 16, true);
    const packed = view.getUint32(at + 20, true);
    const size = view.getUint32(at + 24, true);
    const nameLength = view.getUint16(at + 28, true);
    const local = view.getUint32(at + 42, true);
    const path = new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameLength));
    at += 46 + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    if (flags & 1)
      throw new WorkbookError("the workbook is protected by a password; save it without one");
    if (method !== 0 && method !== 8) throw damaged(`part ${path} is packed in an unknown way`);
    total += size;
    if (total > MOST_BYTES) {
      const limit = MOST_BYTES / 1024 / 1024;
      throw new WorkbookError(`the workbook unpacks to more than ${limit} MB; it is not opened`);
    }
    if (local + 30 > bytes.length || view.getUint32(local, true) !== LOCAL_RECORD) {
      throw damaged(`part ${path} is missing`);
    }
    const start = local + 30 + view.getUint16(local + 26, true) + view.getUint16(local + 28, true);
    if (start + packed > bytes.length) throw damaged(`part ${path} is cut short`);
    const compressed = bytes.subarray(start, start + packed);
    entries.push({ path: path.replace(/\\/g, "/"), method, crc, size, compressed });
  }
  return entries;
}

function findEnd(view: DataView): number {
  // The record is followed by a comment of at most 65,535 bytes.
  const first = Math.max(0, view.byteLength - 22 - 0xffff);
  for (let at = view.byteLength - 22; at >= first; at--) {
    if (view.getUint32(at, true) === END_RECORD) return at;
  }
  throw damaged("it has no list of parts");
}

/** The content of an entry. */
export function unpack(entry: ZipEntry): Uint8Array {
  if (entry.method === 0) {
    if (entry.compressed.length !== entry.size)
      throw damaged(`part ${entry.path} has the wrong size`);
    return entry.compressed;
  }
  let content: Uint8Array;
  try {
    content = inflate(entry.compressed, entry.size);
  } catch (error) {
    if (error instanceof InflateError) throw damaged(`part ${entry.path}: ${error.message}`);
    throw error;
  }
  if (crc32(content) !== entry.crc) throw damaged(`part ${entry.path} does not match its checksum`);
  return content;
}

/** An entry from content. */
export function pack(path: string, content: Uint8Array): ZipEntry {
  const compressed = compressSync(content, { level: 6 });
  const smaller = compressed.length < content.length;
  return {
    path,
    method: smaller ? 8 : 0,
    crc: crc32(content),
    size: content.length,
    compressed: smaller ? compressed : content,
  };
}

/** A zip file of entries, in order. The same entries give the same bytes: no clock is read. */
export function writeEntries(entries: readonly ZipEntry[]): Uint8Array {
  const encoder = new TextEncoder();
  const names = entries.map((entry) => encoder.encode(entry.path));
  const bodies = entries.reduce(
    (sum, entry, i) => sum + 30 + names[i]!.length + entry.compressed.length,
    0
  );
  const central = names.reduce((sum, name) => sum + 46 + name.length, 0);
  const bytes = new Uint8Array(bodies + central + 22);
  const view = new DataView(bytes.buffer);
  const offsets: number[] = [];
  let at = 0;
  const common = (entry: ZipEntry, nameLength: number, from: number): void => {
    view.setUint16(from, 20, true);
    view.setUint16(from + 2, 0x0800, true);
    view.setUint16(from + 4, entry.method, true);
    view.setUint16(from + 6, 0, true);
    // 1 January 1980, the first day a zip file can name
    view.setUint16(from + 8, 0x21, true);
    view.setUint32(from + 10, entry.crc, true);
    view.setUint32(from + 14, entry.compressed.length, true);
    view.setUint32(from + 18, entry.size, true);
    view.setUint16(from + 22, nameLength, true);
  };
  entries.forEach((entry, index) => {
    const name = names[index]!;
    offsets.push(at);
    view.setUint32(at, LOCAL_RECORD, true);
    common(entry, name.length, at + 4);
    bytes.set(name, at + 30);
    bytes.set(entry.compressed, at + 30 + name.length);
    at += 30 + name.length + entry.compressed.length;
  });
  const start = at;
  entries.forEach((entry, index) => {
    const name = names[index]!;
    view.setUint32(at, CENTRAL_RECORD, true);
    view.setUint16(at + 4, 20, true);
    common(entry, name.length, at + 6);
    view.setUint32(at + 42, offsets[index]!, true);
    bytes.set(name, at + 46);
    at += 46 + name.length;
  });
  view.setUint32(at, END_RECORD, true);
  view.setUint16(at + 8, entries.length, true);
  view.setUint16(at + 10, entries.length, true);
  view.setUint32(at + 12, at - start, true);
  view.setUint32(at + 16, start, true);
  return bytes;
}

let table: Uint32Array | undefined;

/** The checksum zip files use (CRC-32, polynomial EDB88320 reflected). */
export function crc32(bytes: Uint8Array): number {
  if (!table) {
    table = new Uint32Array(256);
    for (let index = 0; index < 256; index++) {
      let value = index;
      for (let bit = 0; bit < 8; bit++)
        value = value & 1 ? (value >>> 1) ^ 0xedb88320 : value >>> 1;
      table[index] = value >>> 0;
    }
  }
  let crc = 0xffffffff;
  for (let at = 0; at < bytes.length; at++) crc = (crc >>> 8) ^ table[(crc ^ bytes[at]!) & 255]!;
  return (crc ^ 0xffffffff) >>> 0;
}
