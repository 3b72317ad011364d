/** File and folder names that every common system takes. */

/**
 * Longest name, in bytes of UTF-8 without its ending: most systems stop at 255, and a copy or a temporary file adds to
 * it; common practice, no source.
 */
const LONGEST_NAME = 120;

/** Names that Windows keeps for devices, with any ending. */
const DEVICES = /^(?:con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])(?:\.|$)/i;

/**
 * A name as near to what was typed as a file can have: letters of any script stay; what some system forbids becomes a
 * blank or a dash. "" where nothing is left.
 */
export function safeFileName(typed: string): string {
  const name = typed
    .normalize("NFC")
    // marks that turn the direction of writing would make a name read as another one
    .replace(/[\u0000-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]+/g, " ")
    .replace(/[<>:"/\\|?*]+/g, "-")
    .replace(/\s+/g, " ")
    // a lone half of a letter cannot be written
    .replace(/[\ud800-\udfff]/gu, "")
    .replace(/^[\s.~-]+|[\s.-]+$/g, "");
  const short = shortened(name);
  return DEVICES.test(short) ? `_${short}` : short;
}

function shortened(name: string): string {
  if (Buffer.byteLength(name) <= LONGEST_NAME) return name;
  let kept = "";
  for (const letter of name) {
    if (Buffer.byteLength(kept + letter) > LONGEST_NAME) break;
    kept += letter;
  }
  return kept.replace(/[\s.-]+$/, "");
}

/** What two names have in common where a file system takes them for one: case and how accents are written. */
export function nameIdentity(name: string): string {
  return name.normalize("NFC").toLowerCase();
}

/** Hands out names, each once; the second Lot 4 becomes Lot 4-2. */
export class NameGiver {
  private readonly taken = new Set<string>();

  give(wanted: string): string {
    let name = wanted;
    for (let number = 2; this.taken.has(nameIdentity(name)); number++) name = `${wanted}-${number}`;
    this.taken.add(nameIdentity(name));
    return name;
  }
}
