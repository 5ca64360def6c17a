/** Painting a heat map: cells of the grid in their real proportions, with ticks, the weak place and the cell that is read. */
import { CHOSEN, css, HAIRLINE, INK, PANEL, valueColor } from "./color";
import type { Grid, Picture } from "./contract";
import { named, short, ticks, type Range } from "./plotting";

export interface Scale {
  low: number;
  high: number;
  kind: "amount";
}

/** Where the map lies on its canvas, CSS pixels. */
export interface Layout {
  left: number;
  top: number;
  width: number;
  height: number;
  /** Whole canvas. */
  wide: number;
  high: number;
  xs: number[];
  ys: number[];
}

const GUTTER = { left: 62, right: 12, top: 8, bottom: 46 };

/** Edges of cells: half way between neighbours, and as far beyond the ends. */
export function edges(places: readonly number[]): number[] {
  if (places.length < 2) return [(places[0] ?? 0) - 0.5, (places[0] ?? 0) + 0.5];
  const between = places.slice(1).map((p, i) => (p + places[i]) / 2);
  const [first, last] = [places[0], places[places.length - 1]];
  return [2 * first - between[0], ...between, 2 * last - between[between.length - 1]];
}

/** The map as large as the room allows, a metre across as long as a metre up unless that would make it a ribbon. */
export function layout(grid: Grid, wide: number, highest: number): Layout {
  const [xs, ys] = [edges(grid.xs), edges(grid.ys)];
  const most = Math.max(60, wide - GUTTER.left - GUTTER.right);
  const real = (ys[ys.length - 1] - ys[0]) / (xs[xs.length - 1] - xs[0]);
  const aspect = Math.min(2.5, Math.max(0.3, real));
  const width = Math.min(most, (highest - GUTTER.top - GUTTER.bottom) / aspect);
  const height = width * aspect;
  return { left: GUTTER.left, top: GUTTER.top, width, height, wide, high: height + GUTTER.top + GUTTER.bottom, xs, ys };
}

/** Least and greatest known value of some grids, or the ends that they were given. */
export function scaleOf(...grids: Grid[]): Scale {
  const known = grids.flatMap((g) => g.values.flat()).filter((v): v is number => v !== null);
  const low = grids[0]?.low ?? known.reduce((a, b) => Math.min(a, b), Infinity);
  const high = grids[0]?.high ?? known.reduce((a, b) => Math.max(a, b), -Infinity);
  return { low: Number.isFinite(low) ? low : 0, high: Number.isFinite(high) ? high : 1, kind: "amount" };
}

const across = (l: Layout, x: number): number => l.left + ((x - l.xs[0]) / (l.xs[l.xs.length - 1] - l.xs[0])) * l.width;
const up = (l: Layout, y: number): number => l.top + l.height - ((y - l.ys[0]) / (l.ys[l.ys.length - 1] - l.ys[0])) * l.height;

/** Cell under a place of the canvas; null beside the map. */
export function cellAt(l: Layout, px: number, py: number): [i: number, j: number] | null {
  const x = l.xs[0] + ((px - l.left) / l.width) * (l.xs[l.xs.length - 1] - l.xs[0]);
  const y = l.ys[0] + ((l.top + l.height - py) / l.height) * (l.ys[l.ys.length - 1] - l.ys[0]);
  const i = l.xs.findLastIndex((e) => e <= x);
  const j = l.ys.findLastIndex((e) => e <= y);
  return i >= 0 && j >= 0 && i < l.xs.length - 1 && j < l.ys.length - 1 ? [i, j] : null;
}

/** The cell that a place of the machine lies in, by its numbers. */
export function cellOf(grid: Grid, x: number, y: number): [i: number, j: number] {
  const near = (places: number[], v: number) => places.reduce((best, p, k) => (Math.abs(p - v) < Math.abs(places[best] - v) ? k : best), 0);
  return [near(grid.xs, x), near(grid.ys, y)];
}

export function paint(canvas: HTMLCanvasElement, picture: Picture, grid: Grid, scale: Scale, l: Layout, read: [number, number] | null): void {
  const ctx = canvas.getContext("2d");
  if (!ctx) return;
  const ratio = devicePixelRatio || 1;
  canvas.width = Math.round(l.wide * ratio);
  canvas.height = Math.round(l.high * ratio);
  canvas.style.width = `${l.wide}px`;
  canvas.style.height = `${l.high}px`;
  ctx.setTransform(ratio, 0, 0, ratio, 0, 0);
  ctx.clearRect(0, 0, l.wide, l.high);
  grid.values.forEach((row, j) => row.forEach((value, i) => cell(ctx, l, i, j, value, scale)));
  ctx.strokeStyle = INK;
  ctx.lineWidth = 1;
  ctx.strokeRect(l.left, l.top, l.width, l.height);
  ticksOf(ctx, picture, grid, l);
  if (grid.worst) ring(ctx, across(l, grid.worst.x), up(l, grid.worst.y));
  if (read) frame(ctx, l, ...read);
}

function box(l: Layout, i: number, j: number): [x: number, y: number, w: number, h: number] {
  const [x, x2, y, y2] = [across(l, l.xs[i]), across(l, l.xs[i + 1]), up(l, l.ys[j + 1]), up(l, l.ys[j])];
  return [x, y, x2 - x, y2 - y];
}

/** A place that is not over the table is hatched, not coloured. */
function cell(ctx: CanvasRenderingContext2D, l: Layout, i: number, j: number, value: number | null, scale: Scale): void {
  const [x, y, w, h] = box(l, i, j);
  if (value !== null) {
    ctx.fillStyle = css(valueColor(value, scale));
    ctx.fillRect(x, y, w + 0.5, h + 0.5);
    return;
  }
  ctx.save();
  ctx.beginPath();
  ctx.rect(x, y, w, h);
  ctx.clip();
  ctx.beginPath();
  ctx.strokeStyle = HAIRLINE;
  for (let k = -h; k < w; k += 7) {
    ctx.moveTo(x + k, y + h);
    ctx.lineTo(x + k + h, y);
  }
  ctx.stroke();
  ctx.restore();
}

function ticksOf(ctx: CanvasRenderingContext2D, picture: Picture, grid: Grid, l: Layout): void {
  const ends = (places: number[]): Range => [places[0], places[places.length - 1]];
  ctx.font = '12px system-ui, "Noto Sans", "Liberation Sans", sans-serif';
  ctx.fillStyle = INK;
  ctx.textAlign = "center";
  ctx.textBaseline = "top";
  for (const x of ticks(ends(grid.xs), false, l.width / 70)) tick(ctx, across(l, x), l.top + l.height, 0, 5, short(x), 0, 8);
  ctx.fillText(named(picture.x), l.left + l.width / 2, l.top + l.height + 28);
  ctx.textAlign = "right";
  ctx.textBaseline = "middle";
  for (const y of ticks(ends(grid.ys), false, l.height / 50)) tick(ctx, l.left, up(l, y), -5, 0, short(y), -8, 0);
  ctx.save();
  ctx.translate(10, l.top + l.height / 2);
  ctx.rotate(-Math.PI / 2);
  ctx.textAlign = "center";
  ctx.fillText(named(picture.y), 0, 0);
  ctx.restore();
}

function tick(ctx: CanvasRenderingContext2D, x: number, y: number, dx: number, dy: number, text: string, tx: number, ty: number): void {
  ctx.beginPath();
  ctx.moveTo(x, y);
  ctx.lineTo(x + dx, y + dy);
  ctx.stroke();
  ctx.fillText(text, x + tx, y + ty);
}

function ring(ctx: CanvasRenderingContext2D, x: number, y: number): void {
  for (const [width, color] of [[5, PANEL], [2.5, CHOSEN]] as const) {
    ctx.beginPath();
    ctx.arc(x, y, 8, 0, 2 * Math.PI);
    ctx.lineWidth = width;
    ctx.strokeStyle = color;
    ctx.stroke();
  }
}

function frame(ctx: CanvasRenderingContext2D, l: Layout, i: number, j: number): void {
  const [x, y, w, h] = box(l, i, j);
  for (const [width, color] of [[5, PANEL], [2, INK]] as const) {
    ctx.lineWidth = width;
    ctx.strokeStyle = color;
    ctx.strokeRect(x + 1, y + 1, w - 2, h - 2);
  }
}
