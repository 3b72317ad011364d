/** The text a formula is recognised by wherever its references have moved. */
export function formulaShape(formula: string): string {
  return formula.replace(/\$?[A-Za-z]{1,3}\$?\d+/g, "#").toUpperCase();
}
