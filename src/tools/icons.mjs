/**
 * The add-in's icons, drawn here: a corner of two panels seen from above, foam inside wood, in the sizes the host asks
 * for. PNG is written by hand: a header, the rows packed, an end (ISO/IEC 15948).
 */
import fs from "node:fs";
import path from "node:path";
import { deflateSync } from "node:zlib";

export const ICON_SIZES = [16, 20, 24, 32, 40, 48, 64, 80, 128];

/** Samples a pixel's edge is cut into; smooths slanted and in-between edges. */
const SAMPLES = 4;

const WOOD = [139, 122, 102];
const FOAM = [226, 222, 212];
const STUD = [82, 96, 109];

/** Rectangles in a field of 32 x 32, later ones on top: x, y, width, height, color. */
const SHAPES = [
  // the wall that runs past: wood outside, foam inside
  [3, 3, 5, 26, WOOD],
  [8, 3, 7, 26, FOAM],
  // the neighbor that butts against it
  [15, 3, 14, 5, WOOD],
  [15, 8, 14, 7, FOAM],
  // studs of both
  [18, 18, 5, 11, STUD],
  [24, 18, 5, 5, STUD],
];
const FIELD = 32;

/** Pixels of an icon, four bytes each: red, green, blue, alpha. */
function pixels(size) {
  const bytes = Buffer.alloc(size * size * 4);
  for (let y = 0; y < size; y++) {
    for (let x = 0; x < size; x++) {
      const sum = [0, 0, 0];
      let covered = 0;
      for (let sample = 0; sample < SAMPLES * SAMPLES; sample++) {
        const px = ((x + ((sample % SAMPLES) + 0.5) / SAMPLES) * FIELD) / size;
        const py = ((y + (Math.floor(sample / SAMPLES) + 0.5) / SAMPLES) * FIELD) / size;
        const shape = SHAPES.findLast(
          ([left, top, width, height]) =>
            px >= left && px < left + width && py >= top && py < top + height
        );
        if (!shape) continue;
        covered++;
        shape[4].forEach((part, index) => (sum[index] += part));
      }
      const at = (y * size + x) * 4;
      if (covered > 0)
        sum.forEach((part, index) => (bytes[at + index] = Math.round(part / covered)));
      bytes[at + 3] = Math.round((covered * 255) / (SAMPLES * SAMPLES));
    }
  }
  return bytes;
}

function checksum(bytes) {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return (crc ^ 0xffffffff) >>> 0;
}

function chunk(type, data) {
  const body = Buffer.concat([Buffer.from(type, "latin1"), data]);
  const out = Buffer.alloc(body.length + 8);
  out.writeUInt32BE(data.length, 0);
  body.copy(out, 4);
  out.writeUInt32BE(checksum(body), body.length + 4);
  return out;
}

/** An icon as a PNG file; the same size gives the same bytes. */
export function icon(size) {
  const header = Buffer.alloc(13);
  header.writeUInt32BE(size, 0);
  header.writeUInt32BE(size, 4);
  // 8 bits a channel, red green blue alpha
  header.set([8, 6, 0, 0, 0], 8);
  const from = pixels(size);
  const rows = Buffer.alloc(size * (size * 4 + 1));
  for (let y = 0; y < size; y++) {
    from.copy(rows, y * (size * 4 + 1) + 1, y * size * 4, (y + 1) * size * 4);
  }
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", header),
    chunk("IDAT", deflateSync(rows, { level: 9 })),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

export function writeIcons(folder) {
  fs.mkdirSync(folder, { recursive: true });
  for (const size of ICON_SIZES)
    fs.writeFileSync(path.join(folder, `icon-${size}.png`), icon(size));
}
