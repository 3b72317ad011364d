/** Published conversion factors and the nearest-fraction rule. */
import { MM_PER_INCH, feetInches, inchText } from "../../core/units.js";
import { casesOf, type ValidationRow } from "./row.js";

const LENGTHS = "Units and fractions";
const NIST = "NIST SP 811 Appendix B";
/** Exact by definition: kg in a pound, standard gravity m/s2, J in an international-table Btu. */
const KG_PER_LB = 0.45359237;
const GRAVITY = 9.80665;
const J_PER_BTU = 1055.05585262;
const M_PER_IN = MM_PER_INCH / 1000;
const M_PER_FT = 12 * M_PER_IN;
const N_PER_LB = KG_PER_LB * GRAVITY;
const K_PER_F = 5 / 9;
const S_PER_H = 3600;
const FT_PER_MILE = 5280;

function factor(
  id: string,
  quantity: string,
  published: number,
  ours: number,
  note?: string
): ValidationRow {
  return {
    id,
    section: LENGTHS,
    quantity: `factor, ${quantity}`,
    unit: "",
    source: NIST,
    confirmed: "recomputed",
    cases: [{ of: quantity, published, ours: () => ours }],
    tolerance: 1e-6,
    why: "the published factor is rounded; ours comes from the exact inch, pound, gravity and Btu",
    ...(note === undefined ? {} : { note }),
  };
}

const UNUSED = "No function here uses it; it stands for the figures quoted in other units.";

export const lengthRows: readonly ValidationRow[] = [
  factor("u-in-mm", "in to mm", 25.4, MM_PER_INCH),
  factor("u-ft-m", "ft to m", 0.3048, M_PER_FT),
  factor("u-ft2-m2", "ft2 to m2", 0.09290304, M_PER_FT ** 2, UNUSED),
  factor("u-lbf-N", "lbf to N", 4.4482216152605, N_PER_LB, UNUSED),
  factor("u-psi-Pa", "psi to Pa", 6894.757293168361, N_PER_LB / M_PER_IN ** 2, UNUSED),
  factor("u-psf-Pa", "psf to Pa", 47.88025898033584, N_PER_LB / M_PER_FT ** 2, UNUSED),
  factor("u-plf-N/m", "plf to N/m", 14.593902937206364, N_PER_LB / M_PER_FT, UNUSED),
  factor(
    "u-R",
    "R, h ft2 F/Btu to m2 K/W",
    0.1761101838,
    (S_PER_H * M_PER_FT ** 2 * K_PER_F) / J_PER_BTU,
    UNUSED
  ),
  factor(
    "u-U",
    "U, Btu/(h ft2 F) to W/(m2 K)",
    5.678263341,
    J_PER_BTU / (S_PER_H * M_PER_FT ** 2 * K_PER_F),
    UNUSED
  ),
  factor("u-mph-m/s", "mph to m/s", 0.44704, (FT_PER_MILE * M_PER_FT) / S_PER_H, UNUSED),
  factor("u-lb-kg", "lb to kg", 0.45359237, KG_PER_LB, UNUSED),
  {
    id: "frac",
    section: LENGTHS,
    quantity: "inches to the nearest 1/16",
    unit: "in",
    source:
      "US Navy Builder training manual 14044: .5 and over rounds up to the next 1/16; figures are arithmetic",
    confirmed: "seen",
    cases: casesOf(
      [111.12, 9.3333, 10.6667, 182.79, 15.25],
      ["111 1/8", "9 5/16", "10 11/16", "182 13/16", "15 1/4"],
      (inches) => `${inches}`,
      (inches) => inchText(inches)
    ),
    tolerance: 0,
    why: "text",
  },
  {
    id: "frac2",
    section: LENGTHS,
    quantity: "carry and reduce at 1/16",
    unit: "",
    source: "edge cases of the same rule, worked by hand",
    confirmed: "recomputed",
    cases: [
      { of: "11 31/32 in", published: "1'-0\"", ours: () => feetInches(11 + 31 / 32) },
      { of: "5 ft 11 31/32 in", published: "6'-0\"", ours: () => feetInches(71 + 31 / 32) },
      { of: "8/16 in", published: "1/2", ours: () => inchText(8 / 16) },
      {
        of: "-(15 1/32) in, half away from zero",
        published: "-15 1/16",
        ours: () => inchText(-(15 + 1 / 32)),
      },
    ],
    tolerance: 0,
    why: "text",
  },
];
