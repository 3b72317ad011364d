/** Generated from the comments of functions.ts by `npm run docs`; do not edit. */
export const catalog = [
  {
    "name": "INCHES",
    "wrapper": "inches",
    "description": "Reads a length as inches: a number, or text such as 24'-6 1/2\", 1-7/8 or 622.3 mm.",
    "parameters": [
      {
        "name": "length",
        "description": "Number of inches, or tape-measure text.",
        "optional": false,
        "matrix": false
      }
    ],
    "returns": "Inches.",
    "spills": false
  },
  {
    "name": "FEET_INCHES",
    "wrapper": "feetInches",
    "description": "Writes a length as feet and inches, to the nearest fraction of the tape.",
    "parameters": [
      {
        "name": "length",
        "description": "Length: inches, or text.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "denominator",
        "description": "Smallest fraction: 2, 4, 8, 16, 32 or 64. If omitted, 16.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Text such as 24'-6 1/2\".",
    "spills": false
  },
  {
    "name": "PANEL_THICKNESS",
    "wrapper": "panelThickness",
    "description": "Total thickness of the panel: foam plus wood.",
    "parameters": [
      {
        "name": "foam",
        "description": "Foam thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "panel",
        "description": "Wood structural panel thickness.",
        "optional": false,
        "matrix": false
      }
    ],
    "returns": "Inches.",
    "spills": false
  },
  {
    "name": "CORNER_OFFSET",
    "wrapper": "cornerOffset",
    "description": "How far to burn at a corner: how far the panel runs past the framing corner.",
    "parameters": [
      {
        "name": "foam",
        "description": "Foam thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "panel",
        "description": "Wood structural panel thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "turn",
        "description": "Change of direction at the corner, degrees. If omitted, 90.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Inches.",
    "spills": false
  },
  {
    "name": "RUN_LENGTH",
    "wrapper": "runLength",
    "description": "The length that is actually sheathed, by how the wall meets its neighbors.",
    "parameters": [
      {
        "name": "length",
        "description": "Framing length, corner to corner.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "thickness",
        "description": "Panel thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "left_end",
        "description": "How the left end meets its neighbor: past, flush, tight, short or free.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "right_end",
        "description": "How the right end meets its neighbor: past, flush, tight, short or free.",
        "optional": false,
        "matrix": false
      }
    ],
    "returns": "Inches.",
    "spills": false
  },
  {
    "name": "STUD_MARKS",
    "wrapper": "studMarks",
    "description": "Stud marks of a wall, with the tape reading after burning and where panels break.",
    "parameters": [
      {
        "name": "length",
        "description": "Framing length, corner to corner.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "thickness",
        "description": "Panel thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "left_end",
        "description": "How the left end meets its neighbor: past, flush, tight, short or free.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "right_end",
        "description": "How the right end meets its neighbor: past, flush, tight, short or free.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "spacing",
        "description": "Stud spacing. If omitted, 16.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "from",
        "description": "End laid out from: left or right. If omitted, left.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "stud",
        "description": "Stud thickness. If omitted, 1.5.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Table: Mark, Center, Near edge, Far edge, Tape reading, Panel breaks.",
    "spills": true
  },
  {
    "name": "PANEL_BREAKS",
    "wrapper": "panelBreaks",
    "description": "Where panels break along a wall, from the left framing corner.",
    "parameters": [
      {
        "name": "length",
        "description": "Framing length, corner to corner.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "thickness",
        "description": "Panel thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "left_end",
        "description": "How the left end meets its neighbor: past, flush, tight, short or free.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "right_end",
        "description": "How the right end meets its neighbor: past, flush, tight, short or free.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "spacing",
        "description": "Stud spacing; must go a whole number of times into the panel width. If omitted, 16.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "from",
        "description": "End laid out from: left or right. If omitted, left.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "panel_width",
        "description": "Panel width. If omitted, 48.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "smallest",
        "description": "Narrowest last piece. If omitted, one stud space.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Column of distances in inches.",
    "spills": true
  },
  {
    "name": "RAKE_STUDS",
    "wrapper": "rakeStuds",
    "description": "Studs of a rake wall: long point, length and bevel of each.",
    "parameters": [
      {
        "name": "length",
        "description": "Framing length, corner to corner.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "left_height",
        "description": "Deck to top of the top plate at the left end.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "right_height",
        "description": "Deck to top of the top plate at the right end.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "thickness",
        "description": "Panel thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "left_end",
        "description": "How the left end meets its neighbor: past, flush, tight, short or free.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "right_end",
        "description": "How the right end meets its neighbor: past, flush, tight, short or free.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "spacing",
        "description": "Stud spacing. If omitted, 16.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "from",
        "description": "End laid out from: left or right. If omitted, left.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "stud",
        "description": "Stud thickness. If omitted, 1.5.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "bottom_plates",
        "description": "Bottom plates. If omitted, 1.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "top_plates",
        "description": "Top plates. If omitted, 2.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "plate",
        "description": "Plate thickness. If omitted, 1.5.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Table: Mark, Center, Long point, Stud length, Bevel.",
    "spills": true
  },
  {
    "name": "PANELS_PER_WALL",
    "wrapper": "panelsPerWall",
    "description": "Whole panels for this wall alone, its own offcuts used again.",
    "parameters": [
      {
        "name": "length",
        "description": "Framing length, corner to corner.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "height",
        "description": "Sheathed height.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "thickness",
        "description": "Panel thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "left_end",
        "description": "How the left end meets its neighbor: past, flush, tight, short or free.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "right_end",
        "description": "How the right end meets its neighbor: past, flush, tight, short or free.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "spacing",
        "description": "Stud spacing. If omitted, 16.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "panel_length",
        "description": "Panel length. If omitted, the shortest of 96, 108 and 120 that covers the height.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Panels.",
    "spills": false
  },
  {
    "name": "TAPE_FEET",
    "wrapper": "tapeFeet",
    "description": "Feet of seam tape of a plain wall.",
    "parameters": [
      {
        "name": "length",
        "description": "Framing length, corner to corner.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "height",
        "description": "Sheathed height, rips included.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "thickness",
        "description": "Panel thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "left_end",
        "description": "How the left end meets its neighbor: past, flush, tight, short or free.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "right_end",
        "description": "How the right end meets its neighbor: past, flush, tight, short or free.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "rip_height",
        "description": "Height of the rip course. If omitted, none.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "spacing",
        "description": "Stud spacing. If omitted, 16.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Feet.",
    "spills": false
  },
  {
    "name": "CORNER_TAPE_FEET",
    "wrapper": "cornerTapeFeet",
    "description": "Feet of tape for outside corners.",
    "parameters": [
      {
        "name": "height",
        "description": "Sheathed height of the corner.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "corners",
        "description": "How many such corners. If omitted, 1.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "method",
        "description": "two-layer counts both layers, single one. If omitted, two-layer.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Feet.",
    "spills": false
  },
  {
    "name": "INSIDE_CORNER_TAPE_FEET",
    "wrapper": "insideCornerTapeFeet",
    "description": "Feet of tape for inside corners put up in pieces, their overlaps counted.",
    "parameters": [
      {
        "name": "height",
        "description": "Sheathed height of the corner.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "corners",
        "description": "How many such corners. If omitted, 1.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "piece",
        "description": "Length of a piece. If omitted, 36.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "lap",
        "description": "Overlap of two pieces. If omitted, 3.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Feet.",
    "spills": false
  },
  {
    "name": "OPENING_TAPE_FEET",
    "wrapper": "openingTapeFeet",
    "description": "Feet of tape round openings: jambs, head and sill with their extensions.",
    "parameters": [
      {
        "name": "width",
        "description": "Opening width.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "height",
        "description": "Opening height.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "count",
        "description": "How many such openings. If omitted, 1.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "extension",
        "description": "How far head and sill tape run past each jamb. If omitted, 6.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Feet.",
    "spills": false
  },
  {
    "name": "TAPE_WIDTH",
    "wrapper": "tapeWidth",
    "description": "Narrowest tape that covers a corner.",
    "parameters": [
      {
        "name": "thickness",
        "description": "Panel thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "method",
        "description": "two-layer, single (one layer) or sill (the bottom edge at the sill plate). If omitted, two-layer.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "lap",
        "description": "Lap onto each panel. If omitted, 1.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Inches.",
    "spills": false
  },
  {
    "name": "TAPE_ROLLS",
    "wrapper": "tapeRolls",
    "description": "Whole rolls of one tape for the house, rounded up once.",
    "parameters": [
      {
        "name": "feet",
        "description": "Feet needed over the whole house.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "feet_per_roll",
        "description": "Feet on a roll.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "extra",
        "description": "Spare share. If omitted, 0.05, which is 5 %.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Rolls.",
    "spills": false
  },
  {
    "name": "NAIL_LENGTH",
    "wrapper": "nailLength",
    "description": "Shortest nail for a panel: its thickness and the penetration wanted in the stud.",
    "parameters": [
      {
        "name": "thickness",
        "description": "Panel thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "penetration",
        "description": "Into the stud; the engineer's schedule rules. If omitted, 1.5.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Inches, exact.",
    "spills": false
  },
  {
    "name": "STOCK_NAIL",
    "wrapper": "stockNail",
    "description": "Next stocked nail length at or above the one needed.",
    "parameters": [
      {
        "name": "length",
        "description": "Length needed.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "stock",
        "description": "Range of stocked lengths. If omitted, 2, 2-3/8, 2-1/2, 3, 3-1/4, 3-1/2 and 4.",
        "optional": true,
        "matrix": true
      }
    ],
    "returns": "Inches.",
    "spills": false
  },
  {
    "name": "NAIL_PENETRATION",
    "wrapper": "nailPenetration",
    "description": "How far a nail goes into the stud.",
    "parameters": [
      {
        "name": "nail_length",
        "description": "Nail length.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "thickness",
        "description": "Panel thickness.",
        "optional": false,
        "matrix": false
      }
    ],
    "returns": "Inches.",
    "spills": false
  },
  {
    "name": "NAIL_PENETRATION_NEEDED",
    "wrapper": "nailPenetrationNeeded",
    "description": "Least penetration into the stud on a named basis, for a nail's diameter.",
    "parameters": [
      {
        "name": "basis",
        "description": "general, shear-wall table or wind table.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "diameter",
        "description": "Nail diameter.",
        "optional": false,
        "matrix": false
      }
    ],
    "returns": "Inches.",
    "spills": false
  },
  {
    "name": "NAILS_PER_PANEL",
    "wrapper": "nailsPerPanel",
    "description": "Nails of one loose piece: round its edges and on the studs between.",
    "parameters": [
      {
        "name": "width",
        "description": "Piece width.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "height",
        "description": "Piece height.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "edge_spacing",
        "description": "Edge nailing, from the engineer's schedule.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "field_spacing",
        "description": "Field nailing, from the engineer's schedule.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "spacing",
        "description": "Stud spacing. If omitted, 16.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Nails.",
    "spills": false
  },
  {
    "name": "NAILS_PER_WALL",
    "wrapper": "nailsPerWall",
    "description": "Nails of a plain wall.",
    "parameters": [
      {
        "name": "length",
        "description": "Framing length, corner to corner.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "height",
        "description": "Sheathed height, rips included.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "thickness",
        "description": "Panel thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "left_end",
        "description": "How the left end meets its neighbor: past, flush, tight, short or free.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "right_end",
        "description": "How the right end meets its neighbor: past, flush, tight, short or free.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "edge_spacing",
        "description": "Edge nailing, from the engineer's schedule.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "field_spacing",
        "description": "Field nailing, from the engineer's schedule.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "spacing",
        "description": "Stud spacing. If omitted, 16.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "rip_height",
        "description": "Height of the rip course. If omitted, none.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Nails.",
    "spills": false
  },
  {
    "name": "NAIL_BOXES",
    "wrapper": "nailBoxes",
    "description": "Whole boxes of one nail for the house, rounded up once.",
    "parameters": [
      {
        "name": "nails",
        "description": "Nails needed over the whole house.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "nails_per_box",
        "description": "Nails in a box.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "extra",
        "description": "Spare share. If omitted, 0.05, which is 5 %.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Boxes.",
    "spills": false
  },
  {
    "name": "BACKING_STUDS",
    "wrapper": "backingStuds",
    "description": "Backing pieces behind panels that stop short at inside corners.",
    "parameters": [
      {
        "name": "inside_corners",
        "description": "How many inside corners.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "thickness",
        "description": "Panel thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "method",
        "description": "stud, or channel (3 members). If omitted, stud.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "nailing",
        "description": "Nailing surface wanted. If omitted, 0.75.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "stud",
        "description": "Stud thickness. If omitted, 1.5.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Pieces.",
    "spills": false
  },
  {
    "name": "RIP_HEIGHT",
    "wrapper": "ripHeight",
    "description": "Height of the rips, from the bottom lap up to the block line; at most the width of a panel, 48 inches.",
    "parameters": [
      {
        "name": "block_line",
        "description": "Height of the block line above the deck.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "below",
        "description": "How far sheathing laps down past the deck.",
        "optional": false,
        "matrix": false
      }
    ],
    "returns": "Inches.",
    "spills": false
  },
  {
    "name": "RIPS_PER_PANEL",
    "wrapper": "ripsPerPanel",
    "description": "Rips of full length from one panel, the saw cuts between them allowed for.",
    "parameters": [
      {
        "name": "rip_height",
        "description": "Height of a rip.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "panel_width",
        "description": "Panel width. If omitted, 48.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "kerf",
        "description": "Width of a saw cut. If omitted, 0.125.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Rips.",
    "spills": false
  },
  {
    "name": "ROUTER_BIT",
    "wrapper": "routerBit",
    "description": "Cutting length of the router bit that trims openings.",
    "parameters": [
      {
        "name": "thickness",
        "description": "Panel thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "clearance",
        "description": "How far the bit passes the panel. If omitted, 0.25.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Inches.",
    "spills": false
  },
  {
    "name": "FOAM_R",
    "wrapper": "foamR",
    "description": "R of the foam.",
    "parameters": [
      {
        "name": "foam",
        "description": "Foam thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "r_per_inch",
        "description": "R per inch from the label; cold foam insulates less.",
        "optional": false,
        "matrix": false
      }
    ],
    "returns": "R, h ft2 F/Btu.",
    "spills": false
  },
  {
    "name": "WALL_R",
    "wrapper": "wallR",
    "description": "Whole-wall R by parallel paths.",
    "parameters": [
      {
        "name": "cavity_r",
        "description": "R of the insulation between the studs; an empty bay is about 0.91.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "foam_r",
        "description": "R of the foam; 0 for none.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "stud_depth",
        "description": "Depth of the studs.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "framing",
        "description": "Share of the wall that is framing. If omitted, 0.25.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "other_r",
        "description": "R of all other layers. If omitted, 2.05.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "wood_r_per_inch",
        "description": "R per inch of the studs. If omitted, 1.25.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "R, h ft2 F/Btu.",
    "spills": false
  },
  {
    "name": "WALL_R_ISOTHERMAL",
    "wrapper": "wallRIsothermal",
    "description": "Whole-wall R by isothermal planes: the lower of the two usual estimates.",
    "parameters": [
      {
        "name": "cavity_r",
        "description": "R of the insulation between the studs; an empty bay is about 0.91.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "foam_r",
        "description": "R of the foam; 0 for none.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "stud_depth",
        "description": "Depth of the studs.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "framing",
        "description": "Share of the wall that is framing. If omitted, 0.25.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "other_r",
        "description": "R of all other layers. If omitted, 2.05.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "wood_r_per_inch",
        "description": "R per inch of the studs. If omitted, 1.25.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "R, h ft2 F/Btu.",
    "spills": false
  },
  {
    "name": "WALL_U",
    "wrapper": "wallU",
    "description": "Whole-wall U by parallel paths.",
    "parameters": [
      {
        "name": "cavity_r",
        "description": "R of the insulation between the studs; an empty bay is about 0.91.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "foam_r",
        "description": "R of the foam; 0 for none.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "stud_depth",
        "description": "Depth of the studs.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "framing",
        "description": "Share of the wall that is framing. If omitted, 0.25.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "other_r",
        "description": "R of all other layers. If omitted, 2.05.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "wood_r_per_inch",
        "description": "R per inch of the studs. If omitted, 1.25.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "U, Btu/(h ft2 F).",
    "spills": false
  },
  {
    "name": "BRIDGING_LOSS",
    "wrapper": "bridgingLoss",
    "description": "Share of the cavity path's R that the framing takes away.",
    "parameters": [
      {
        "name": "cavity_r",
        "description": "R of the insulation between the studs; an empty bay is about 0.91.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "foam_r",
        "description": "R of the foam; 0 for none.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "stud_depth",
        "description": "Depth of the studs.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "framing",
        "description": "Share of the wall that is framing. If omitted, 0.25.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "other_r",
        "description": "R of all other layers. If omitted, 2.05.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "wood_r_per_inch",
        "description": "R per inch of the studs. If omitted, 1.25.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Fraction, 0 to 1.",
    "spills": false
  },
  {
    "name": "DEW_POINT",
    "wrapper": "dewPoint",
    "description": "Dew point of a room's air.",
    "parameters": [
      {
        "name": "temperature_f",
        "description": "Air temperature, degrees F.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "humidity",
        "description": "Relative humidity, 0 to 1.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "place",
        "description": "room, or outdoors for air below freezing. If omitted, room.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Degrees F.",
    "spills": false
  },
  {
    "name": "FOAM_FACE_TEMPERATURE",
    "wrapper": "foamFaceTemperature",
    "description": "Temperature of the foam's inner face, where moisture would condense, along the cavity path.",
    "parameters": [
      {
        "name": "indoor_f",
        "description": "Room temperature, degrees F.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "outdoor_f",
        "description": "Outdoor temperature, degrees F.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "cavity_r",
        "description": "R of the insulation between the studs; an empty bay is about 0.91.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "foam_r",
        "description": "R of the foam.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "inside_r",
        "description": "R of the inside film and gypsum. If omitted, 1.13.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "outside_r",
        "description": "R of all outboard of the foam. If omitted, 1.35.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Degrees F.",
    "spills": false
  },
  {
    "name": "FOAM_R_NEEDED",
    "wrapper": "foamRNeeded",
    "description": "Least foam R of the code table for a class III vapor retarder.",
    "parameters": [
      {
        "name": "climate_zone",
        "description": "Climate zone, as 5, 5A, 4C or Marine 4.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "stud_depth",
        "description": "Depth of the studs.",
        "optional": false,
        "matrix": false
      }
    ],
    "returns": "R, h ft2 F/Btu.",
    "spills": false
  },
  {
    "name": "WALL_U_LIMIT",
    "wrapper": "wallULimit",
    "description": "Largest whole-wall U the energy code's table allows.",
    "parameters": [
      {
        "name": "climate_zone",
        "description": "Climate zone, as 5, 5A, 4C or Marine 4.",
        "optional": false,
        "matrix": false
      }
    ],
    "returns": "U, Btu/(h ft2 F).",
    "spills": false
  },
  {
    "name": "VAPOR_RETARDER",
    "wrapper": "vaporRetarder",
    "description": "What vapor retarder may stand inside a wall with foam outside.",
    "parameters": [
      {
        "name": "climate_zone",
        "description": "Climate zone, as 5, 5A, 4C or Marine 4.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "stud_depth",
        "description": "Depth of the studs.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "foam_r",
        "description": "R of the foam.",
        "optional": false,
        "matrix": false
      }
    ],
    "returns": "Advice; the local code decides.",
    "spills": false
  },
  {
    "name": "HEAT_SAVED",
    "wrapper": "heatSaved",
    "description": "Heat saved in a year when a wall's U falls: a plain degree-day estimate.",
    "parameters": [
      {
        "name": "wall_area",
        "description": "Solid wall, openings left out, square feet.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "u_before",
        "description": "U without the foam.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "u_after",
        "description": "U with the foam.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "degree_days",
        "description": "Heating degree days of a year, base 65 F.",
        "optional": false,
        "matrix": false
      }
    ],
    "returns": "Btu a year.",
    "spills": false
  },
  {
    "name": "NAIL_LATERAL",
    "wrapper": "nailLateral",
    "description": "Reference lateral value of one nail through the foam as a gap: a comparison for the engineer, never a shear-wall capacity.",
    "parameters": [
      {
        "name": "nail_length",
        "description": "Nail length.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "nail_diameter",
        "description": "Nail diameter.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "panel",
        "description": "Wood structural panel thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "foam",
        "description": "Foam thickness; 0 is the panel tight to the stud.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "stud_gravity",
        "description": "Specific gravity of the stud. If omitted, 0.42.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "panel_gravity",
        "description": "Specific gravity of the panel. If omitted, 0.5.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Pounds.",
    "spills": false
  },
  {
    "name": "NAIL_YIELD_MODES",
    "wrapper": "nailYieldModes",
    "description": "Every yield mode of one nail through the foam as a gap: a comparison for the engineer, never a shear-wall capacity.",
    "parameters": [
      {
        "name": "nail_length",
        "description": "Nail length.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "nail_diameter",
        "description": "Nail diameter.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "panel",
        "description": "Wood structural panel thickness.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "foam",
        "description": "Foam thickness; 0 is the panel tight to the stud.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "stud_gravity",
        "description": "Specific gravity of the stud. If omitted, 0.42.",
        "optional": true,
        "matrix": false
      },
      {
        "name": "panel_gravity",
        "description": "Specific gravity of the panel. If omitted, 0.5.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Table: Mode, Value, Governs.",
    "spills": true
  },
  {
    "name": "HOUSE_SETTINGS",
    "wrapper": "houseSettings",
    "description": "A fresh settings table with every name and its default.",
    "parameters": [],
    "returns": "Table: Setting, Value.",
    "spills": true
  },
  {
    "name": "HOUSE_ORDER",
    "wrapper": "houseOrder",
    "description": "The purchase list of a house, in whole packages.",
    "parameters": [
      {
        "name": "walls",
        "description": "The Walls table with its header row.",
        "optional": false,
        "matrix": true
      },
      {
        "name": "openings",
        "description": "The Openings table with its header row.",
        "optional": false,
        "matrix": true
      },
      {
        "name": "settings",
        "description": "The settings: names and values in two columns.",
        "optional": false,
        "matrix": true
      }
    ],
    "returns": "Table: Item, Size, Needed, Unit, Extra, Per package, Order, Note.",
    "spills": true
  },
  {
    "name": "HOUSE_WALLS",
    "wrapper": "houseWalls",
    "description": "One row a wall: run, burn, pieces, seam feet, nails and backing.",
    "parameters": [
      {
        "name": "walls",
        "description": "The Walls table with its header row.",
        "optional": false,
        "matrix": true
      },
      {
        "name": "openings",
        "description": "The Openings table with its header row.",
        "optional": false,
        "matrix": true
      },
      {
        "name": "settings",
        "description": "The settings: names and values in two columns.",
        "optional": false,
        "matrix": true
      }
    ],
    "returns": "Table: Wall, Run, Burn at start, From, Pieces, Rips, Seam feet, Nails, Backing, Quantity.",
    "spills": true
  },
  {
    "name": "HOUSE_PIECES",
    "wrapper": "housePieces",
    "description": "Every piece of the house, where it stands and what is routed out of it.",
    "parameters": [
      {
        "name": "walls",
        "description": "The Walls table with its header row.",
        "optional": false,
        "matrix": true
      },
      {
        "name": "openings",
        "description": "The Openings table with its header row.",
        "optional": false,
        "matrix": true
      },
      {
        "name": "settings",
        "description": "The settings: names and values in two columns.",
        "optional": false,
        "matrix": true
      }
    ],
    "returns": "Table: Wall, Piece, x, y, Width, Left height, Right height, Routed openings, Top turns at.",
    "spills": true
  },
  {
    "name": "HOUSE_CUTS",
    "wrapper": "houseCuts",
    "description": "The cut plan: every panel bought and scrap used, with the pieces cut from it.",
    "parameters": [
      {
        "name": "walls",
        "description": "The Walls table with its header row.",
        "optional": false,
        "matrix": true
      },
      {
        "name": "openings",
        "description": "The Openings table with its header row.",
        "optional": false,
        "matrix": true
      },
      {
        "name": "settings",
        "description": "The settings: names and values in two columns.",
        "optional": false,
        "matrix": true
      }
    ],
    "returns": "Table: Panel, Stock, Piece, x, y, Width, Height, Turned, From scrap.",
    "spills": true
  },
  {
    "name": "HOUSE_MARKS",
    "wrapper": "houseMarks",
    "description": "The crew's marks for one wall, rake or not.",
    "parameters": [
      {
        "name": "wall",
        "description": "Name of the wall.",
        "optional": false,
        "matrix": false
      },
      {
        "name": "walls",
        "description": "The Walls table with its header row.",
        "optional": false,
        "matrix": true
      },
      {
        "name": "openings",
        "description": "The Openings table with its header row.",
        "optional": false,
        "matrix": true
      },
      {
        "name": "settings",
        "description": "The settings: names and values in two columns.",
        "optional": false,
        "matrix": true
      }
    ],
    "returns": "Table: Mark, Center, Near edge, Far edge, Tape reading, Tape, Panel breaks, Long point, Stud length, Bevel, Note.",
    "spills": true
  },
  {
    "name": "HOUSE_CHECKS",
    "wrapper": "houseChecks",
    "description": "Findings: what to fix, what to look at, what to know, and the cautions.",
    "parameters": [
      {
        "name": "walls",
        "description": "The Walls table with its header row.",
        "optional": false,
        "matrix": true
      },
      {
        "name": "openings",
        "description": "The Openings table with its header row.",
        "optional": false,
        "matrix": true
      },
      {
        "name": "settings",
        "description": "The settings: names and values in two columns.",
        "optional": false,
        "matrix": true
      }
    ],
    "returns": "Table: Level, Wall, Finding, What to do.",
    "spills": true
  },
  {
    "name": "HOUSE_WALL_R",
    "wrapper": "houseWallR",
    "description": "R and U of the walls of a house by area, over its real studs, plates, headers and openings.",
    "parameters": [
      {
        "name": "walls",
        "description": "The Walls table with its header row.",
        "optional": false,
        "matrix": true
      },
      {
        "name": "openings",
        "description": "The Openings table with its header row.",
        "optional": false,
        "matrix": true
      },
      {
        "name": "settings",
        "description": "The settings: names and values in two columns. Cavity R and, where there is foam, Foam R per inch are needed.",
        "optional": false,
        "matrix": true
      },
      {
        "name": "header_depth",
        "description": "Depth of the headers, inches. If omitted, 9-1/4.",
        "optional": true,
        "matrix": false
      }
    ],
    "returns": "Table: Item, Value, Unit, Note.",
    "spills": true
  },
  {
    "name": "VERSION",
    "wrapper": "version",
    "description": "Which build of the functions answers.",
    "parameters": [],
    "returns": "Text.",
    "spills": false
  }
];
