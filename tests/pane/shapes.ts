/** Drawings as the tests look at them: elements by their class, where shapes and texts come out. */
import { all, type Node } from "../xml.js";

export function classed(node: Node, className: string): Node[] {
  return all(node, (each) => (each.attributes.class ?? "").split(" ").includes(className));
}

/** Points a shape goes through, for the straight-line paths that the drawings are made of. */
export function pointsOf(node: Node): [number, number][] {
  const value = (key: string): number => Number(node.attributes[key] ?? NaN);
  switch (node.name) {
    case "line":
      return [
        [value("x1"), value("y1")],
        [value("x2"), value("y2")],
      ];
    case "rect":
      return [
        [value("x"), value("y")],
        [value("x") + value("width"), value("y") + value("height")],
      ];
    case "circle":
      return [
        [value("cx") - value("r"), value("cy") - value("r")],
        [value("cx") + value("r"), value("cy") + value("r")],
      ];
    case "path": {
      const numbers = (node.attributes.d ?? "").match(/-?\d+(\.\d+)?/g) ?? [];
      return Array.from({ length: numbers.length / 2 }, (_, index) => [
        Number(numbers[2 * index]),
        Number(numbers[2 * index + 1]),
      ]);
    }
    default:
      return [];
  }
}

export interface TextBox {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Average width of a letter and height of a capital, in parts of the font size: common practice. */
const LETTER = 0.52;
const NARROW_LETTER = 0.3;
const CAPITAL = 0.72;

/** Where a text comes out, by an estimate of its own: not the one the drawings use. */
export function textBox(node: Node): TextBox {
  const size = Number(node.attributes["font-size"]);
  const x = Number(node.attributes.x);
  const y = Number(node.attributes.y);
  const wide = [...node.text].reduce(
    (sum, char) => sum + (/[ '"ijlt.,:;/-]/.test(char) ? NARROW_LETTER : LETTER) * size,
    0
  );
  const anchor = node.attributes["text-anchor"] ?? "start";
  const from = anchor === "middle" ? -wide / 2 : anchor === "end" ? -wide : 0;
  const turned = node.attributes.transform;
  if (turned === undefined) {
    return {
      text: node.text,
      left: x + from,
      right: x + from + wide,
      top: y - CAPITAL * size,
      bottom: y,
    };
  }
  if (!/^rotate\(-90 /.test(turned)) throw new Error(`transform ${turned}`);
  return {
    text: node.text,
    left: x - CAPITAL * size,
    right: x,
    top: y - from - wide,
    bottom: y - from,
  };
}

export function overlapping(a: TextBox, b: TextBox): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}
