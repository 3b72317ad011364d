/** The first-house guide: what it types in comes to what it says. */
import fs from "node:fs";
import path from "node:path";
import { orderLines } from "../../src/core/house/order.js";
import { readHouse, takeoffHouse } from "../../src/core/house/takeoff.js";
import { houseFindings } from "../../src/core/house/checks.js";
import { crewMarks } from "../../src/core/house/marks.js";
import { FIRST_HOUSE } from "../../src/tools/build-pictures.js";

// columns are padded to stand below each other
const GUIDE = fs
  .readFileSync(path.resolve(__dirname, "../../docs/first-house.md"), "utf8")
  .replace(/ +/g, " ");
const { walls, openings, settings } = FIRST_HOUSE;
const house = takeoffHouse(walls, openings, settings);

describe("the first-house guide", () => {
  test("types in the house that is worked here", () => {
    for (const row of [...walls, ...openings]) expect(GUIDE).toContain(`| ${row.join(" | ")} |`);
    for (const [name, value] of settings) {
      expect(GUIDE).toContain(`**${String(name)}** \`${String(value)}\``);
    }
  });

  test("orders 24 panels, 3 rolls of tape and a box of nails", () => {
    const [panels, tape, nails] = orderLines(house);
    // 20 whole panels, one for each of the four 25-7/8
    expect(panels).toMatchObject({ item: "Panel", size: "48 x 96 in", order: 24 });
    // seams: 6 x 8 ft less 82 in of door and 48 in of window, 4 x 8, 6 x 8, 4 x 8; openings 22 + 16; corners 64
    expect(tape?.needed).toBeCloseTo(48 - 130 / 12 + 32 + 48 + 32 + 38 + 64, 6);
    expect(tape?.order).toBe(3);
    // whole panels 62, a 25-7/8 by 96 in one 2 x 16 + 2 x 5 + 7; the panels cut at the door keep 31 and 48 and get 19
    // and 14 round it, those at the window 48 and 53 and get 16 and 14
    const cut = 31 + 19 + 48 + 14 + 48 + 16 + 53 + 14;
    expect(nails).toMatchObject({
      size: "3 1/2 x 0.131 in",
      needed: 16 * 62 + 4 * 49 + cut,
      order: 1,
    });
    expect(GUIDE).toContain("| Nails | 3 1/2 x 0.131 in | 1431 | 1 box |");
  });

  test("breaks the south wall's panels where it says", () => {
    const wall = house.walls.find((each) => each.name === "South");
    const breaks = crewMarks(wall as NonNullable<typeof wall>, house.openings, house.settings)
      .filter((each) => each.stud.breaksHere)
      .map((each) => each.tapeText);
    // every 48 on the tape
    expect(breaks).toEqual(["4'-0\"", "8'-0\"", "12'-0\"", "16'-0\"", "20'-0\"", "24'-0\""]);
    for (const text of breaks) expect(GUIDE).toContain(text);
  });

  test("finds nothing to fix, and the corner that is made to disagree", () => {
    expect(
      houseFindings(readHouse(walls, openings, settings)).filter((each) => each.level === "fix")
    ).toEqual([]);
    const wrong = walls.map((row) => (row[0] === "South" ? [...row.slice(0, 4), "short"] : row));
    const findings = houseFindings(readHouse(wrong, openings, settings));
    expect(
      findings.some((each) => each.level === "fix" && /outside corners disagree/.test(each.finding))
    ).toBe(true);
  });

  test("asks for a shorter nail where the foam is thinner", () => {
    const thin = takeoffHouse(walls, openings, [["Foam", "3/4"], ...settings.slice(1)]);
    // 1-3/8 + 1-1/2 = 2-7/8; next stocked 3
    expect(orderLines(thin)[2]?.size).toBe("3 x 0.131 in");
    // the counts stay, as the guide says
    expect(orderLines(thin).map((each) => each.order)).toEqual([24, 3, 1]);
    expect(orderLines(house).map((each) => each.order)).toEqual([24, 3, 1]);
  });
});
