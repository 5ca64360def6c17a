/** A small machine for the tests of its view: a bed, a gantry that runs along Y, a head that runs along X on it. */
import type { Motion, Piece, Scene, Tints } from "../src/contract";

const RING: [number, number][] = [[-0.04, -0.05], [0.04, -0.05], [0.04, 0.05], [-0.04, 0.05]];
const HOLE: [number, number][] = [[-0.03, -0.04], [-0.03, 0.04], [0.03, 0.04], [0.03, -0.04]];

/** Matrix of a piece with its own axes along those of the machine. */
export function at(size: [number, number, number], place: [number, number, number]): number[] {
  return [size[0], 0, 0, 0, 0, size[1], 0, 0, 0, 0, size[2], 0, ...place, 1];
}

function piece(id: number, part: string, body: string, shape: string, matrix: number[], more: Partial<Piece> = {}): Piece {
  const size: [number, number, number] = [matrix[0], matrix[5], matrix[10]];
  return {
    id, part, body, shape, matrix, size, solid: part, on: "", kind: "member", label: part, what: "", mass: 2, owned: "owned",
    material: "Structural steel", section: "", detail: [], ...more,
  };
}

export function smallScene(): Scene {
  return {
    name: "Small", show: "metric",
    shapes: [{ id: "box", kind: "box" }, { id: "cylinder", kind: "cylinder" }, { id: "tube", kind: "extrusion", rings: [RING, HOLE] }],
    pieces: [
      piece(0, "bed.top", "bed", "box", at([1, 1, 0.1], [0.5, 0.5, -0.05]), { kind: "layer", material: "Birch plywood" }),
      piece(1, "gantry.beam", "gantry", "tube", at([1, 1, 1], [0.5, 0.5, 0.3]), {
        size: [1, 0.08, 0.1], detail: [["Length", "1000 mm"], ["Height x width", "100 x 80 mm"]],
      }),
      piece(2, "spindle", "head", "cylinder", at([0.2, 0.08, 0.08], [0.5, 0.3, 0.3]), { kind: "spindle" }),
      piece(3, "spindle.mount", "head", "box", at([0.1, 0.1, 0.1], [0.5, 0.42, 0.3])),
      piece(4, "purpose.work_area", "bed", "box", at([0.8, 0.8, 0.2], [0.5, 0.5, 0.1]), { kind: "work" }),
    ],
    bodies: [
      { name: "bed", words: "Bed", on: "", axis: "", sign: 0, children: ["gantry"] },
      { name: "gantry", words: "Gantry", on: "bed", axis: "y", sign: 1, children: ["head"] },
      { name: "head", words: "Head", on: "gantry", axis: "x", sign: 1, children: [] },
    ],
    axes: [
      { name: "x", direction: [1, 0, 0], sign: 1, travel: 0.8, drawn: 0.4, moves: { head: [1, 0, 0] } },
      { name: "y", direction: [0, 1, 0], sign: 1, travel: 0.6, drawn: 0.3, moves: { gantry: [0, 1, 0], head: [0, 1, 0] } },
    ],
    box: [[0, 0, -0.1], [1, 1, 0.35]], work: [[0.1, 0.1, 0], [0.9, 0.9, 0.2]], zero: [0, 0, 0],
  };
}

export function swaying(): Motion {
  const whole = (y: number): Motion["pieces"][number] => [[-0.5, 0, y, 0, 0, 0, 0], [0.5, 0, y, 0, 0, 0, 0]];
  return { name: "1 N on the tool along Y", unit: "m per newton", pose: { x: 0, y: 0.3 }, greatest: 2e-6, pieces: [[], whole(1e-6), whole(2e-6), whole(2e-6), []] };
}

export function tinted(by: Tints["by"], values: (number | string | null)[], scale: Tints["scale"], texts: string[] = []): Tints {
  return { by, pieces: values.map((value, id) => ({ id, value, text: texts[id] ?? "" })), scale, words: "What it tells." };
}
