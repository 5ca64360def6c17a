import { expect, test } from "vitest";
import { AMOUNT, rgb, UNKNOWN } from "../src/color";
import { sameMode } from "../src/machine/motion";
import { apart, dimensionLines } from "../src/machine/overlay";
import { partsOf } from "../src/machine/parts";
import { enlarged, enlargedShort, enlargedWords, factors, grouped, length, lengthsIn, poseWords, sizeText, small } from "../src/machine/say";
import { partCounts, tintColors, tintCounts, tintEnds, tintOf, tintSigns } from "../src/machine/tints";
import { smallScene, tinted } from "./machine";

test("lengths are told in the units of the file", () => {
  expect(length(0.625, "metric")).toBe("625 mm");
  expect(length(0.0254 * 24.5, "inch")).toBe("24.5 in");
  expect(small(1.3247e-6, "metric")).toBe("1.32 um");
  expect(small(2.2e-4, "metric")).toBe("220 um");
  expect(small(0.05, "metric")).toBe("50 mm");
  expect(small(3e-9, "metric")).toBe("3 nm");
  expect(small(2.54e-6, "inch")).toBe("0.1 thousandths of an inch");
  expect(small(0.0508, "inch")).toBe("2 in");
  expect(poseWords(smallScene(), { y: 0.1 })).toBe("X 400 mm, Y 100 mm");
});

test("a drawing is enlarged by round factors, about a twentieth of the machine unless asked", () => {
  expect(factors(8, 120)).toEqual([10, 20, 50, 100]);
  const scene = { box: [[0, 0, 0], [1, 0, 0]] as [[number, number, number], [number, number, number]] };
  const { steps, usual } = enlarged({ greatest: 1e-6, unit: "m per newton" }, scene);
  expect(steps[usual]).toBe(50000);
  expect(steps[0]).toBe(2000);
  expect(steps.at(-1)).toBe(200000);
  expect(enlarged({ greatest: 0, unit: "m" }, scene)).toEqual({ steps: [1], usual: 0 });
});

test("the scale of a motion is said; a mode has none", () => {
  const bent = { greatest: 1.5e-6, unit: "m per newton" };
  expect(enlargedShort(bent, 2000, "metric")).toBe("drawn 2000 times larger");
  expect(enlargedWords(bent, 2000, "metric")).toContain("1.5 um under 1 N");
  expect(enlargedWords({ greatest: 1, unit: "largest is 1" }, 0.1, "metric")).toContain("largest movement of 100 mm");
  expect(enlargedShort({ greatest: 1, unit: "largest is 1" }, 0.1, "metric")).not.toContain("times");
});

test("sizes are taken from what the program says of a piece", () => {
  expect(lengthsIn("80 x 40.5 mm")).toEqual([{ metres: expect.closeTo(0.08, 9), text: "80 mm" }, { metres: expect.closeTo(0.0405, 9), text: "40.5 mm" }]);
  expect(lengthsIn("3.1 N m")).toEqual([]);
  expect(lengthsIn("17.5 kg")).toEqual([]);
  expect(lengthsIn("tube-80x80x4")).toEqual([]);
  const detail: [string, string][] = [["Length", "74.8 in"], ["Height x width", "3.15 x 1.57 in"]];
  expect(sizeText(1.9, detail, "inch")).toBe("74.8 in");
  expect(sizeText(0.04, detail, "inch")).toBe("1.57 in");
  expect(sizeText(0.5, detail, "inch")).toBe("19.685 in");
});

test("each size of a box that is seen gets one line outside of it", () => {
  // a box 200 wide and 100 high on the paper, seen from the front: its depth is a point
  const flat = Array.from({ length: 8 }, (_, i) => ({ x: i & 1 ? 300 : 100, y: i & 4 ? 50 : 150 }));
  const lines = dimensionLines(flat, ["wide", "deep", "high"]);
  expect(lines.map((l) => l.text)).toEqual(["wide", "high"]);
  expect(lines[0].line.map((end) => end.y)).toEqual([176, 176]);
  expect(lines[1].line.map((end) => end.x)).toEqual([326, 326]);
  // the text lies beyond its line, half of its own size away
  expect(lines[0].at).toEqual({ x: 200, y: 176 + 8.5 });
  expect(lines[1].at.x).toBeGreaterThan(326 + 4 * 3.8);
  expect(lines[1].at.y).toBe(100);
  expect(dimensionLines(flat, ["wide", "deep", ""]).map((l) => l.text)).toEqual(["wide"]);
  expect(dimensionLines([], [])).toEqual([]);
});

test("a text that would be cut at the end of the paper goes to the other side of the part", () => {
  const flat = Array.from({ length: 8 }, (_, i) => ({ x: i & 1 ? 300 : 100, y: i & 4 ? 50 : 150 }));
  const at = (paper: { x: number; y: number }) => dimensionLines(flat, ["", "", "100 mm"], paper)[0].at.x;
  expect(at({ x: 500, y: 300 })).toBeGreaterThan(300);
  expect(at({ x: 340, y: 300 })).toBeLessThan(100);
});

test("numbers of the page are written as the program writes them", () => {
  expect(grouped(100000)).toBe("100\u202f000");
  expect(grouped(-33.5)).toBe("-33.5");
  expect([grouped(2400), grouped(0), grouped(1e-7)]).toEqual(["2400", "0", "1e-7"]);
  expect(length(-0.0335, "metric")).toBe("-33.5 mm");
});

test("texts of a small part stand clear of each other", () => {
  const tiny = Array.from({ length: 8 }, (_, i) => ({
    x: 200 + (i & 1 ? 24 : 0) + (i & 2 ? 22 : 0), y: 200 + (i & 1 ? 12 : 0) - (i & 2 ? 11 : 0) + (i & 4 ? -25 : 0),
  }));
  const lines = dimensionLines(tiny, ["120 mm", "118 mm", "85.5 mm"]);
  expect(lines).toHaveLength(3);
  for (const a of lines) for (const b of lines) if (a !== b) expect(Math.abs(a.at.x - b.at.x) > 45 || Math.abs(a.at.y - b.at.y) > 16).toBe(true);
});

test("signs that would lie on each other are thinned", () => {
  expect(apart([{ x: 0, y: 0 }, { x: 5, y: 0 }, { x: 20, y: 0 }], 15)).toEqual([{ x: 0, y: 0 }, { x: 20, y: 0 }]);
});

const AMOUNTS = { low: 0, high: 40, unit: "%", kind: "amount" as const };
const STATES = { low: 0, high: 0, unit: "", kind: "state" as const };

test("amounts are coloured on the ramp, what is not told has its own colour", () => {
  const tints = tinted("give", [0, 40, null], AMOUNTS, ["0 % of the give", "40.0 % of the give", ""]);
  const colors = tintColors(tints);
  expect(colors.get(0)).toEqual(rgb(AMOUNT[0]));
  expect(colors.get(1)).toEqual(rgb(AMOUNT[AMOUNT.length - 1]));
  expect(colors.get(2)).toEqual(rgb(UNKNOWN));
  expect(tintSigns(tints, smallScene().pieces)).toEqual([]);
  expect(tintEnds(tints)).toEqual(["0", "40.0 %"]);
  expect(tintOf(tints, smallScene().pieces, "gantry.beam")).toBe("40.0 % of the give");
});

test("the end of a scale is told in the units of the file where the program says it", () => {
  const mass = { low: 0, high: 35.9486, unit: "kg", kind: "amount" as const };
  expect(tintEnds(tinted("mass", [35.9486, 1], mass, ["79.3 lb", "2.2 lb"]))).toEqual(["0", "79.3 lb"]);
  expect(tintEnds(tinted("mass", [1], mass, ["2.2 lb"]))).toEqual(["0", "35.9 kg"]);
});

test("states have a sign besides their colour, and colours differ", () => {
  for (const [by, values] of [["owned", ["owned", "buy", "make", "unknown"]], ["finding", ["fail", "watch", "ok", null]]] as const) {
    const tints = tinted(by, [...values], STATES);
    const colors = [...tintColors(tints).values()].map(String);
    expect(new Set(colors).size).toBe(4);
    const signs = tintSigns(tints, smallScene().pieces);
    const quiet = by === "owned" ? ["owned"] : ["ok", null];
    expect(signs.map((s) => s.id)).toEqual([0, 1, 2, 3].filter((id) => !quiet.includes(values[id] as string)));
    expect(new Set(signs.map((s) => s.sign)).size).toBe(signs.length);
  }
});

test("the key counts parts, not pieces, and leaves the work area out", () => {
  const scene = smallScene();
  scene.pieces[3].part = "spindle"; // two pieces of one part
  const rows = tintCounts(tinted("owned", ["owned", "buy", "buy", "buy", "owned"], STATES), scene.pieces);
  expect(rows.map((r) => [r.word, r.count])).toEqual([["owned", 1], ["to buy", 2]]);
  const found = tintCounts(tinted("finding", ["fail", "fail", "ok", "fail"], STATES), smallScene().pieces);
  expect(found[0].word).toBe("with a failing finding");
});

test("the counts of the key add up to the parts that the drawing names, or say why not", () => {
  const scene = smallScene();
  const all = (by: "owned" | "finding", values: (string | null)[]) => partCounts(tinted(by, values, STATES), scene.pieces);
  const parts = new Set(scene.pieces.filter((p) => p.kind !== "work").map((p) => p.part)).size;
  expect(all("finding", ["fail", "ok", null, "fail", null])).toEqual({ all: parts, mixed: 0 });
  scene.pieces[1].kind = "joint";
  expect(all("finding", ["fail", "ok", null, "fail", null]).all).toBe(parts - 1);
  scene.pieces[1].kind = "plate";
  scene.pieces[1].part = scene.pieces[0].part; // a screw that is there and its nut that is not
  expect(all("owned", ["owned", "buy", "buy", "buy", "owned"])).toEqual({ all: parts - 1, mixed: 1 });
});

test("after an edit a mode is known by its number", () => {
  const row = (name: string) => ({ name, title: "", kind: "mode" as const, words: "" });
  const rows = [row("mode 1, 18 Hz: swaying"), row("mode 10, 70 Hz: bending")];
  expect(sameMode("mode 1, 17 Hz: swaying", rows)).toBe("mode 1, 18 Hz: swaying");
  expect(sameMode("mode 2, 30 Hz: x", rows)).toBe("");
  expect(sameMode("weight", rows)).toBe("");
});

test("the list holds every part once", () => {
  const scene = smallScene();
  scene.pieces[3].part = "spindle";
  expect(partsOf(scene, "head")).toEqual([["spindle", "spindle"]]);
  expect(partsOf(scene, "bed").map(([part]) => part)).toEqual(["bed.top", "purpose.work_area"]);
});
