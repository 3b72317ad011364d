/** The first-house guide: what it types in comes to what it says. */
import fs from "node:fs";
import path from "node:path";
import { orderLines } from "../../src/core/house/order.js";
import { takeoffHouse } from "../../src/core/house/takeoff.js";
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

  test("orders 22 panels, 3 rolls of tape and a box of nails", () => {
    const [panels, tape, nails] = orderLines(house);
    // 16 whole panels, four for the 32s, two for the four 17-7/16
    expect(panels).toMatchObject({ item: "Panel", size: "48 x 96 in", order: 22 });
    // seams: 6 x 8 ft less 82 in of door and 48 in of window, 4 x 8, 6 x 8, 4 x 8; openings 22 + 16; corners 64
    expect(tape?.needed).toBeCloseTo(48 - 130 / 12 + 32 + 48 + 32 + 38 + 64, 6);
    expect(tape?.order).toBe(3);
    expect(nails).toMatchObject({ size: "3 x 0.131 in", needed: 1343, order: 1 });
    expect(GUIDE).toContain("| Nails | 3 x 0.131 in | 1343 | 1 box |");
  });

  test("breaks the south wall's panels where it says", () => {
    const wall = house.walls.find((each) => each.name === "South");
    const breaks = crewMarks(wall as NonNullable<typeof wall>, house.openings, house.settings)
      .filter((each) => each.stud.breaksHere)
      .map((each) => each.tapeText);
    // 48 k, the last one stud space back
    expect(breaks).toEqual(["4'-0\"", "8'-0\"", "12'-0\"", "16'-0\"", "20'-0\"", "22'-8\""]);
    for (const text of breaks) expect(GUIDE).toContain(text);
  });

  test("finds nothing to fix, and the corner that is made to disagree", () => {
    expect(houseFindings(walls, openings, settings).filter((each) => each.level === "fix")).toEqual(
      []
    );
    const wrong = walls.map((row) => (row[0] === "South" ? [...row.slice(0, 4), "short"] : row));
    const findings = houseFindings(wrong, openings, settings);
    expect(
      findings.some((each) => each.level === "fix" && /outside corners disagree/.test(each.finding))
    ).toBe(true);
  });

  test("asks for the next longer nail where the foam is thicker", () => {
    const thick = takeoffHouse(walls, openings, [["Foam", "1 1/2"], ...settings.slice(1)]);
    // 1-15/16 + 1-1/2 = 3-7/16; next stocked 3-1/2
    expect(orderLines(thick)[2]?.size).toBe("3 1/2 x 0.131 in");
    // the counts stay, as the guide says
    expect(orderLines(thick).map((each) => each.order)).toEqual([22, 3, 1]);
    expect(orderLines(house).map((each) => each.order)).toEqual([22, 3, 1]);
  });
});
