/** Laws of the dowel equations over seeded random input. */
import fc from "fast-check";
import {
  dowelYieldModes,
  nailFoamComparison,
  nailLateral,
  nailYieldModes,
} from "../../src/core/nail-lateral.js";
import { kFormModes } from "../../src/tools/validation/dowel-k-form.js";

const SEED = 20261125;
const runs = { seed: SEED, numRuns: 500 };
const between = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true, noDefaultInfinity: true });

const joint = fc.record({
  diameterIn: between(0.05, 1),
  mainBearingIn: between(0.1, 8),
  sideBearingIn: between(0.1, 4),
  mainStrengthPsi: between(1000, 12000),
  sideStrengthPsi: between(1000, 12000),
  bendingYieldPsi: between(30000, 150000),
});

describe("yield modes", () => {
  it("the general form without a gap is the printed k1, k2, k3 form, mode by mode", () => {
    fc.assert(
      fc.property(joint, (tight) => {
        const printed = kFormModes(tight);
        dowelYieldModes({ ...tight, gapIn: 0, reduction: 1 }).forEach((row, mode) => {
          const expected = printed[mode] as number;
          expect(Math.abs(row.valueLb - expected)).toBeLessThanOrEqual(1e-9 * expected);
        });
      }),
      runs
    );
  });

  it("satisfy the equilibrium they come from: moments at the two faces balance across the gap", () => {
    fc.assert(
      fc.property(joint, between(0, 4), (tight, gapIn) => {
        const qm = tight.mainStrengthPsi * tight.diameterIn;
        const qs = tight.sideStrengthPsi * tight.diameterIn;
        const hinge = (tight.bendingYieldPsi * tight.diameterIn ** 3) / 6;
        // moment at a member's face when the dowel turns rigidly in it, and when it bends over a hinge
        const rigid = (p: number, q: number, l: number): number =>
          (p * p) / (4 * q) + (p * l) / 2 - (q * l * l) / 4;
        const bent = (p: number, q: number): number => (p * p) / (2 * q) - hinge;
        const modes = dowelYieldModes({ ...tight, gapIn, reduction: 1 });
        const at = (mode: string): number => modes.find((row) => row.mode === mode)?.valueLb ?? NaN;
        const sums = {
          II: (p: number) => rigid(p, qs, tight.sideBearingIn) + rigid(p, qm, tight.mainBearingIn),
          IIIm: (p: number) => bent(p, qs) + rigid(p, qm, tight.mainBearingIn),
          IIIs: (p: number) => rigid(p, qs, tight.sideBearingIn) + bent(p, qm),
          IV: (p: number) => bent(p, qs) + bent(p, qm),
        };
        for (const [mode, sum] of Object.entries(sums)) {
          const p = at(mode);
          const scale =
            hinge + qs * tight.sideBearingIn ** 2 + qm * tight.mainBearingIn ** 2 + p * gapIn;
          expect(Math.abs(sum(p) + p * gapIn)).toBeLessThanOrEqual(1e-9 * scale);
        }
      }),
      runs
    );
  });

  it("a wider gap never raises a mode, and lowers II, IIIm, IIIs and IV", () => {
    fc.assert(
      fc.property(joint, between(0, 3), between(0.01, 2), (tight, gapIn, wider) => {
        const near = dowelYieldModes({ ...tight, gapIn, reduction: 1 });
        const far = dowelYieldModes({ ...tight, gapIn: gapIn + wider, reduction: 1 });
        near.forEach((row, index) => {
          const farther = far[index]?.valueLb as number;
          expect(Number.isFinite(farther)).toBe(true);
          expect(farther).toBeGreaterThan(0);
          if (row.mode === "Im" || row.mode === "Is") expect(farther).toBe(row.valueLb);
          else expect(farther).toBeLessThan(row.valueLb);
        });
      }),
      runs
    );
  });

  it("scale with the lengths squared when every length grows alike", () => {
    fc.assert(
      fc.property(joint, between(0, 2), between(0.5, 3), (tight, gapIn, times) => {
        const small = dowelYieldModes({ ...tight, gapIn, reduction: 2.2 });
        const large = dowelYieldModes({
          ...tight,
          diameterIn: tight.diameterIn * times,
          mainBearingIn: tight.mainBearingIn * times,
          sideBearingIn: tight.sideBearingIn * times,
          gapIn: gapIn * times,
          reduction: 2.2,
        });
        large.forEach((row, index) => {
          const expected = (small[index]?.valueLb as number) * times ** 2;
          expect(Math.abs(row.valueLb - expected)).toBeLessThanOrEqual(1e-9 * expected);
        });
      }),
      runs
    );
  });

  it("swapping the members swaps Im with Is and IIIm with IIIs", () => {
    fc.assert(
      fc.property(joint, between(0, 2), (tight, gapIn) => {
        const one = dowelYieldModes({ ...tight, gapIn, reduction: 1 });
        const other = dowelYieldModes({
          ...tight,
          mainBearingIn: tight.sideBearingIn,
          sideBearingIn: tight.mainBearingIn,
          mainStrengthPsi: tight.sideStrengthPsi,
          sideStrengthPsi: tight.mainStrengthPsi,
          gapIn,
          reduction: 1,
        });
        [1, 0, 2, 4, 3, 5].forEach((to, from) => {
          const expected = one[from]?.valueLb as number;
          expect(Math.abs((other[to]?.valueLb as number) - expected)).toBeLessThanOrEqual(
            1e-9 * expected
          );
        });
      }),
      runs
    );
  });
});

describe("one nail", () => {
  const nail = fc
    .record({
      diameterIn: between(0.099, 0.2),
      panelIn: between(0.25, 1.25),
      foamIn: between(0, 3),
      studGravity: between(0.31, 0.73),
      panelGravity: between(0.31, 0.73),
      more: between(0.01, 2),
    })
    .map((n) => ({ ...n, lengthIn: n.panelIn + n.foamIn + 6 * n.diameterIn + n.more }));

  it("has exactly one governing mode, the least, and no NaN", () => {
    fc.assert(
      fc.property(nail, (n) => {
        const modes = nailYieldModes(
          n.lengthIn,
          n.diameterIn,
          n.panelIn,
          n.foamIn,
          n.studGravity,
          n.panelGravity
        );
        expect(modes.filter((row) => row.governs)).toHaveLength(1);
        for (const row of modes) expect(Number.isFinite(row.valueLb) && row.valueLb > 0).toBe(true);
        expect(
          nailLateral(n.lengthIn, n.diameterIn, n.panelIn, n.foamIn, n.studGravity, n.panelGravity)
        ).toBe(Math.min(...modes.map((row) => row.valueLb)));
      }),
      runs
    );
  });

  it("is worth less over more foam, longer nail or not", () => {
    fc.assert(
      fc.property(nail, between(0.05, 2), (n, thicker) => {
        const rest = [n.studGravity, n.panelGravity] as const;
        const near = nailLateral(n.lengthIn, n.diameterIn, n.panelIn, n.foamIn, ...rest);
        // the same penetration, so only the gap grows
        const far = nailLateral(
          n.lengthIn + thicker,
          n.diameterIn,
          n.panelIn,
          n.foamIn + thicker,
          ...rest
        );
        expect(far).toBeLessThanOrEqual(near * (1 + 1e-12));
      }),
      runs
    );
  });

  it("keeps a share of 1 without foam and at most 1 with it", () => {
    fc.assert(
      fc.property(nail, (n) => {
        const { share } = nailFoamComparison(
          n.lengthIn,
          n.diameterIn,
          n.panelIn,
          n.foamIn,
          n.studGravity,
          n.panelGravity
        );
        expect(share).toBeGreaterThan(0);
        expect(share).toBeLessThanOrEqual(1 + 1e-12);
      }),
      runs
    );
  });
});
