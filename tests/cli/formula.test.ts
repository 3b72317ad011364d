import fs from "node:fs";
import path from "node:path";
import { emptyFolder, removeFolders, run } from "./run.js";

jest.setTimeout(120_000);
afterAll(removeFolders);

describe("npm run formula", () => {
  test("prints one value", async () => {
    // 1-1/4 + 5/8; at a right angle the offset is the thickness
    const ran = await run("formula", ['=SHEATH.CORNER_OFFSET("1-1/4", "5/8")']);
    expect(ran).toMatchObject({ code: 0, out: "1.875\n" });
  });

  test("takes formulas with or without the sign, in either spelling, built in or ours", async () => {
    const ran = await run("formula", [
      'SHEATH.INCHES("1-7/8")',
      '_xldudf_SHEATH_INCHES("1-7/8")',
      "=1/3",
      "=1=1",
      '="a"&"b"',
      "-1",
    ]);
    expect(ran).toMatchObject({
      code: 0,
      out: "1.875\n1.875\n0.3333333333333333\nTRUE\nab\n-1\n",
    });
  });

  test("prints the rows of a table with tabs", async () => {
    const ran = await run("formula", ['{1,"a";TRUE,-2.5}', "SEQUENCE(2)"]);
    expect(ran).toMatchObject({ code: 0, out: "1\ta\nTRUE\t-2.5\n1\n2\n" });
  });

  test("says the caution of a nail or moisture answer once, apart from the answers", async () => {
    const ran = await run("formula", [
      "SHEATH.NAIL_LENGTH(1.5)",
      "_xldudf_SHEATH_STOCK_NAIL(2.9)",
      "SHEATH.DEW_POINT(70, 0.4)",
    ]);
    expect(ran.out.split("\n")).toHaveLength(4);
    expect(ran.out).not.toContain("Caution");
    expect(ran.err.match(/Caution: .*engineer of record/g)).toHaveLength(1);
    expect(ran.err.match(/Caution: Energy and moisture numbers/g)).toHaveLength(1);
    const plain = await run("formula", ["SHEATH.INCHES(1)"]);
    expect(plain.err).not.toContain("Caution");
  });

  test("prints an error with its message and exits 1, the others still printed", async () => {
    const ran = await run("formula", ['SHEATH.INCHES("long")', "1+1", "SUM(", "SHEATH.INCHE(1)"]);
    expect(ran.code).toBe(1);
    const lines = ran.out.trimEnd().split("\n");
    expect(lines[0]).toMatch(/^#VALUE! length must be a length; got "long"/);
    expect(lines[1]).toBe("2");
    expect(lines[2]).toMatch(/^#NAME\? this is not a formula: /);
    expect(lines[3]).toBe(
      "#NAME? there is no function called SHEATH.INCHE; did you mean SHEATH.INCHES?"
    );
  });

  test("--json prints one JSON value a line", async () => {
    const ran = await run("formula", [
      "--json",
      "1/4",
      '"5/8"',
      "1<2",
      "SEQUENCE(2)",
      "{1,#N/A}",
      'SHEATH.INCHES("long")',
    ]);
    expect(ran.code).toBe(1);
    const values = ran.out
      .trimEnd()
      .split("\n")
      .map((line) => JSON.parse(line) as unknown);
    expect(values).toEqual([
      0.25,
      "5/8",
      true,
      [[1], [2]],
      [[1, { error: "#N/A", message: "" }]],
      { error: "#VALUE!", message: expect.stringContaining("length must be a length") },
    ]);
  });

  test("--file reads one formula a line and skips blank lines only", async () => {
    const folder = emptyFolder();
    const file = path.join(folder, "formulas.txt");
    fs.writeFileSync(file, "\ufeff=1+1\r\n\r\n  \nSHEATH.INCHES(2)\n# not a formula\n=3\n");
    const ran = await run("formula", ["--file", "formulas.txt"], { from: folder });
    expect(ran.code).toBe(1);
    const lines = ran.out.trimEnd().split("\n");
    expect(lines).toHaveLength(4);
    expect([lines[0], lines[1], lines[3]]).toEqual(["2", "2", "3"]);
    expect(lines[2]).toMatch(/^#NAME\?/);
  });

  test("--file - reads standard input", async () => {
    const ran = await run("formula", ["--file=-", "--json"], { input: "1+1\n{1;2}\n" });
    expect(ran).toMatchObject({ code: 0, out: "2\n[[1],[2]]\n" });
  });

  test("two thousand formulas in one run, each on its own", async () => {
    const folder = emptyFolder();
    const lines = Array.from({ length: 2000 }, (_, index) =>
      index % 100 === 99 ? "SUM(" : `=SHEATH.INCHES(${index})`
    );
    fs.writeFileSync(path.join(folder, "many.txt"), lines.join("\n"));
    const ran = await run("formula", ["--file", "many.txt"], { from: folder });
    const answers = ran.out.trimEnd().split("\n");
    expect(answers).toHaveLength(2000);
    expect(Number(answers[1998])).toBeCloseTo(1998, 9);
    expect(answers[1999]).toMatch(/^#NAME\?/);
  });

  test.each([
    [[], /no formula was given/],
    [["--file"], /--file needs the name of a file/],
    [["--file", "nowhere.txt"], /nowhere.txt could not be read: there is no such file/],
    [["--file", "."], /could not be read: it is a folder/],
    [["--jason", "1"], /there is no option --jason/],
    [["="], /a formula is empty/],
  ])("bad arguments %p say what is wrong and exit 2", async (args, says) => {
    const ran = await run("formula", args, { from: emptyFolder() });
    expect(ran).toMatchObject({ code: 2, out: "" });
    expect(ran.err).toMatch(says);
    expect(ran.err).toContain("Usage: npm run formula");
  });

  test("--help prints the usage", async () => {
    const ran = await run("formula", ["--help"]);
    expect(ran).toMatchObject({ code: 0, err: "" });
    expect(ran.out).toContain("Usage: npm run formula");
  });
});
