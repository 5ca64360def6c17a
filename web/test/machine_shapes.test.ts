import { Matrix4, Vector3 } from "three";
import { expect, test } from "vitest";
import { carriedBy, MOST_STATIONS, setStations, stations } from "../src/machine/bend";
import { cutLines, planeOf } from "../src/machine/cut";
import { drawn, STEPS } from "../src/machine/geometry";
import { Toolpath, upTo } from "../src/machine/path";
import type { Shape } from "../src/contract";

const TUBE: Shape = {
  id: "tube", kind: "extrusion",
  rings: [[[-0.04, -0.05], [0.04, -0.05], [0.04, 0.05], [-0.04, 0.05]], [[-0.03, -0.04], [-0.03, 0.04], [0.03, 0.04], [0.03, -0.04]]],
};

/** Volume inside of faces, by the divergence theorem: right only where they are closed and all face outwards. */
function volume(shape: Shape, steps = 1): number {
  const { faces } = drawn(shape, steps);
  const place = faces.attributes.position;
  const index = faces.index;
  const at = (i: number): Vector3 => new Vector3().fromBufferAttribute(place, index ? index.getX(i) : i);
  let sum = 0;
  for (let i = 0; i < (index ? index.count : place.count); i += 3) sum += at(i).dot(at(i + 1).cross(at(i + 2))) / 6;
  return sum;
}

test.each([1, STEPS])("faces are closed and face outwards, in %i steps", (steps) => {
  expect(volume({ id: "box", kind: "box" }, steps)).toBeCloseTo(1, 9);
  const round = 0.25 * (28 / 2) * Math.sin((2 * Math.PI) / 28); // of a polygon of 28 sides in a circle of diameter 1
  expect(volume({ id: "c", kind: "cylinder" }, steps)).toBeCloseTo(round, 6);
  expect(volume(TUBE, steps)).toBeCloseTo(0.08 * 0.1 - 0.06 * 0.08, 9);
});

test("a section keeps its width along y and its height along z, and is pushed along x", () => {
  const { faces } = drawn(TUBE);
  faces.computeBoundingBox();
  expect(faces.boundingBox!.min.toArray().map((v) => +v.toFixed(6))).toEqual([-0.5, -0.04, -0.05]);
  expect(faces.boundingBox!.max.toArray().map((v) => +v.toFixed(6))).toEqual([0.5, 0.04, 0.05]);
});

/** Lengths of always drawn ink by direction: along the piece, and across it. */
function ink(shape: Shape, steps = 1): { along: number; across: number; soft: number } {
  const { ink: made } = drawn(shape, steps);
  const { position, sharp } = made.attributes;
  const told = { along: 0, across: 0, soft: 0 };
  for (let i = 0; i < position.count; i += 2) {
    const a = new Vector3().fromBufferAttribute(position, i);
    const b = new Vector3().fromBufferAttribute(position, i + 1);
    const kind = sharp.getX(i) === 0 ? "soft" : Math.abs(b.x - a.x) > 1e-9 ? "along" : "across";
    told[kind] += a.distanceTo(b);
  }
  return told;
}

test("ink lies on edges and not on flat faces, in steps along a piece", () => {
  expect(ink({ id: "box", kind: "box" })).toEqual({ along: expect.closeTo(4, 6), across: expect.closeTo(8, 6), soft: 0 });
  const tube = ink(TUBE);
  expect(tube.along).toBeCloseTo(8, 6);
  expect(tube.across).toBeCloseTo(2 * (0.36 + 0.28), 6);
  expect(ink(TUBE, STEPS)).toEqual({ along: expect.closeTo(tube.along, 6), across: expect.closeTo(tube.across, 6), soft: 0 });
  const pieces = drawn({ id: "box", kind: "box" }, STEPS).ink.attributes.position.count / 2;
  expect(pieces).toBe(4 * STEPS + 8);
});

test("a round piece has ink round its ends, and lines that show only where it turns away", () => {
  const round = ink({ id: "c", kind: "cylinder" });
  const circle = 28 * Math.sin(Math.PI / 28);
  expect(round.across).toBeCloseTo(2 * circle, 5);
  expect(round.along).toBe(0);
  expect(round.soft).toBeCloseTo(28, 4);
});

test("only sections with many lines are dense", () => {
  expect(drawn({ id: "box", kind: "box" }).dense).toBe(0);
  expect(drawn(TUBE).dense).toBeCloseTo(4 / 0.36, 6);
});

test("between stations shift and turn run evenly, beyond them they hold", () => {
  const moves = stations({ value: 10 });
  const arm = new Vector3(0, 0, 0.1);
  expect(carriedBy(moves, 0, arm).length()).toBe(0);
  setStations(moves, [[-0.5, 0, 0, 0, 0, 0, 0], [0, 1e-3, 0, 0, 0, 0, 0], [0.5, 1e-3, 2e-3, 0, 0.01, 0, 0]]);
  expect(carriedBy(moves, -0.25, arm).toArray()).toEqual([expect.closeTo(5e-3, 9), 0, 0]);
  const end = carriedBy(moves, 0.5, arm);
  // about x by 0.01 rad a place 0.1 m above goes back by 1 mm
  expect(end.toArray()).toEqual([expect.closeTo(1e-2, 9), expect.closeTo(10 * (2e-3 - 1e-3), 9), expect.closeTo(0, 9)]);
  expect(carriedBy(moves, 0.7, arm).toArray()).toEqual(end.toArray());
});

test("more stations than the pens hold are thinned, the ends kept", () => {
  const moves = stations({ value: 1 });
  const rows = Array.from({ length: 25 }, (_, i) => [i / 24 - 0.5, i, 0, 0, 0, 0, 0]);
  setStations(moves, rows);
  expect(moves.uCount.value).toBe(MOST_STATIONS);
  expect(moves.uAlong.value.slice(0, MOST_STATIONS)).toEqual([...moves.uAlong.value].sort((a, b) => a - b));
  expect(moves.uShift.value[0].x).toBe(0);
  expect(moves.uShift.value[MOST_STATIONS - 1].x).toBe(24);
});

test("a cut is outlined where the plane goes through, all the way round", () => {
  const lines: number[] = [];
  const { faces } = drawn(TUBE);
  const place = new Matrix4().makeScale(2, 1, 1).setPosition(1, 0, 0);
  cutLines(faces, place, planeOf({ axis: "x", at: 0.61, keeps: 1 }), lines);
  let round = 0;
  for (let i = 0; i < lines.length; i += 6) {
    expect(lines[i]).toBeCloseTo(0.61, 6);
    round += Math.hypot(lines[i + 4] - lines[i + 1], lines[i + 5] - lines[i + 2]);
  }
  expect(round).toBeCloseTo(0.36 + 0.28, 6);
  const none: number[] = [];
  cutLines(faces, place, planeOf({ axis: "z", at: 0.2, keeps: 1 }), none);
  expect(none).toEqual([]);
});

test("the side that stays is the one that was asked for", () => {
  expect(planeOf({ axis: "y", at: 0.3, keeps: 1 }).distanceToPoint(new Vector3(0, 0.1, 0))).toBeCloseTo(0.2);
  expect(planeOf({ axis: "y", at: 0.3, keeps: -1 }).distanceToPoint(new Vector3(0, 0.1, 0))).toBeCloseTo(-0.2);
});

test("a path is shown until a time, and its buffer grows only when it must", () => {
  const path = new Toolpath();
  path.set(new Float32Array([0, 0, 0, 0, 1, 0, 0, 1, 1, 1, 0, 1, 1, 1, 1, 4]));
  const shown = (): number => path.line.geometry.drawRange.count;
  expect(shown()).toBe(4);
  for (const [time, count] of [[-1, 0], [0, 1], [1, 3], [3.9, 3], [4, 4]]) {
    path.until(time);
    expect(shown()).toBe(count);
  }
  const buffer = path.line.geometry.attributes.position;
  path.set(new Float32Array([5, 6, 7, 0, 8, 9, 10, 1]));
  expect(path.line.geometry.attributes.position).toBe(buffer);
  expect([...buffer.array.slice(0, 6)]).toEqual([5, 6, 7, 8, 9, 10]);
  expect(shown()).toBe(2);
  path.set(new Float32Array(4 * 100));
  expect(path.line.geometry.attributes.position).not.toBe(buffer);
  path.set(new Float32Array());
  expect(path.line.visible).toBe(false);
});

test("times that are equal all belong to what is over", () => {
  expect(upTo([0, 1, 1, 1, 2], 1)).toBe(4);
  expect(upTo([], 1)).toBe(0);
});
