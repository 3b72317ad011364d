/** Findings: what to fix, what to look at and what to know before the crew starts. */
import { TINY_IN, isCalcError, shown } from "../check.js";
import { backingAtCorner } from "../backing.js";
import { ALL_CAUTIONS } from "../cautions.js";
import { parseClimateZone } from "../climate-zone.js";
import { OPPOSITE_END, type WallEnd } from "../corners.js";
import { routerBit } from "../assembly.js";
import { heatSaved } from "../heat-saved.js";
import { condensingSurface } from "../moisture.js";
import { nailFoamComparison } from "../nail-lateral.js";
import { penetrationRule } from "../penetration.js";
import type { PublishedFigure } from "../published.js";
import { tallestOfTwo } from "../rips.js";
import { PIECE_LAP_IN, TAPE_LAP_IN, tapeWidth } from "../tape.js";
import { bridgingLoss, foamR, wallU } from "../thermal.js";
import { feet, feetInches, inchText, squareFeet } from "../units.js";
import { foamRNeededRow, vaporRetarderAdvice } from "../vapor-retarder.js";
import { wallULimitRow } from "../wall-u-limit.js";
import { houseInsulation } from "./framing.js";
import { houseNail, seamTapeWidth, stockTape } from "./order.js";
import { horizontalSeams } from "./seams.js";
import { type Settings, hasFoam } from "./settings.js";
import { type CellOf, nameKey } from "./tables.js";
import type { HouseTakeoff } from "./takeoff.js";
import { type Box, type CutWall, routedBy, shapeArea } from "./wall-pieces.js";
import { type Opening, type Wall, wallHeight } from "./walls.js";

export type FindingLevel = "fix" | "look" | "note";

export interface Finding {
  readonly level: FindingLevel;
  /** wall it belongs to; empty for the whole house */
  readonly wall: string;
  readonly finding: string;
  readonly whatToDo: string;
  /** the cell or row to correct, where it is one */
  readonly cell?: CellOf;
}

/** Slips of the unit; common practice, no source. */
export const SHORT_WALL_IN = 48;
const LOW_WALL_IN = 48;
const LONG_WALL_IN = 1_440;
const TALL_WALL_IN = 360;
/** a house has a wall at least as long as it is high */
const SHORT_HOUSE_IN = 96;
const SMALL_OPENING_IN = 12;
const DEEP_LAP_IN = 48;

/** Widest nailing of wall panels: IRC Table R602.3(1), from memory; wider is the engineer's to say. */
const WIDEST_EDGE_NAILING_IN = 6;
const WIDEST_FIELD_NAILING_IN = 12;

function row(level: FindingLevel, wall: string, finding: string, whatToDo: string): Finding {
  return { level, wall, finding, whatToDo };
}

/**
 * A reading of the whole house that may fail becomes a finding instead of an error.
 *
 * @param always level of the finding; by default what no table covers is a look, a bad value a fix
 */
function orFinding(whatToDo: string, find: () => Finding[], always?: FindingLevel): Finding[] {
  try {
    return find();
  } catch (error) {
    if (!isCalcError(error)) throw error;
    const level = always ?? (error.code === "not-covered" ? "look" : "fix");
    return [row(level, "", error.message, whatToDo)];
  }
}

/** Walls of one kind of end, named with their side. */
function named(walls: readonly Wall[], end: WallEnd): string {
  const names = walls.flatMap((wall) => [
    ...(wall.leftEnd === end ? [`${wall.name} left`] : []),
    ...(wall.rightEnd === end ? [`${wall.name} right`] : []),
  ]);
  return names.length === 0 ? "none" : names.join(", ");
}

function countEnds(walls: readonly Wall[], end: WallEnd): number {
  return walls.reduce(
    (sum, wall) =>
      sum + wall.quantity * (Number(wall.leftEnd === end) + Number(wall.rightEnd === end)),
    0
  );
}

/** @param unread names of walls whose own row cannot be read: their corners are not judged */
function cornerFindings(walls: readonly Wall[], unread: ReadonlySet<string>): Finding[] {
  const findings: Finding[] = [];
  const byName = new Map(walls.map((wall) => [nameKey(wall.name), wall]));
  const metBy = new Map<string, string>();
  for (const wall of walls) {
    if (wall.nextWall === undefined) continue;
    const next = byName.get(nameKey(wall.nextWall));
    if (!next) {
      if (unread.has(nameKey(wall.nextWall))) continue;
      findings.push(
        row(
          "fix",
          wall.name,
          `Next wall ${shown(wall.nextWall)} is not in the walls table`,
          "Name the wall that meets the right end, or leave the cell blank."
        )
      );
      continue;
    }
    const earlier = metBy.get(nameKey(next.name));
    if (earlier !== undefined) {
      findings.push(
        row(
          "fix",
          next.name,
          `${earlier} and ${wall.name} both name ${next.name} as the next wall`,
          "A left end meets one wall: correct one of the two."
        )
      );
    }
    metBy.set(nameKey(next.name), wall.name);
    const wanted = OPPOSITE_END[wall.rightEnd];
    if (next.leftEnd !== wanted) {
      findings.push(
        row(
          "fix",
          wall.name,
          `Right end is ${wall.rightEnd} but the left end of ${next.name} is ${next.leftEnd}`,
          `Make the left end of ${next.name} ${wanted}, or change the right end of ${wall.name}: an outside corner has one past and one flush, an inside corner one tight and one short.`
        )
      );
    }
  }
  if (findings.length > 0 || unread.size > 0) return findings;
  const pairs: readonly (readonly [WallEnd, WallEnd, string])[] = [
    ["past", "flush", "outside"],
    ["tight", "short", "inside"],
  ];
  for (const [one, other, kind] of pairs) {
    const ones = countEnds(walls, one);
    const others = countEnds(walls, other);
    if (ones === others) continue;
    findings.push(
      row(
        "fix",
        "",
        `${kind} corners disagree: ${ones} ${one} (${named(walls, one)}) and ${others} ${other} (${named(walls, other)})`,
        `Each ${kind} corner has one ${one} and one ${other}: correct the ends, or fill in Next wall to find the pair.`
      )
    );
  }
  return findings;
}

function sizeFindings(walls: readonly Wall[], openings: readonly Opening[]): Finding[] {
  const findings: Finding[] = [];
  for (const wall of walls) {
    if (wall.lengthIn < SHORT_WALL_IN) {
      findings.push(
        row(
          "look",
          wall.name,
          `Length is ${inchText(wall.lengthIn)} in`,
          `If feet were meant, type ${inchText(wall.lengthIn)}' or head the column Length (ft).`
        )
      );
    }
    if (wall.lengthIn > LONG_WALL_IN) {
      findings.push(
        row(
          "look",
          wall.name,
          `Length is ${feetInches(wall.lengthIn)}`,
          "If inches were meant, take the foot mark away."
        )
      );
    }
    const heightIn = wallHeight(wall);
    if (heightIn < LOW_WALL_IN) {
      findings.push(
        row(
          heightIn < LOW_WALL_IN / 2 ? "fix" : "look",
          wall.name,
          `Height is ${inchText(heightIn)} in`,
          `If feet were meant, type ${inchText(heightIn)}' or head the column Height (ft).`
        )
      );
    }
    if (wall.belowIn > DEEP_LAP_IN) {
      findings.push(
        row(
          "look",
          wall.name,
          `Below is ${feetInches(wall.belowIn)}`,
          "Sheathing laps down over the rim and the mud sill, a foot or so: check the units of the row."
        )
      );
    }
    if (wall.lengthIn > LONG_WALL_IN * 2 || heightIn > TALL_WALL_IN) {
      findings.push(
        row(
          "look",
          wall.name,
          `Wall is ${feetInches(wall.lengthIn)} long and ${feetInches(heightIn)} high`,
          "Check the units of the row."
        )
      );
    }
  }
  if (walls.length > 1 && walls.every((wall) => wall.lengthIn < SHORT_HOUSE_IN)) {
    const longestIn = Math.max(...walls.map((wall) => wall.lengthIn));
    findings.push(
      row(
        "look",
        "",
        `No wall is longer than ${inchText(longestIn)} in`,
        "If feet were meant, add the foot marks or head the column Length (ft)."
      )
    );
  }
  for (const opening of openings) {
    const widthIn = opening.rightIn - opening.leftIn;
    const heightIn = opening.topIn - opening.bottomIn;
    if (Math.min(widthIn, heightIn) < SMALL_OPENING_IN) {
      findings.push(
        row(
          "look",
          opening.wall,
          `${opening.name} is ${inchText(widthIn)} x ${inchText(heightIn)} in`,
          "If feet were meant, add the foot mark or put (ft) in the header."
        )
      );
    }
    if (opening.quantity > 1) {
      findings.push(
        row(
          "fix",
          opening.wall,
          `${opening.name} stands ${opening.quantity} times at one place`,
          "Give each opening a row with its own From left: tape is counted for all, but panels and nails see only one."
        )
      );
    }
  }
  return findings;
}

/** Nailing wider than the code tables go, wall by wall. */
function nailingFindings(walls: readonly Wall[]): Finding[] {
  return walls.flatMap((wall) => {
    const wide = [
      ...(wall.edgeIn > WIDEST_EDGE_NAILING_IN
        ? [`Edge nailing ${inchText(wall.edgeIn)} in is over ${WIDEST_EDGE_NAILING_IN}`]
        : []),
      ...(wall.fieldIn > WIDEST_FIELD_NAILING_IN
        ? [`Field nailing ${inchText(wall.fieldIn)} in is over ${WIDEST_FIELD_NAILING_IN}`]
        : []),
    ];
    if (wide.length === 0) return [];
    return [
      row(
        "look",
        wall.name,
        wide.join("; "),
        "Wall panels are nailed 6 in at edges and 12 in between at the widest (IRC Table R602.3(1); confirm in the code book). Type the engineer's spacing."
      ),
    ];
  });
}

function courseFindings(house: HouseTakeoff): Finding[] {
  const { settings, cuts } = house;
  const findings: Finding[] = [];
  const ripHeights = new Set<number>();
  for (const cut of cuts) {
    for (const run of cut.ripRuns) ripHeights.add(run.topIn - run.bottomIn);
    if (cut.wall.blockLineIn !== undefined && !cut.hasRips) {
      findings.push(
        row(
          "note",
          cut.wall.name,
          "The wall comes within a stud space of the block line, so it has no rip course",
          "Its panels start at the bottom lap."
        )
      );
    }
    if (cut.panels.length === 0 && cut.ripRuns.length === 0) {
      findings.push(
        row(
          "look",
          cut.wall.name,
          "Its openings leave nothing to sheathe",
          "Check the sizes of the openings."
        )
      );
    }
    const blocking = horizontalSeams(cut)
      .filter((seam) => seam.needsBlocking)
      .reduce((sum, seam) => sum + seam.lengthIn, 0);
    if (blocking > 0) {
      const levels = [...(cut.hasRips ? [cut.panelsFromIn] : []), ...cut.courseSeamsIn];
      findings.push(
        row(
          "note",
          cut.wall.name,
          `${feet(blocking * cut.wall.quantity).toFixed(1)} ft of horizontal seam, at ${levels.map((level) => feetInches(level)).join(" and ")} above the deck`,
          "Put solid blocking behind it; every panel edge needs framing to nail to."
        )
      );
    }
  }
  for (const height of [...ripHeights].sort((a, b) => a - b)) {
    const mostIn = tallestOfTwo(settings.panelWidthIn, settings.kerfIn);
    if (height <= mostIn + TINY_IN) continue;
    findings.push(
      row(
        "look",
        "",
        `Rips ${inchText(height, 64)} in tall come one to a panel`,
        `At ${inchText(mostIn, 64)} in or less two come out of a panel: lower the block line or lap down less.`
      )
    );
  }
  return findings;
}

function nailFindings(house: HouseTakeoff): Finding[] {
  const { settings } = house;
  const schedule =
    "Ask the engineer of record before nailing off: nail size and spacing are the engineer's.";
  const reach = orFinding(
    "Add a longer nail to Nail lengths, or ask the engineer of record.",
    () => {
      const { neededIn, stockIn } = houseNail(settings);
      const into = stockIn - settings.thicknessIn;
      return [
        row(
          "note",
          "",
          `Nails: ${inchText(settings.thicknessIn, 64)} panel + ${inchText(settings.penetrationIn, 64)} into the stud = ${inchText(neededIn, 64)} at least; ${inchText(stockIn, 64)} in stocked, ${inchText(into, 64)} in the stud`,
          schedule
        ),
      ];
    },
    "fix"
  );
  const basis = orFinding("Choose a basis that has a row for this nail.", () => {
    const rule = penetrationRule(settings.penetrationBasis, settings.nailDiameterIn);
    if (settings.penetrationIn >= rule.value - 1e-9) return [];
    return [
      row(
        "fix",
        "",
        `Penetration ${inchText(settings.penetrationIn, 64)} in is short of the ${inchText(rule.value, 64)} in of ${rule.table} (${rule.note})`,
        "Take a longer nail, or another basis the engineer agrees to."
      ),
    ];
  });
  const lateral = orFinding(
    "Take the nail and the foam to the engineer of record.",
    () => {
      // a panel tight to the stud has no gap for the nail to span
      if (!hasFoam(settings)) return [];
      const { stockIn } = houseNail(settings);
      const compared = nailFoamComparison(
        stockIn,
        settings.nailDiameterIn,
        settings.panelIn,
        settings.foamIn,
        settings.studGravity,
        settings.panelGravity
      );
      return [
        row(
          compared.share < 1 ? "look" : "note",
          "",
          `One nail through ${inchText(settings.foamIn, 64)} in of foam keeps ${(compared.share * 100).toFixed(0)} % of its lateral reference value (${compared.withFoamLb.toFixed(0)} lb of ${compared.withoutFoamLb.toFixed(0)} lb with the panel tight to the stud)${compared.note ? `; ${compared.note}` : ""}`,
          "Take the percentage to the engineer of record; it is not a shear-wall capacity."
        ),
      ];
    },
    "look"
  );
  return [...reach, ...basis, ...lateral];
}

function tapeFindings(house: HouseTakeoff): Finding[] {
  const { settings, walls } = house;
  const uses: [string, number][] = [["Seam tape", seamTapeWidth(settings)]];
  if (countEnds(walls, "past") + countEnds(walls, "flush") > 0) {
    uses.push([
      `Outside corners (${settings.cornerTape})`,
      tapeWidth(settings.thicknessIn, settings.cornerTape, settings.tapeLapIn),
    ]);
  }
  if (settings.sillTape) {
    uses.push([
      "Bottom edge at the sill plate",
      tapeWidth(settings.thicknessIn, "sill", settings.tapeLapIn),
    ]);
  }
  const laps = [
    ...(settings.tapeLapIn < TAPE_LAP_IN - TINY_IN
      ? [
          row(
            "look",
            "",
            `Tape lap is ${inchText(settings.tapeLapIn, 64)} in; ${TAPE_LAP_IN} in is usual`,
            "The tape maker's printed instructions say how far the tape laps onto each panel."
          ),
        ]
      : []),
    ...(countEnds(walls, "tight") > 0 && settings.cornerLapIn < PIECE_LAP_IN - TINY_IN
      ? [
          row(
            "look",
            "",
            `Corner lap is ${inchText(settings.cornerLapIn, 64)} in; ${PIECE_LAP_IN} in is usual`,
            "The tape maker's printed instructions say how far two pieces overlap."
          ),
        ]
      : []),
  ];
  const widths = uses.flatMap(([what, needed], index) => {
    const widest = Math.max(...settings.tapeWidthsIn);
    if (widest < needed - 1e-9) {
      return [
        row(
          "fix",
          "",
          `${what}: needs tape ${inchText(needed, 64)} in wide; the widest stocked is ${inchText(widest, 64)} in`,
          "Add a width to Tape widths, or use two layers."
        ),
      ];
    }
    return [
      row(
        "note",
        "",
        `${what}: needs ${inchText(needed, 64)} in, stocked ${inchText(stockTape(needed, settings), 64)} in`,
        index === 0
          ? "Put the tape up and press it down as its maker's printed instructions say."
          : "The width is enough."
      ),
    ];
  });
  return [...laps, ...widths];
}

function framingFindings(house: HouseTakeoff): Finding[] {
  const { settings, walls } = house;
  const findings: Finding[] = [];
  const count = backingAtCorner(
    settings.thicknessIn,
    settings.backing,
    settings.nailingIn,
    settings.studIn
  );
  for (const wall of walls) {
    const ends = (["left", "right"] as const).filter(
      (side) => (side === "left" ? wall.leftEnd : wall.rightEnd) === "short"
    );
    if (ends.length === 0 || count === 0) continue;
    findings.push(
      row(
        "note",
        wall.name,
        `Inside corner at the ${ends.join(" and ")} end: the end stud leaves ${inchText(Math.max(0, settings.studIn - settings.thicknessIn), 64)} in of nailing`,
        settings.backing === "channel"
          ? `Frame a channel of ${count} members there and fill its cavity with insulation.`
          : `Add ${count} backing ${count === 1 ? "stud" : "studs"} there.`
      )
    );
  }
  if (house.openings.length > 0) {
    findings.push(
      row(
        "note",
        "",
        `Openings: router bit at least ${inchText(routerBit(settings.thicknessIn, settings.routerClearanceIn), 64)} in of cutting length`,
        "The window's own flashing instructions rule the tape at openings."
      )
    );
  }
  return findings;
}

function confirmed(figure: PublishedFigure): string {
  return figure.note ? `${figure.table}; ${figure.note}` : figure.table;
}

/** A figure known from memory decides nothing: short of it is a look, not a fix, and enough says so. */
function against(
  figure: PublishedFigure,
  isEnough: boolean,
  finding: string,
  whatToDo: string
): Finding {
  const level = isEnough ? "note" : figure.mayDecide ? "fix" : "look";
  const say = isEnough
    ? figure.mayDecide
      ? "Enough by the table."
      : "Looks enough; confirm in the code book before relying on it."
    : whatToDo;
  return row(level, "", `${finding} (${confirmed(figure)})`, say);
}

/** True where the code table, known well enough to decide, asks no more foam than there is. */
function tableFoamEnough(climateZone: string, studDepthIn: number, foamLabelR: number): boolean {
  try {
    const needed = foamRNeededRow(climateZone, studDepthIn);
    return needed.mayDecide && foamLabelR >= needed.value - 1e-9;
  } catch (error) {
    if (!isCalcError(error)) throw error;
    return error.code === "not-covered";
  }
}

/** Sheathed face of a wall without its openings, panels and rip course together, sq in. */
function solidArea(cut: CutWall): number {
  const boxArea = (box: Box): number => (box.rightIn - box.leftIn) * (box.topIn - box.bottomIn);
  const total = (areas: readonly number[]): number => areas.reduce((sum, each) => sum + each, 0);
  const routed = [
    ...cut.panels.flatMap((piece) => piece.routed),
    ...cut.ripRuns.flatMap((run) => routedBy(run, cut.openings)),
  ];
  return (
    total(cut.panels.map(shapeArea)) +
    total(cut.ripRuns.map(boxArea)) -
    total(routed.map(({ box }) => boxArea(box)))
  );
}

/** More or less wood than this from the share in the settings is worth a look; common practice, no source. */
const FRAMING_SLACK = 0.05;

/** The share of framing counted from the marks beside the one the energy check works with. */
function framingFinding(house: HouseTakeoff): Finding {
  const { withFoam } = houseInsulation(house);
  const counted = withFoam.framing;
  const share = house.settings.framingShare;
  const percent = (value: number): string => `${(value * 100).toFixed(0)} %`;
  const isFar = counted > share + FRAMING_SLACK;
  return row(
    isFar ? "look" : "note",
    "",
    `Framing is ${percent(counted)} of the wall counted from the marks and openings, ${percent(share)} in the settings; R ${withFoam.wallR.toFixed(1)} by the count`,
    isFar
      ? "More wood than the energy check allows for: set the Framing fraction to the count, or show compliance another way."
      : "Blocking and extra corner studs are not in the count."
  );
}

function energyFindings(house: HouseTakeoff): Finding[] {
  const { settings, cuts } = house;
  const { climateZone, cavityR, rPerInch } = settings;
  // a zone that is none is one thing to fix, not one finding for each table it is looked up in
  try {
    if (climateZone !== undefined) parseClimateZone(climateZone);
  } catch (error) {
    if (!isCalcError(error)) throw error;
    return [row("fix", "", error.message, "Type a climate zone such as 5, 5A or Marine 4.")];
  }
  const isFoam = hasFoam(settings);
  const needsLabel = isFoam && rPerInch === undefined;
  if (climateZone === undefined || cavityR === undefined || needsLabel) {
    const blank = [
      ...(climateZone === undefined ? ["Climate zone"] : []),
      ...(cavityR === undefined ? ["Cavity R"] : []),
      ...(needsLabel ? ["Foam R per inch"] : []),
    ];
    return [
      row(
        "note",
        "",
        `Energy and moisture are not checked: ${blank.join(", ")} ${blank.length > 1 ? "are" : "is"} blank in the settings`,
        "Fill them in to check the walls against the code tables and the dew point."
      ),
    ];
  }
  const label = isFoam ? foamR(settings.foamIn, rPerInch as number) : 0;
  const studs = settings.studDepthIn;
  const layers = [studs, settings.framingShare, settings.otherR, settings.woodRPerInch] as const;
  const moisture = orFinding("Ask the local code office.", () => {
    // without foam the vapor retarder's sentence says all the table has to say
    if (!isFoam) return [];
    const needed = foamRNeededRow(climateZone, studs);
    return [
      against(
        needed,
        label >= needed.value - 1e-9,
        `Foam R ${label.toFixed(1)}; least for a class III vapor retarder in zone ${climateZone} is R ${needed.value}`,
        "Use thicker foam, or a tighter vapor retarder as the local code allows."
      ),
    ];
  }).map((each) =>
    each.finding.startsWith("foam R needed")
      ? { ...each, level: "note" as const, whatToDo: "No least foam R from this table." }
      : each
  );
  const energy = orFinding("Check the R values in the settings and the sizes of openings.", () => {
    const without = wallU(cavityR, 0, ...layers);
    const withFoam = wallU(cavityR, label, ...layers);
    const loss = bridgingLoss(cavityR, label, ...layers);
    const limit = wallULimitRow(climateZone);
    return [
      against(
        limit,
        withFoam <= limit.value + 5e-5,
        `Whole-wall U ${withFoam.toFixed(4)} ${isFoam ? `with the foam, ${without.toFixed(4)} without` : "without foam"}; limit in zone ${climateZone} is ${limit.value}`,
        `Use ${isFoam ? "thicker foam" : "foam"} or more cavity insulation, or show compliance another way.`
      ),
      row(
        "note",
        "",
        `Framing costs ${(loss * 100).toFixed(0)} % of the cavity path's R`,
        isFoam
          ? "Foam over the studs cuts that loss; leave no gaps in it at corners and rims."
          : "No foam covers the studs."
      ),
      framingFinding(house),
    ];
  });
  const retarder = orFinding("Ask the local code office.", () => {
    const advice = vaporRetarderAdvice(climateZone, studs, label);
    return [row("note", "", `Vapor retarder: ${advice.say}`, "The local code decides the class.")];
  });
  const dew = orFinding("Check the temperatures and the humidity in the settings.", () => {
    if (settings.outdoorF === undefined) {
      return [
        row(
          "note",
          "",
          "Dew point is not checked: Outdoor temperature is blank in the settings",
          "Type the winter design temperature."
        ),
      ];
    }
    const surface = condensingSurface(
      settings.indoorF,
      settings.outdoorF,
      settings.humidity,
      cavityR,
      label
    );
    const more =
      surface.foamRToStayDry === null
        ? "no foam can keep it dry at this humidity; lower the humidity"
        : `about R ${surface.foamRToStayDry.toFixed(1)} of foam would keep it dry`;
    const face = `face ${surface.foamFaceF.toFixed(0)} F, room dew point ${surface.dewPointF.toFixed(0)} F at ${settings.outdoorF} F outside`;
    if (!isFoam) {
      return [
        row(
          "note",
          "",
          `No foam: the panel's inner ${face}`,
          surface.isDry
            ? "The panel stays above the dew point at this condition."
            : `The vapor retarder and a tight inside keep room air off the cold panel; ${more}.`
        ),
      ];
    }
    // the table is made for average winters; a cold snap at the design temperature is for the builder to weigh
    const byTable = tableFoamEnough(climateZone, studs, label);
    return [
      row(
        surface.isDry ? "note" : byTable ? "look" : "fix",
        "",
        `Foam ${face}`,
        surface.isDry
          ? "The inner face of the foam stays above the dew point at this condition."
          : `Moisture can condense on the foam in a cold spell: seal the inside against air leaks, keep the room dry, or use thicker foam; ${more}.`
      ),
    ];
  });
  const saved =
    settings.degreeDays === undefined || !isFoam
      ? []
      : orFinding("Check the heating degree days.", () => {
          const areaFt2 = cuts.reduce(
            (sum, cut) => sum + cut.wall.quantity * squareFeet(solidArea(cut)),
            0
          );
          const heat = heatSaved(
            areaFt2,
            wallU(cavityR, 0, ...layers),
            wallU(cavityR, label, ...layers),
            settings.degreeDays as number
          );
          return [
            row(
              "note",
              "",
              `The foam saves about ${(heat / 1e6).toFixed(1)} million Btu of heat a year through ${areaFt2.toFixed(0)} sq ft of wall`,
              "A plain degree-day estimate: steady walls, 65 F base, no air leakage."
            ),
          ];
        });
  const cold = isFoam
    ? [
        row(
          "note",
          "",
          `Foam R ${label.toFixed(1)} is the label's R per inch times the thickness`,
          "Cold foam insulates less than its label: use the R per inch at winter temperature."
        ),
      ]
    : [];
  return [...moisture, ...energy, ...retarder, ...dew, ...saved, ...cold];
}

function gradeFindings(house: HouseTakeoff): Finding[] {
  if (!house.walls.some((wall) => wall.belowIn > 0)) return [];
  const foam = hasFoam(house.settings);
  return [
    row(
      "note",
      "",
      `${foam ? "Foam" : "Sheathing"} laps down past the deck`,
      `Keep it clear of grade and leave the termite inspection strip the local code asks for${foam ? "; cover the bottom edge of the panel" : ""}.`
    ),
  ];
}

function plainFindings(settings: Settings): Finding[] {
  if (hasFoam(settings)) return [];
  return [
    row(
      "note",
      "",
      "Foam is none: the panels are plain sheathing",
      "If they have foam, type its thickness in Foam."
    ),
  ];
}

/**
 * Every finding of a house. Rows that cannot be used become findings, so that one slip does not hide the others.
 *
 * @param house the house as readHouse gives it; its limits are those of the tables
 * @returns findings, `fix` first, then `look`, then `note`, the cautions last
 * @shape rows of level, wall, finding, whatToDo
 * @throws {CalcError} not-covered: a nail shank the penetration basis has no row for
 * @source what is checked against a published table names it in the finding; the rest is common practice, no source
 * @example houseFindings(readHouse([["Wall", "Length", "Height", "Left end", "Right end"], ["North", 96, 96, "free", "free"]], [["Wall", "From left", "Sill", "Width", "Height"], ["South", 24, 36, 24, 36]], [["Foam", 1.25], ["Panel", 0.625]]))[0]?.finding // => 'openings row 2 (wall South): Wall must be a wall of the walls table; got "South"'
 */
export function houseFindings(house: HouseTakeoff): Finding[] {
  const read = new Set(house.allWalls.map((wall) => nameKey(wall.name)));
  const unread = new Set(
    house.problems
      .filter(({ cell }) => cell.table === "walls")
      .map(({ wall }) => nameKey(wall))
      .filter((name) => !read.has(name))
  );
  // one slip in a wall's row is one finding, not one more for each of its openings
  const problems = house.problems.filter(
    ({ wall, cell }) => cell.table !== "openings" || !unread.has(nameKey(wall))
  );
  const findings = [
    ...problems.map(({ wall, message, cell }) => ({
      ...row("fix", wall, message, "Correct the row: it is left out of the checks below."),
      cell,
    })),
    ...cornerFindings(house.allWalls, unread),
    ...house.unknownHeaders.map(({ table, header }) =>
      row(
        "look",
        "",
        `${table}: ${shown(header)} is not a ${table === "settings" ? "setting" : "header"} and is not used`,
        "Correct the spelling if it was meant to count."
      )
    ),
    ...sizeFindings(house.allWalls, house.openings),
    ...nailingFindings(house.allWalls),
    ...courseFindings(house),
    ...tapeFindings(house),
    ...framingFindings(house),
    ...nailFindings(house),
    ...energyFindings(house),
    ...gradeFindings(house),
    ...plainFindings(house.settings),
  ];
  const order: readonly FindingLevel[] = ["fix", "look", "note"];
  return [
    ...order.flatMap((level) => findings.filter((each) => each.level === level)),
    ...ALL_CAUTIONS.map((text) =>
      row("note", "", text, "Defer to the local code and the engineer of record.")
    ),
  ];
}
