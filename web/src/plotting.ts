/** What a diagram needs before it is drawn: common places, ranges, round ticks, readings, rows of a table. Pure. */
import type { Dimension, Grid, Picture, Series } from "./contract";

/** Nothing was computed, so that only its words can be shown. */
export function isEmpty(picture: Picture): boolean {
  if (picture.kind === "bars") return picture.bars.length === 0;
  if (picture.kind === "map") return picture.map === null;
  if (picture.kind === "table") return picture.rows.length === 0;
  return picture.series.every((s) => s.points.every(([, y]) => y === null));
}

/** A number as short as it may be read off a diagram: four figures. */
export function short(value: number): string {
  return String(Number(value.toPrecision(4)));
}

export const named = (of: Dimension | null): string => (of ? (of.unit ? `${of.label} [${of.unit}]` : of.label) : "");

/** Lines over the places of all of them: `null` is a gap that was meant, `undefined` a place where this line has no point. */
export function aligned(series: readonly Series[]): [xs: number[], ...ys: (number | null | undefined)[][]] {
  const xs = [...new Set(series.flatMap((s) => s.points.map(([x]) => x)))].sort((a, b) => a - b);
  return [xs, ...series.map((s) => onto(xs, new Map(s.points)))];
}

const onto = (xs: number[], points: Map<number, number | null>): (number | null | undefined)[] => xs.map((x) => points.get(x));

export type Range = [low: number, high: number];

/** Ends of both axes: everything that is drawn lies within, lines, bands and marks. */
export function rangesOf(picture: Picture): { x: Range; y: Range } {
  const points = picture.series.flatMap((s) => [
    ...s.points.filter((p): p is [number, number] => p[1] !== null),
    ...s.band.flatMap(([x, low, high]): [number, number][] => [
      [x, low],
      [x, high],
    ]),
  ]);
  for (const m of picture.marks) points.push([m.x, m.y]);
  return {
    x: range(points.map(([x]) => x), picture.x?.log ?? false, 0.02),
    y: range(points.map(([, y]) => y), picture.y?.log ?? false, 0.06),
  };
}

/** A linear axis begins at zero where that is near; a logarithmic one knows nothing at or below zero. */
function range(values: number[], log: boolean, room: number): Range {
  const known = values.filter((v) => Number.isFinite(v) && (!log || v > 0));
  if (known.length === 0) return log ? [1, 10] : [0, 1];
  let low = known.reduce((a, b) => Math.min(a, b));
  let high = known.reduce((a, b) => Math.max(a, b));
  if (log) {
    const part = (high / low) ** room;
    return high > low ? [low / part, high * part] : [low / 2, high * 2];
  }
  if (low > 0 && low < 0.5 * high) low = 0;
  if (high <= low) return [low - 0.5 * Math.abs(low || 1), high + 0.5 * Math.abs(high || 1)];
  const part = room * (high - low);
  return [low === 0 ? 0 : low - part, high + part];
}

/** Round numbers within a range, about as many as asked for. */
export function ticks([low, high]: Range, log: boolean, wanted: number): number[] {
  if (log) {
    const decades = Math.log10(high / low);
    const steps = decades < 1 ? [1, 2, 3, 4, 5, 7] : decades < 3 ? [1, 2, 5] : [1];
    const told: number[] = [];
    for (let d = Math.floor(Math.log10(low)); d <= Math.ceil(Math.log10(high)); d++)
      for (const k of steps) told.push(Number(`${k}e${d}`));
    return told.filter((v) => v >= low && v <= high);
  }
  const rough = (high - low) / Math.max(1, wanted);
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * (([1, 2, 2.5, 5, 10] as const).find((k) => k * power >= rough * 0.9) ?? 10);
  const told: number[] = [];
  for (let k = Math.ceil(low / step - 1e-9); k <= Math.floor(high / step + 1e-9); k++) told.push(Number((k * step).toPrecision(12)));
  return told;
}

/** The point of each line that lies nearest to a place; null where the line does not reach. */
export function readAt(series: readonly Series[], x: number, log: boolean): ([x: number, y: number] | null)[] {
  const far = (a: number): number => (log ? Math.abs(Math.log(a / x)) : Math.abs(a - x));
  return series.map((s) => {
    const known = s.points.filter((p): p is [number, number] => p[1] !== null && (!log || p[0] > 0));
    if (known.length === 0) return null;
    const ends = known.map(([at]) => at);
    const reach = 1e-9 * Math.abs(x);
    if (s.mark !== "points" && (x < Math.min(...ends) - reach || x > Math.max(...ends) + reach)) return null;
    return known.reduce((best, p) => (far(p[0]) < far(best[0]) ? p : best));
  });
}

/** A reading in words: the place and what each line has there. */
export function told(picture: Picture, x: number): string {
  const unit = (of: Dimension | null): string => (of?.unit ? ` ${of.unit}` : "");
  const read = readAt(picture.series, x, picture.x?.log ?? false).map((p, i) => {
    const name = picture.series[i].name;
    return p ? `${name} ${short(p[1])}${unit(picture.y)}` : `${name} does not reach`;
  });
  return `${picture.x?.label ?? "at"} ${short(x)}${unit(picture.x)}: ${read.join("; ")}`;
}

/** The same of one place of a map. */
export function toldCell(picture: Picture, grid: Grid, i: number, j: number): string {
  const value = grid.values[j][i];
  const [x, y] = [picture.x, picture.y];
  const at = `${first(x?.label)} ${short(grid.xs[i])} ${x?.unit ?? ""}, ${first(y?.label)} ${short(grid.ys[j])} ${y?.unit ?? ""}`;
  return `${at}: ${value === null ? "not over the table" : `${short(value)} ${grid.unit}`}`;
}

const first = (label: string | undefined): string => (label ?? "").split(" ")[0];

export interface Rows {
  heads: string[];
  rows: string[][];
}

/** The numbers of a picture as a table. */
export function tableOf(picture: Picture): Rows {
  if (picture.kind === "table") return { heads: picture.columns, rows: picture.rows };
  if (picture.kind === "bars") return tableOfBars(picture);
  if (picture.kind === "map") return { heads: [named(picture.x), named(picture.y), ...maps(picture).map((g) => heading(g))], rows: tableOfMaps(maps(picture)) };
  const [xs] = aligned(picture.series);
  const same = picture.series.every((s) => s.points.length === xs.length);
  return same ? wide(picture, xs) : long(picture);
}

export const maps = (picture: Picture): Grid[] => [picture.map, picture.other].filter((g): g is Grid => !!g);

const heading = (grid: Grid): string => `${grid.name ? `${grid.name} ` : ""}[${grid.unit}]`;

/** Where bars begin and the longest one ends: at nothing, or at the power of ten below the least. */
export function barEnds(picture: Picture): Range {
  const values = picture.bars.flatMap((b) => [Math.abs(b.value), Math.abs(b.other ?? 0)]).concat(picture.marks.map((m) => m.x)).filter((v) => v > 0);
  const most = values.reduce((a, b) => Math.max(a, b), 0) || 1;
  if (!picture.y?.log) return [0, most];
  return [10 ** Math.floor(Math.log10(0.999 * values.reduce((a, b) => Math.min(a, b), most))), most];
}

/** How much of the room a bar takes, 0 to 1. */
export function barPart(value: number, [start, most]: Range): number {
  if (start === 0) return Math.abs(value) / most;
  return value > 0 ? Math.max(0, Math.log10(value / start) / Math.log10(most / start)) : 0;
}

/** Powers of ten under logarithmic bars. */
export function barTicks([start, most]: Range): number[] {
  if (start === 0) return [];
  const first = Math.round(Math.log10(start));
  return Array.from({ length: Math.floor(Math.log10(most) + 1e-9) - first + 1 }, (_, k) => Number(`1e${first + k}`));
}

function tableOfBars(picture: Picture): Rows {
  const names = picture.names ?? [];
  const value = `${picture.y?.label ?? "value"} [${picture.y?.unit ?? ""}]`;
  const marks = picture.marks.map((m) => [m.text, short(m.x)]);
  if (names.length < 2) return { heads: ["part", value], rows: [...picture.bars.map((b) => [b.label, b.text]), ...marks] };
  return { heads: ["part", ...names], rows: [...picture.bars.map((b) => [b.label, b.text, b.other_text ?? ""]), ...marks.map((m) => [...m, ""])] };
}

function tableOfMaps(grids: Grid[]): string[][] {
  const [grid] = grids;
  const cell = (g: Grid, x: number, y: number): string => {
    const value = g.values[g.ys.indexOf(y)]?.[g.xs.indexOf(x)];
    return value === null || value === undefined ? "–" : short(value);
  };
  const every = (of: (g: Grid) => number[]): number[] => [...new Set(grids.flatMap(of))].sort((a, b) => a - b);
  if (!grid) return [];
  return every((g) => g.ys).flatMap((y) => every((g) => g.xs).map((x) => [short(x), short(y), ...grids.map((g) => cell(g, x, y))]));
}

function wide(picture: Picture, xs: number[]): Rows {
  const heads = [named(picture.x)];
  const columns: Map<number, string>[] = [];
  const unit = picture.y?.unit ? ` [${picture.y.unit}]` : "";
  for (const s of picture.series) {
    heads.push(`${s.name}${unit}`);
    columns.push(new Map(s.points.map(([x, y]) => [x, y === null ? "" : short(y)])));
    if (s.band.length === 0) continue;
    heads.push(`${s.name} 5 %`, `${s.name} 95 %`);
    columns.push(new Map(s.band.map(([x, low]) => [x, short(low)])), new Map(s.band.map(([x, , high]) => [x, short(high)])));
  }
  const more = new Set([...xs, ...picture.series.flatMap((s) => s.band.map(([x]) => x))]);
  return { heads, rows: [...more].sort((a, b) => a - b).map((x) => [short(x), ...columns.map((c) => c.get(x) ?? "")]) };
}

function long(picture: Picture): Rows {
  const rows = picture.series.flatMap((s) => s.points.map(([x, y]) => [s.name, short(x), y === null ? "" : short(y)]));
  return { heads: ["line", named(picture.x), named(picture.y)], rows };
}
