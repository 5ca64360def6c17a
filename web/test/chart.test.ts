import { expect, test } from "vitest";
import { freePlace, nearest, styleOf } from "../src/chart";
import { moved } from "../src/lines";
import { cellAt, edges, layout, scaleOf } from "../src/map";
import { movedCell, poseAt } from "../src/heat";
import { picture, pictureOfBoth } from "./pictures";

const room = { left: 0, top: 0, right: 200, bottom: 100 };

test("lines of a picture differ in dash, so that they are told apart without colour", () => {
  for (const id of ["block-loads", "force-speed", "receptance"]) {
    const dashes = picture(id).series.map((s, i) => styleOf(s, i).dash.join(" "));
    expect(new Set(dashes).size).toBe(dashes.length);
  }
});

test("of two machines each has one colour, and its lines keep their dashes", () => {
  const { series } = pictureOfBoth("force-speed");
  const [first, second] = ["first idea", "as built"].map((name) => series.filter((s) => s.name.endsWith(name)).map((s) => styleOf(s, series.indexOf(s))));
  expect(new Set(first.map((s) => s.color)).size).toBe(1);
  expect(second[0].color).not.toBe(first[0].color);
  expect(second.map((s) => s.dash)).toEqual(first.map((s) => s.dash));
});

test("the nearest value that a line has is found on either side", () => {
  expect(nearest([1, undefined, undefined, null, 5], 1)).toBe(0);
  expect(nearest([1, undefined, undefined, null, 5], 3)).toBe(4);
  expect(nearest([undefined], 0)).toBe(0);
});

test("words stand inside, over no others, and beside the lines where they can", () => {
  const place = freePlace(195, 5, 60, 14, 8, room, [])!;
  expect(place.right).toBeLessThanOrEqual(200);
  expect(place.top).toBeGreaterThanOrEqual(0);
  const first = freePlace(100, 50, 60, 14, 8, room, [])!;
  const second = freePlace(100, 50, 60, 14, 8, room, [first])!;
  expect(second.left >= first.right || second.right <= first.left || second.top >= first.bottom || second.bottom <= first.top).toBe(true);
  const line = Array.from({ length: 200 }, (_, x): [number, number] => [x, first.top + 7]);
  const beside = freePlace(100, 50, 60, 14, 8, room, [], line)!;
  expect(line.some(([x, y]) => x > beside.left && x < beside.right && y > beside.top && y < beside.bottom)).toBe(false);
  expect(freePlace(100, 50, 300, 14, 8, room, [])).toBeNull();
});

test("words stand farther off rather than over a line, and those that may cover none nowhere where they would", () => {
  const covered = (box: { left: number; right: number; top: number; bottom: number }, line: [number, number][]) =>
    line.filter(([x, y]) => x > box.left && x < box.right && y > box.top && y < box.bottom).length;
  const steep = [60, 100, 140].flatMap((x) => [35, 50, 65].map((y): [number, number] => [x, y])); // all next places cover one place of it
  const place = freePlace(100, 50, 60, 14, 8, room, [], steep)!;
  expect(covered(place, steep)).toBe(0);
  const full = Array.from({ length: 400 }, (_, k): [number, number] => [(k % 20) * 10, Math.floor(k / 20) * 5]);
  expect(freePlace(100, 50, 60, 14, 8, room, [], full)).not.toBeNull();
  expect(freePlace(100, 50, 60, 14, 8, room, [], full, 0)).toBeNull();
});

test("keys read along a chart and go from mark to mark", () => {
  const p = picture("receptance");
  const places = p.series[0].points.map(([x]) => x);
  const go = (key: string, at: number | null, fine = false) => moved(key, fine, at, places, p);
  expect(go("ArrowRight", null)).toBe(places[0]);
  expect(go("ArrowRight", places[0], true)).toBe(places[1]);
  expect(go("ArrowLeft", places[0])).toBe(places[0]);
  expect(go("End", null)).toBe(places.at(-1));
  expect(go("Tab", null)).toBeUndefined();
  expect(go("Escape", null)).toBeUndefined();
  expect(go("Escape", 30)).toBeNull();
  const marks = p.marks.map((m) => m.x);
  const first = go("PageUp", null)!;
  expect(Math.min(...marks.map((m) => Math.abs(m - first)))).toBeLessThan(2);
  expect(go("PageUp", first)!).toBeGreaterThan(first);
  expect(go("PageDown", places.at(-1)!)!).toBeGreaterThan(first);
});

test("cells meet half way between their places, and a map keeps the proportions of the table", () => {
  expect(edges([0, 2, 6])).toEqual([-1, 1, 4, 8]);
  const grid = { ...picture("stiffness-map").map!, xs: [0, 1, 2, 3], ys: [0, 1] };
  const l = layout(grid, 500, 400);
  expect(l.height / l.width).toBeCloseTo(2 / 4);
  expect(l.high).toBeLessThanOrEqual(400);
  const flat = layout({ ...grid, ys: [0, 100] }, 500, 400);
  expect(flat.high).toBeLessThanOrEqual(400.001);
});

test("the cell under the pointer is found, and none beside the map", () => {
  const grid = picture("stiffness-map").map!;
  const l = layout(grid, 500, 400);
  expect(cellAt(l, l.left + 1, l.top + l.height - 1)).toEqual([0, 0]);
  expect(cellAt(l, l.left + l.width - 1, l.top + 1)).toEqual([grid.xs.length - 1, grid.ys.length - 1]);
  expect(cellAt(l, l.left - 5, l.top + 5)).toBeNull();
  expect(cellAt(l, l.left + 5, l.top + l.height + 5)).toBeNull();
});

test("keys walk over the map from the weak place and stop at its ends", () => {
  const grid = picture("stiffness-map").map!;
  const start = movedCell("ArrowUp", null, grid)!;
  expect([grid.xs[start[0]], grid.ys[start[1]]]).toEqual([grid.worst!.x, grid.worst!.y]);
  expect(movedCell("ArrowRight", [1, 2], grid)).toEqual([2, 2]);
  expect(movedCell("ArrowUp", [1, 2], grid)).toEqual([1, 3]);
  expect(movedCell("Home", [3, 2], grid)).toEqual([0, 2]);
  expect(movedCell("ArrowDown", [1, 0], grid)).toEqual([1, 0]);
  expect(movedCell("a", [1, 0], grid)).toBeNull();
});

test("the machine stands at a cell in metres, by the names of its axes", () => {
  const grid = picture("stiffness-map").map!;
  expect(poseAt(grid, 3, 6)).toEqual({ x: expect.closeTo(0.625, 9), y: expect.closeTo(1.25, 9) });
  expect(poseAt({ ...grid, axes: [] }, 3, 6)).toEqual({});
});

test("two maps are coloured on one scale", () => {
  const p = pictureOfBoth("stiffness-map");
  const known = [p.map!, p.other!].flatMap((g) => g.values.flat()).filter((v): v is number => v !== null);
  expect(scaleOf(p.map!, p.other!)).toEqual({ low: Math.min(...known), high: Math.max(...known), kind: "amount" });
  expect(scaleOf(p.other!)).toEqual(scaleOf(p.map!));
});
