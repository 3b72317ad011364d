/**
 * Unpacks deflated data (RFC 1951) into a buffer of the size it claims to have, and not one byte more: a file that
 * claims less than it unpacks to is stopped at once. The built-in unpackers of the hosts have no such limit in common.
 */

export class InflateError extends Error {
  constructor(message: string) {
    super(message);
    this.name = "InflateError";
  }
}

/** Base lengths and extra bits of length codes 257..285 (RFC 1951, 3.2.5). */
const LENGTH_BASE = [
  3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 17, 19, 23, 27, 31, 35, 43, 51, 59, 67, 83, 99, 115, 131,
  163, 195, 227, 258,
];
const LENGTH_EXTRA = [
  0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0,
];
/** Base distances and extra bits of distance codes 0..29 (RFC 1951, 3.2.5). */
const DISTANCE_BASE = [
  1, 2, 3, 4, 5, 7, 9, 13, 17, 25, 33, 49, 65, 97, 129, 193, 257, 385, 513, 769, 1025, 1537, 2049,
  3073, 4097, 6145, 8193, 12289, 16385, 24577,
];
const DISTANCE_EXTRA = [
  0, 0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7, 8, 8, 9, 9, 10, 10, 11, 11, 12, 12, 13, 13,
];
/** Order in which the lengths of the code-length codes are stored (RFC 1951, 3.2.7). */
const CODE_LENGTH_ORDER = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];
/** Longest code, bits. */
const LONGEST = 15;

interface Codes {
  /** how many codes there are of each length */
  readonly counts: Uint16Array;
  /** symbols in the order of their codes */
  readonly symbols: Uint16Array;
}

function codesOf(lengths: readonly number[]): Codes {
  const counts = new Uint16Array(LONGEST + 1);
  for (const length of lengths) counts[length]!++;
  counts[0] = 0;
  const offsets = new Uint16Array(LONGEST + 2);
  for (let length = 1; length <= LONGEST; length++) {
    offsets[length + 1] = offsets[length]! + counts[length]!;
  }
  const symbols = new Uint16Array(lengths.length);
  lengths.forEach((length, symbol) => {
    if (length !== 0) symbols[offsets[length]!++] = symbol;
  });
  return { counts, symbols };
}

let fixed: { lengths: Codes; distances: Codes } | undefined;

function fixedCodes(): { lengths: Codes; distances: Codes } {
  if (!fixed) {
    const lengths: number[] = [];
    for (let symbol = 0; symbol < 288; symbol++) {
      lengths.push(symbol < 144 ? 8 : symbol < 256 ? 9 : symbol < 280 ? 7 : 8);
    }
    fixed = { lengths: codesOf(lengths), distances: codesOf(new Array<number>(30).fill(5)) };
  }
  return fixed;
}

/**
 * @param data deflated bytes
 * @param size bytes they must unpack to
 * @throws {InflateError} where the data are damaged or unpack to another size
 */
export function inflate(data: Uint8Array, size: number): Uint8Array {
  const out = new Uint8Array(size);
  let filled = 0;
  let at = 0;
  let held = 0;
  let heldBits = 0;

  const bits = (count: number): number => {
    while (heldBits < count) {
      if (at >= data.length) throw new InflateError("the packed data are cut short");
      held |= data[at++]! << heldBits;
      heldBits += 8;
    }
    const value = held & ((1 << count) - 1);
    held >>>= count;
    heldBits -= count;
    return value;
  };

  const symbol = (codes: Codes): number => {
    let code = 0;
    let first = 0;
    let index = 0;
    for (let length = 1; length <= LONGEST; length++) {
      if (heldBits === 0) {
        if (at >= data.length) throw new InflateError("the packed data are cut short");
        held = data[at++]!;
        heldBits = 8;
      }
      code |= held & 1;
      held >>>= 1;
      heldBits--;
      const count = codes.counts[length]!;
      if (code - count < first) return codes.symbols[index + (code - first)]!;
      index += count;
      first = (first + count) << 1;
      code <<= 1;
    }
    throw new InflateError("the packed data hold an unknown code");
  };

  const room = (count: number): void => {
    if (filled + count > size) throw new InflateError("it unpacks to more than it says");
  };

  const stored = (): void => {
    held = 0;
    heldBits = 0;
    if (at + 4 > data.length) throw new InflateError("the packed data are cut short");
    const length = data[at]! | (data[at + 1]! << 8);
    at += 4;
    if (at + length > data.length) throw new InflateError("the packed data are cut short");
    room(length);
    out.set(data.subarray(at, at + length), filled);
    filled += length;
    at += length;
  };

  const block = (lengths: Codes, distances: Codes): void => {
    for (;;) {
      const code = symbol(lengths);
      if (code === 256) return;
      if (code < 256) {
        room(1);
        out[filled++] = code;
        continue;
      }
      const length = LENGTH_BASE[code - 257];
      if (length === undefined) throw new InflateError("the packed data hold an unknown code");
      const count = length + bits(LENGTH_EXTRA[code - 257]!);
      const far = symbol(distances);
      const base = DISTANCE_BASE[far];
      if (base === undefined) throw new InflateError("the packed data hold an unknown code");
      const distance = base + bits(DISTANCE_EXTRA[far]!);
      if (distance > filled) throw new InflateError("the packed data point before their start");
      room(count);
      for (let index = 0; index < count; index++) {
        out[filled] = out[filled - distance]!;
        filled++;
      }
    }
  };

  const dynamic = (): void => {
    const lengthCount = bits(5) + 257;
    const distanceCount = bits(5) + 1;
    const codeCount = bits(4) + 4;
    const codeLengths = new Array<number>(19).fill(0);
    for (let index = 0; index < codeCount; index++) {
      codeLengths[CODE_LENGTH_ORDER[index]!] = bits(3);
    }
    const codes = codesOf(codeLengths);
    const lengths: number[] = [];
    while (lengths.length < lengthCount + distanceCount) {
      const code = symbol(codes);
      if (code < 16) {
        lengths.push(code);
        continue;
      }
      const previous = lengths[lengths.length - 1];
      if (code === 16 && previous === undefined)
        throw new InflateError("the packed data are damaged");
      const repeat = code === 16 ? 3 + bits(2) : code === 17 ? 3 + bits(3) : 11 + bits(7);
      for (let index = 0; index < repeat; index++) lengths.push(code === 16 ? previous! : 0);
    }
    if (lengths.length > lengthCount + distanceCount) {
      throw new InflateError("the packed data are damaged");
    }
    block(codesOf(lengths.slice(0, lengthCount)), codesOf(lengths.slice(lengthCount)));
  };

  for (let last = 0; last === 0;) {
    last = bits(1);
    const kind = bits(2);
    if (kind === 0) stored();
    else if (kind === 1) block(fixedCodes().lengths, fixedCodes().distances);
    else if (kind === 2) dynamic();
    else throw new InflateError("the packed data are of an unknown kind");
  }
  if (filled !== size) throw new InflateError("it unpacks to less than it says");
  return out;
}
