/** Lines over an axis. The only file that knows the library which draws them. */
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { HAIRLINE, INK, INK_2, LINES, PANEL } from "./color";
import type { Picture, Series } from "./contract";
import { aligned, named, rangesOf, readAt, short, ticks } from "./plotting";

export interface Style {
  color: string;
  dash: number[];
  width: number;
}

/** How the line with this number is drawn: colour and dash both tell it apart. */
export function styleOf(series: Series, number: number): Style {
  const usual = LINES[(series.tone ?? number) % LINES.length];
  const dash = series.dash ? series.dash.split(" ").map(Number) : [];
  return { color: usual.color, dash, width: usual.width };
}

const FONT = '12px system-ui, "Noto Sans", "Liberation Sans", sans-serif';
const LEAST_WIDTH = 220;

/** One drawn chart. Tells through `onRead` at which place the pointer or a key stands; null when it left. */
export class Chart {
  private plot: uPlot;
  private readonly watch: ResizeObserver;
  private at: number | null = null;

  constructor(
    private readonly host: HTMLElement,
    private picture: Picture,
    private readonly onRead: (x: number | null) => void,
  ) {
    this.plot = this.made();
    this.watch = new ResizeObserver(() => this.fit());
    this.watch.observe(host);
  }

  /** Show other numbers; the chart is made anew only when its lines or axes are others. */
  show(picture: Picture): void {
    const same = shapeOf(picture) === shapeOf(this.picture);
    this.picture = picture;
    if (same) {
      this.plot.setData(aligned(picture.series) as uPlot.AlignedData);
      return;
    }
    this.plot.destroy();
    this.plot = this.made();
  }

  /** Places that keys may stand at. */
  get places(): number[] {
    return this.plot.data[0] as number[];
  }

  /** Stand at a place; null leaves. */
  stand(x: number | null): void {
    if (x === null) return this.plot.setCursor({ left: -10, top: -10 });
    const left = this.plot.valToPos(x, "x");
    const y = readAt(this.picture.series, x, this.picture.x?.log ?? false).find((p) => p !== null)?.[1];
    this.plot.setCursor({ left, top: y === undefined ? 0 : this.plot.valToPos(y, "y") }, false);
    this.tell(x);
  }

  destroy(): void {
    this.watch.disconnect();
    this.plot.destroy();
  }

  private tell(x: number | null): void {
    if (x === this.at) return;
    this.at = x;
    this.onRead(x);
  }

  private size(): { width: number; height: number } {
    const width = Math.max(LEAST_WIDTH, Math.floor(this.host.clientWidth));
    return { width, height: Math.round(Math.min(400, Math.max(230, 0.56 * width))) };
  }

  private fit(): void {
    const { width, height } = this.size();
    if (width !== this.plot.width || height !== this.plot.height) this.plot.setSize({ width, height });
  }

  private made(): uPlot {
    const p = this.picture;
    const axis = (which: "x" | "y"): uPlot.Axis => ({
      scale: which,
      label: named(p[which]),
      labelFont: FONT,
      font: FONT,
      labelSize: 22,
      size: which === "x" ? 30 : (_u, values) => 16 + 7 * Math.max(2, ...(values ?? []).map((v) => v.length)),
      stroke: INK,
      grid: { stroke: HAIRLINE, width: 1 },
      ticks: { stroke: HAIRLINE, width: 1, size: 5 },
      splits: (u, _a, low, high) => ticks([low, high], p[which]?.log ?? false, (which === "x" ? u.width / 90 : u.height / 60)),
      values: (_u, at) => at.map(short),
      filter: (_u, at) => at,
    });
    const scale = (which: "x" | "y"): uPlot.Scale => ({
      time: false,
      distr: p[which]?.log ? 3 : 1,
      range: () => rangesOf(this.picture)[which],
    });
    const options: uPlot.Options = {
      ...this.size(),
      legend: { show: false },
      scales: { x: scale("x"), y: scale("y") },
      axes: [axis("x"), axis("y")],
      series: [{}, ...p.series.map((s, i) => this.line(s, i))],
      cursor: {
        drag: { x: false, y: false, setScale: false },
        y: false,
        dataIdx: (u, number, near) => nearest(u.data[number] as (number | null | undefined)[], near),
        points: { size: 8 },
      },
      hooks: {
        setCursor: [(u) => this.tell(u.cursor.idx === null || u.cursor.idx === undefined || (u.cursor.left ?? -1) < 0 ? null : u.data[0][u.cursor.idx])],
        drawClear: [(u) => bands(u, this.picture)],
        draw: [(u) => words(u, this.picture)],
      },
    };
    return new uPlot(options, aligned(p.series) as uPlot.AlignedData, this.host);
  }

  private line(series: Series, number: number): uPlot.Series {
    const style = styleOf(series, number);
    const points = series.mark === "points";
    return {
      label: series.name,
      stroke: style.color,
      dash: style.dash,
      width: points ? 0 : style.width,
      points: { show: points, size: 8, fill: style.color },
      paths: points ? () => null : undefined,
    };
  }
}

/** What cannot be changed in a chart that stands. */
const shapeOf = (p: Picture): string => JSON.stringify([p.id, p.x, p.y, p.series.map((s) => [s.name, s.dash, s.mark, s.tone])]);

/** Index of the point nearest to `near` that the line really has. */
export function nearest(values: readonly (number | null | undefined)[], near: number): number {
  for (let far = 0; far < values.length; far++) {
    for (const at of [near - far, near + far]) if (typeof values[at] === "number") return at;
  }
  return near;
}

function clipped(u: uPlot, draw: (ctx: CanvasRenderingContext2D) => void): void {
  const { ctx, bbox } = u;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  draw(ctx);
  ctx.restore();
}

function bands(u: uPlot, picture: Picture): void {
  clipped(u, (ctx) => {
    picture.series.forEach((s, number) => {
      if (s.band.length === 0) return;
      ctx.beginPath();
      for (const [x, low] of s.band) ctx.lineTo(u.valToPos(x, "x", true), u.valToPos(low, "y", true));
      for (const [x, , high] of [...s.band].reverse()) ctx.lineTo(u.valToPos(x, "x", true), u.valToPos(high, "y", true));
      ctx.closePath();
      ctx.globalAlpha = 0.16;
      ctx.fillStyle = styleOf(s, number).color;
      ctx.fill();
    });
  });
}

interface Box {
  left: number;
  top: number;
  right: number;
  bottom: number;
}

/** Rings at the marks, each with its words where they cover nothing else, and the name of each line at its end where that covers no line: the legend has it too. */
function words(u: uPlot, picture: Picture): void {
  const ratio = devicePixelRatio || 1;
  const { ctx, bbox } = u;
  const taken: Box[] = [];
  const lines = drawnPoints(u);
  ctx.save();
  ctx.setLineDash([]);
  ctx.font = FONT.replace("12px", `${12 * ratio}px`);
  ctx.textBaseline = "middle";
  for (const m of picture.marks) {
    const [x, y] = [u.valToPos(m.x, "x", true), u.valToPos(m.y, "y", true)];
    ctx.beginPath();
    ctx.arc(x, y, 4 * ratio, 0, 2 * Math.PI);
    ctx.fillStyle = PANEL;
    ctx.fill();
    ctx.lineWidth = 1.5 * ratio;
    ctx.strokeStyle = INK;
    ctx.stroke();
    taken.push({ left: x - 5 * ratio, right: x + 5 * ratio, top: y - 5 * ratio, bottom: y + 5 * ratio });
  }
  const room: Box = { left: bbox.left, right: bbox.left + bbox.width, top: bbox.top, bottom: bbox.top + bbox.height };
  for (const m of picture.marks) write(ctx, m.text, u.valToPos(m.x, "x", true), u.valToPos(m.y, "y", true), INK, room, taken, lines, ratio);
  picture.series.forEach((s, number) => {
    const end = s.points.findLast((p): p is [number, number] => p[1] !== null);
    if (end && picture.series.length > 1) write(ctx, s.name, u.valToPos(end[0], "x", true), u.valToPos(end[1], "y", true), styleOf(s, number).color, room, taken, lines, ratio, 0);
  });
  ctx.restore();
}

function write(ctx: CanvasRenderingContext2D, text: string, x: number, y: number, color: string, room: Box, taken: Box[], lines: readonly Place[], ratio: number, most = Infinity): void {
  const wide = ctx.measureText(text).width;
  const place = freePlace(x, y, wide, 14 * ratio, 8 * ratio, room, taken, lines, most);
  if (!place) return; // said in words beside the chart; two words over each other say nothing
  taken.push({ ...place, left: place.left - 4 * ratio, right: place.right + 4 * ratio });
  leader(ctx, x, y, place, ratio);
  ctx.textAlign = "left";
  ctx.lineWidth = 3 * ratio;
  ctx.strokeStyle = PANEL;
  ctx.strokeText(text, place.left, (place.top + place.bottom) / 2);
  ctx.fillStyle = color;
  ctx.fillText(text, place.left, (place.top + place.bottom) / 2);
}

/** A hairline from a point to its words, where they could not stand beside it. */
function leader(ctx: CanvasRenderingContext2D, x: number, y: number, place: Box, ratio: number): void {
  const to = [Math.min(place.right, Math.max(place.left, x)), Math.min(place.bottom, Math.max(place.top, y))];
  const far = Math.hypot(to[0] - x, to[1] - y);
  if (far < 14 * ratio) return;
  const start = (5 * ratio) / far;
  ctx.beginPath();
  ctx.moveTo(x + (to[0] - x) * start, y + (to[1] - y) * start);
  ctx.lineTo(to[0], to[1]);
  ctx.lineWidth = 0.8 * ratio;
  ctx.strokeStyle = INK_2;
  ctx.stroke();
}

/** Places along all lines, close enough to know what lies under a word. */
function drawnPoints(u: uPlot): Place[] {
  const places: Place[] = [];
  u.data.slice(1).forEach((ys) => {
    let last: Place | null = null;
    ys.forEach((y, i) => {
      if (y === undefined) return;
      const here: Place | null = y === null ? null : [u.valToPos(u.data[0][i], "x", true), u.valToPos(y, "y", true)];
      if (here && last) {
        const parts = Math.min(400, Math.ceil(Math.hypot(here[0] - last[0], here[1] - last[1]) / 6));
        for (let k = 1; k <= parts; k++) places.push([last[0] + ((here[0] - last[0]) * k) / parts, last[1] + ((here[1] - last[1]) * k) / parts]);
      }
      last = here;
    });
  });
  return places;
}

/** How much worse it is to cover one place of a line than to stand one step farther off. */
const OVER_A_LINE = 6;

export type Place = readonly [x: number, y: number];

/**
 * Where words of a size can stand near a point: within the room, over no other words, and over as little of the lines as can
 * be, farther off rather than over one; `most` places of them at the most. Null where nowhere.
 */
export function freePlace(x: number, y: number, wide: number, high: number, gap: number, room: Box, taken: readonly Box[], lines: readonly Place[] = [], most = Infinity): Box | null {
  let best: Box | null = null;
  let least = Infinity;
  for (const far of [1, 2, 3.5, 5]) {
    for (const [across, down] of [[1, -1], [-1, -1], [1, 1], [-1, 1], [1, 0], [-1, 0], [0, -1], [0, 1]] as const) {
      const left = across > 0 ? x + gap : across < 0 ? x - gap - wide : x - wide / 2;
      const top = y + down * far * (gap + high / 2) - high / 2;
      const box = { left, right: left + wide, top, bottom: top + high };
      const inside = box.left >= room.left && box.right <= room.right && box.top >= room.top && box.bottom <= room.bottom;
      if (!inside || taken.some((t) => t.left < box.right && t.right > box.left && t.top < box.bottom && t.bottom > box.top)) continue;
      const covers = lines.filter(([px, py]) => px > box.left && px < box.right && py > box.top && py < box.bottom).length;
      const cost = OVER_A_LINE * covers + far;
      if (covers <= most && cost < least) [best, least] = [box, cost];
    }
  }
  return best;
}
