/** What lies over the drawing on its own sheet: the axes of the machine, sizes of the chosen part, signs beside parts. */
import { ACCENT, INK, PAPER } from "../color";

export interface Spot {
  x: number;
  y: number;
}

export interface DimensionLine {
  /** Corners of the part, where the thin lines begin. */
  from: [Spot, Spot];
  /** Ends of the dimension line. */
  line: [Spot, Spot];
  text: string;
  at: Spot;
}

/** Of the dimension line from the part, px: the first one where its text is free. */
const ROWS = [26, 46, 66, 86];
/** Width of a letter and height of a line of the texts, about, px. */
const LETTER = { wide: 7.6, high: 17 };
/** Edges that look shorter than this get no dimension. */
const SHORT = 22;

/**
 * One dimension line for each of the three sizes of a box as it is seen: along the edge that lies outermost.
 *
 * @param corners Eight corners on the paper: x of the box by 1, y by 2, z by 4.
 * @param texts Of the three sizes; "" for one that needs no line.
 * @param paper Right and lower end of the paper: a text that would be cut there goes to another row or the other side.
 */
export function dimensionLines(corners: readonly Spot[], texts: readonly string[], paper: Spot = { x: Infinity, y: Infinity }): DimensionLine[] {
  if (corners.length !== 8) return [];
  const made: DimensionLine[] = [];
  for (let axis = 0; axis < 3; axis++) {
    const text = texts[axis];
    const edges = text ? outerEdges(corners, 1 << axis) : [];
    const tried = edges.flatMap((edge) => ROWS.map((far) => lineAt(edge, far, text)));
    const free = tried.filter((line) => made.every((other) => !meet(line.at, text, other.at, other.text)));
    const best = free.find((line) => isWhole(line.at, text, paper)) ?? free[0] ?? tried[0];
    if (best) made.push(best);
  }
  return made;
}

interface Edge {
  a: Spot;
  b: Spot;
  /** Away from the part, of length 1. */
  out: Spot;
  far: number;
}

/** Edges along one size that lie outermost; of two, the lower one and the right one first: there is room beside a part. */
function outerEdges(corners: readonly Spot[], step: number): Edge[] {
  const middle = { x: mean(corners.map((c) => c.x)), y: mean(corners.map((c) => c.y)) };
  const found: Edge[] = [];
  for (let i = 0; i < 8; i++) {
    if (i & step) continue;
    const [a, b] = [corners[i], corners[i | step]];
    const long = Math.hypot(b.x - a.x, b.y - a.y);
    if (long < SHORT) continue;
    const out = { x: -(b.y - a.y) / long, y: (b.x - a.x) / long };
    const far = ((a.x + b.x) / 2 - middle.x) * out.x + ((a.y + b.y) / 2 - middle.y) * out.y;
    found.push(far < 0 ? { a, b, out: { x: -out.x, y: -out.y }, far: -far } : { a, b, out, far });
  }
  const most = Math.max(...found.map((e) => e.far));
  const side = (e: Edge): number => e.out.y + 0.2 * e.out.x;
  return found.filter((e) => e.far > most - 1).sort((e, other) => side(other) - side(e));
}

/** The line so far from its edge; the text stands beyond it, so that it lies on neither the line nor the part. */
function lineAt({ a, b, out }: Edge, far: number, text: string): DimensionLine {
  const move = (p: Spot, by: number): Spot => ({ x: p.x + by * out.x, y: p.y + by * out.y });
  const beside = halfWide(text) * Math.abs(out.x) + (LETTER.high / 2) * Math.abs(out.y);
  const at = move({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 }, far + beside);
  return { from: [move(a, 4), move(b, 4)], line: [move(a, far), move(b, far)], text, at };
}

const halfWide = (text: string): number => 4 + (LETTER.wide / 2) * text.length;

function isWhole(at: Spot, text: string, paper: Spot): boolean {
  const half = halfWide(text);
  return at.x >= half && at.x <= paper.x - half && at.y >= 10 && at.y <= paper.y - 10;
}

/** Two texts at two places lie on each other. */
function meet(a: Spot, textA: string, b: Spot, textB: string): boolean {
  return Math.abs(a.x - b.x) < (LETTER.wide * (textA.length + textB.length)) / 2 && Math.abs(a.y - b.y) < LETTER.high;
}

const mean = (numbers: number[]): number => numbers.reduce((a, b) => a + b, 0) / numbers.length;

/** Of places that lie closer than this only the first is kept. */
export function apart<T extends Spot>(spots: readonly T[], distance: number): T[] {
  const kept: T[] = [];
  for (const spot of spots) if (kept.every((k) => Math.hypot(k.x - spot.x, k.y - spot.y) >= distance)) kept.push(spot);
  return kept;
}

export class Overlay {
  private readonly pen: CanvasRenderingContext2D | null;
  private width = 0;
  private height = 0;

  constructor(private readonly canvas: HTMLCanvasElement) {
    this.pen = canvas.getContext("2d");
  }

  /** An empty sheet, as large as it stands on the page. */
  begin(): void {
    const dots = Math.min(devicePixelRatio, 2);
    const [width, height] = [this.canvas.clientWidth, this.canvas.clientHeight];
    if (this.canvas.width !== Math.round(width * dots) || this.canvas.height !== Math.round(height * dots)) {
      this.canvas.width = Math.round(width * dots);
      this.canvas.height = Math.round(height * dots);
    }
    this.width = width;
    this.height = height;
    this.pen?.setTransform(dots, 0, 0, dots, 0, 0);
    this.pen?.clearRect(0, 0, width, height);
  }

  /** Axes of the machine: right and down on the paper. */
  triad(axes: Record<"x" | "y" | "z", [number, number]>): void {
    const long = 30;
    const at = { x: 48, y: this.height - 48 };
    for (const [name, [right, down]] of Object.entries(axes)) {
      const tip = { x: at.x + long * right, y: at.y + long * down };
      if (Math.hypot(right, down) < 0.12) {
        this.dot(at);
        this.text(name.toUpperCase(), { x: at.x - 13, y: at.y + 13 }, "600 13px system-ui, sans-serif");
        continue;
      }
      this.arrow(at, tip);
      const past = (long + 11) / Math.max(Math.hypot(right, down), 0.35) / long;
      const label = { x: at.x + long * right * Math.min(past, 1.6), y: at.y + long * down * Math.min(past, 1.6) };
      this.text(name.toUpperCase(), label, "600 13px system-ui, sans-serif");
    }
  }

  dimension(of: DimensionLine): void {
    const { pen } = this;
    if (!pen || !of.line.some((end) => this.on(end))) return;
    pen.strokeStyle = ACCENT;
    pen.lineWidth = 1;
    pen.beginPath();
    for (const k of [0, 1] as const) {
      const [from, to] = [of.from[k], of.line[k]];
      const long = Math.hypot(to.x - from.x, to.y - from.y) || 1;
      pen.moveTo(from.x, from.y);
      pen.lineTo(to.x + (5 * (to.x - from.x)) / long, to.y + (5 * (to.y - from.y)) / long);
    }
    pen.stroke();
    this.arrow(of.line[0], of.line[1], ACCENT);
    this.arrow(of.line[1], of.line[0], ACCENT);
    this.text(of.text, this.inside(of.at, of.text), "600 13px system-ui, sans-serif", ACCENT);
  }

  /** Right and lower end of the sheet, px. */
  get paper(): Spot {
    return { x: this.width, y: this.height };
  }

  private on(at: Spot): boolean {
    return at.x > 0 && at.x < this.width && at.y > 0 && at.y < this.height;
  }

  /** Where a text is wholly on the sheet. */
  private inside(at: Spot, text: string): Spot {
    const half = halfWide(text);
    return { x: Math.max(half, Math.min(this.width - half, at.x)), y: Math.max(10, Math.min(this.height - 10, at.y)) };
  }

  sign(at: Spot, sign: string, color: string): void {
    this.text(sign, at, "700 14px system-ui, sans-serif", color, 3);
  }

  private text(text: string, at: Spot, font: string, color = INK, halo = 5): void {
    const { pen } = this;
    if (!pen) return;
    pen.font = font;
    pen.textAlign = "center";
    pen.textBaseline = "middle";
    pen.lineJoin = "round";
    pen.strokeStyle = PAPER;
    pen.lineWidth = halo;
    pen.strokeText(text, at.x, at.y);
    pen.fillStyle = color;
    pen.fillText(text, at.x, at.y);
  }

  private arrow(from: Spot, to: Spot, color = INK): void {
    const { pen } = this;
    if (!pen) return;
    const turn = Math.atan2(to.y - from.y, to.x - from.x);
    pen.strokeStyle = pen.fillStyle = color;
    pen.lineWidth = 1.2;
    pen.beginPath();
    pen.moveTo(from.x, from.y);
    pen.lineTo(to.x, to.y);
    pen.stroke();
    pen.beginPath();
    pen.moveTo(to.x, to.y);
    for (const side of [-0.22, 0.22]) pen.lineTo(to.x - 9 * Math.cos(turn + side), to.y - 9 * Math.sin(turn + side));
    pen.fill();
  }

  private dot(at: Spot): void {
    const { pen } = this;
    if (!pen) return;
    pen.strokeStyle = pen.fillStyle = INK;
    pen.beginPath();
    pen.arc(at.x, at.y, 5, 0, 7);
    pen.stroke();
    pen.beginPath();
    pen.arc(at.x, at.y, 1.8, 0, 7);
    pen.fill();
  }
}
