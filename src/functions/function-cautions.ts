/** Which caution goes with which worksheet function, wherever its answer is shown. */
import { MOISTURE_CAUTION, STRUCTURAL_CAUTION } from "../core/cautions.js";

/** Nails, nailing, penetration and lateral values; a house's order and checks hold both kinds. */
const STRUCTURAL = /^(?:NAIL|STOCK_NAIL|HOUSE_(?:ORDER|WALLS|CHECKS)$)/;
/** R, U, dew point, foam temperature, vapor retarder and heat. */
const MOISTURE =
  /^(?:FOAM_R|FOAM_FACE|WALL_R|WALL_U|BRIDGING|DEW_POINT|VAPOR|HEAT_SAVED|HOUSE_(?:WALL_R|CHECKS)$)/;

/** The cautions of one function, by its worksheet name; none for a plain sum of lengths. */
export function functionCautions(name: string): readonly string[] {
  return [
    ...(STRUCTURAL.test(name) ? [STRUCTURAL_CAUTION] : []),
    ...(MOISTURE.test(name) ? [MOISTURE_CAUTION] : []),
  ];
}
