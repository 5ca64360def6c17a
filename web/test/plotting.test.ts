import { describe, expect, test } from "vitest";
import type { Picture, Series } from "../src/contract";
import { aligned, isEmpty, named, rangesOf, readAt, short, tableOf, ticks, told, toldCell } from "../src/plotting";
import { picture, pictureOfBoth, rows } from "./pictures";

const line = (name: string, points: [number, number | null][], more: Partial<Series> = {}): Series => ({ name, points, dash: "", band: [], mark: "", ...more });
const empty: Picture = { id: "x", title: "X", words: "nothing: no motor", kind: "lines", key: [], x: null, y: null, series: [], marks: [], map: null, bars: [], columns: [], rows: [] };
const drawn = (series: Series[], more: Partial<Picture> = {}): Picture => ({
  ...empty,
  x: { label: "speed", unit: "m/min", log: false },
  y: { label: "force", unit: "N", log: false },
  series,
  ...more,
});

test("lines over other places share one row of places; a meant gap stays apart from a place that a line does not have", () => {
  const [xs, a, b] = aligned([line("A", [[0, 1], [2, null], [4, 3]]), line("B", [[1, 5], [4, 6]])]);
  expect(xs).toEqual([0, 1, 2, 4]);
  expect(a).toEqual([1, undefined, null, 3]);
  expect(b).toEqual([undefined, 5, undefined, 6]);
});

describe("ranges", () => {
  test("hold lines, bands and marks", () => {
    const { x, y } = rangesOf(drawn([line("A", [[10, 50], [20, 60]], { band: [[10, 40, 90]] })], { marks: [{ x: 30, y: 5, text: "wanted" }] }));
    expect(x[0]).toBeLessThanOrEqual(10);
    expect(x[1]).toBeGreaterThanOrEqual(30);
    expect(y[0]).toBeLessThanOrEqual(5);
    expect(y[1]).toBeGreaterThanOrEqual(90);
  });

  test("of a picture of a machine hold every mark: the wanted rapid lies in view however slow the axis is", () => {
    for (const id of ["force-speed", "block-loads", "receptance"]) {
      const p = picture(id);
      const { x, y } = rangesOf(p);
      for (const m of p.marks) {
        expect(m.x).toBeGreaterThanOrEqual(x[0]);
        expect(m.x).toBeLessThanOrEqual(x[1]);
        expect(m.y).toBeGreaterThanOrEqual(y[0]);
        expect(m.y).toBeLessThanOrEqual(y[1]);
      }
    }
  });

  test("a linear axis begins at zero where that is near, a logarithmic one never reaches it", () => {
    expect(rangesOf(drawn([line("A", [[1, 2], [2, 9]])])).y[0]).toBe(0);
    expect(rangesOf(drawn([line("A", [[1, 100], [2, 101]])])).y[0]).toBeGreaterThan(99);
    const log = { label: "f", unit: "Hz", log: true };
    const { y } = rangesOf(drawn([line("A", [[1, 0], [2, 0.1], [3, 10]])], { y: log }));
    expect(y[0]).toBeGreaterThan(0);
    expect(y[0]).toBeLessThanOrEqual(0.1);
  });

  test("one point, or a level line, still has a range", () => {
    const { x, y } = rangesOf(drawn([line("A", [[3, 7]])]));
    expect(x[1]).toBeGreaterThan(x[0]);
    expect(y[1]).toBeGreaterThan(y[0]);
  });
});

test("ticks are round, lie within and are about as many as wanted", () => {
  expect(ticks([0, 1250], false, 5)).toEqual([0, 250, 500, 750, 1000, 1250]);
  expect(ticks([0.32, 0.43], false, 4)).toEqual([0.325, 0.35, 0.375, 0.4, 0.425]);
  expect(ticks([5, 2000], true, 5)).toEqual([5, 10, 20, 50, 100, 200, 500, 1000, 2000]);
  expect(ticks([1e-3, 1e3], true, 5)).toEqual([0.001, 0.01, 0.1, 1, 10, 100, 1000]);
  expect(ticks([-3, 3], false, 6)).toEqual([-3, -2, -1, 0, 1, 2, 3]);
});

test("a reading is the nearest point of each line, and none where a line does not reach", () => {
  const series = [line("A", [[0, 1], [10, 2]]), line("B", [[0, 5], [4, 6]]), line("wanted", [[9, 3]], { mark: "points" })];
  expect(readAt(series, 7, false)).toEqual([[10, 2], null, [9, 3]]);
  expect(readAt([line("A", [[1, 1], [100, 2]])], 12, true)).toEqual([[100, 2]]);
  expect(told(drawn(series.slice(0, 2)), 7)).toBe("speed 7 m/min: A 2 N; B does not reach");
});

test("a place of the map is told with both coordinates, its value and unit", () => {
  const p = picture("stiffness-map");
  const [i, j] = [p.map!.xs.indexOf(p.map!.worst!.x), p.map!.ys.indexOf(p.map!.worst!.y)];
  expect(toldCell(p, p.map!, i, j)).toMatch(/^X 625 mm, Y 0 mm: 0\.32\d+ N\/um$/);
  p.map!.values[j][i] = null;
  expect(toldCell(p, p.map!, i, j)).toBe("X 625 mm, Y 0 mm: not over the table");
});

describe("as a table", () => {
  test("lines over the same places stand side by side, with their bands; others below each other", () => {
    const same = tableOf(drawn([line("A", [[1, 2], [2, 3]], { band: [[1, 1, 4]] }), line("B", [[1, 5], [2, null]])]));
    expect(same.heads).toEqual(["speed [m/min]", "A [N]", "A 5 %", "A 95 %", "B [N]"]);
    expect(same.rows).toEqual([["1", "2", "1", "4", "5"], ["2", "3", "", "", ""]]);
    const other = tableOf(drawn([line("A", [[1, 2]]), line("B", [[3, 5]])]));
    expect(other.heads).toEqual(["line", "speed [m/min]", "force [N]"]);
    expect(other.rows).toEqual([["A", "1", "2"], ["B", "3", "5"]]);
  });

  test("every picture of the demo has as many rows as it has numbers, each as wide as its heading", () => {
    for (const { id } of rows) {
      const p = picture(id);
      const t = tableOf(p);
      const wanted = { map: (p.map?.xs.length ?? 0) * (p.map?.ys.length ?? 0), bars: p.bars.length, table: p.rows.length, lines: 0 }[p.kind];
      if (wanted) expect(t.rows).toHaveLength(wanted);
      expect(t.rows.length).toBeGreaterThan(5);
      for (const row of t.rows) expect(row).toHaveLength(t.heads.length);
      expect(t.heads.join()).not.toContain("undefined");
    }
  });

  test("two machines stand side by side", () => {
    const map = tableOf(pictureOfBoth("stiffness-map"));
    expect(map.heads.slice(2)).toEqual(["first idea [N/um]", "as built [N/um]"]);
    expect(map.rows.some((r) => r[2] !== "–" && r[3] !== "–" && r[2] !== r[3])).toBe(true);
    const shares = tableOf(pictureOfBoth("shares"));
    expect(shares.heads).toEqual(["part", "first idea", "as built"]);
    expect(shares.rows.find(([part]) => part === "gantry.beam")).toEqual(["gantry.beam", "29.3 %", "38.6 %"]);
  });
});

test("a picture without numbers is empty, one with them is not", () => {
  expect(isEmpty(empty)).toBe(true);
  expect(isEmpty({ ...empty, kind: "map" })).toBe(true);
  expect(isEmpty(drawn([line("A", [[1, null]])]))).toBe(true);
  for (const { id } of rows) expect(isEmpty(picture(id))).toBe(false);
});

test("numbers are short and names carry their unit", () => {
  expect([short(0.324123), short(1832.4), short(12), short(0)]).toEqual(["0.3241", "1832", "12", "0"]);
  expect(named({ label: "speed", unit: "m/min", log: false })).toBe("speed [m/min]");
  expect(named({ label: "mode", unit: "", log: false })).toBe("mode");
});
