/** What the commands share in reading their arguments. */

/** Arguments that make no sense; the command shows its usage and ends with 2. */
export class UsageError extends Error {}

/** The value of an option typed as --out DIR or --out=DIR, and where the next argument stands before its step. */
export function optionValue(
  name: string,
  args: readonly string[],
  at: number,
  what: string
): { value: string; next: number } {
  const arg = args[at] as string;
  const isApart = arg === name;
  const value = isApart ? args[at + 1] : arg.slice(name.length + 1);
  if (value === undefined || value === "") throw new UsageError(`${name} needs ${what}`);
  return { value, next: isApart ? at + 1 : at };
}
