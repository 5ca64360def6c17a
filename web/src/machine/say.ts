/** Words and numbers of the drawing. Lengths are told in the units of the machine file; nothing is computed but the unit. */
import type { Motion, Scene, Units } from "../contract";

const INCH = 0.0254;

/** As the program writes numbers: groups of three parted by a narrow blank that does not break. */
export function grouped(value: number): string {
  const [whole, parts] = String(Math.abs(value)).split(".");
  if (/e/.test(whole)) return String(value);
  const groups = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, "\u202f") : whole;
  return `${value < 0 ? "-" : ""}${groups}${parts ? `.${parts}` : ""}`;
}

/** A place or a size, m. */
export function length(metres: number, units: Units): string {
  if (units === "inch") return `${plain(metres / INCH, 3)} in`;
  return `${plain(metres * 1000, 1)} mm`;
}

/** A movement, m: as small as it may be. */
export function small(metres: number, units: Units): string {
  const size = Math.abs(metres);
  if (units === "inch") return size < INCH * 0.01 ? `${figures(metres / INCH * 1000)} thousandths of an inch` : `${figures(metres / INCH)} in`;
  if (size < 1e-6) return `${figures(metres * 1e9)} nm`;
  return size < 1e-3 ? `${figures(metres * 1e6)} um` : `${figures(metres * 1e3)} mm`;
}

const plain = (value: number, places: number): string => grouped(+value.toFixed(places));
const figures = (value: number): string => String(+value.toPrecision(3));

/** Factors that a drawing may be enlarged by: 1, 2, 5, 10 and so on. */
export function factors(least: number, most: number): number[] {
  const found: number[] = [];
  for (let power = Math.floor(Math.log10(least)); power <= Math.ceil(Math.log10(most)); power++) {
    for (const step of [1, 2, 5]) {
      const factor = Number(`${step}e${power}`);
      if (factor >= least * 0.999 && factor <= most * 1.001) found.push(factor);
    }
  }
  return found;
}

/** Share of the machine's size that the largest movement is drawn with: unless asked otherwise, at least, at most. */
const DRAWN = { usual: 0.05, least: 0.002, most: 0.25 };

export interface Enlarged {
  steps: number[];
  /** Index of the usual one. */
  usual: number;
}

/** How much a motion may be enlarged so that it is seen and the machine still known. */
export function enlarged(motion: Pick<Motion, "greatest" | "unit">, scene: Pick<Scene, "box">): Enlarged {
  const [low, high] = scene.box;
  const size = Math.hypot(high[0] - low[0], high[1] - low[1], high[2] - low[2]);
  if (!(motion.greatest > 0)) return { steps: [1], usual: 0 };
  const one = size / motion.greatest;
  const steps = factors(one * DRAWN.least, one * DRAWN.most);
  const wanted = Math.log(one * DRAWN.usual);
  const usual = steps.reduce((best, f, i) => (Math.abs(Math.log(f) - wanted) < Math.abs(Math.log(steps[best]) - wanted) ? i : best), 0);
  return { steps, usual };
}

const NO_SIZE = "largest is 1";

/** How large a motion is drawn, in words. */
export function enlargedWords(motion: Pick<Motion, "greatest" | "unit">, times: number, units: Units): string {
  if (motion.unit === NO_SIZE) {
    return `drawn with a largest movement of ${small(motion.greatest * times, units)}; a mode has a shape and no size of its own`;
  }
  const what = motion.unit === "m per newton" ? "under 1 N" : "in all";
  return `drawn ${grouped(+times.toPrecision(3))} times larger; the largest movement is ${small(motion.greatest, units)} ${what}`;
}

/** The same in few words, for the line under the drawing. */
export function enlargedShort(motion: Pick<Motion, "greatest" | "unit">, times: number, units: Units): string {
  if (motion.unit === NO_SIZE) return `largest movement drawn as ${small(motion.greatest * times, units)}`;
  return `drawn ${grouped(+times.toPrecision(3))} times larger`;
}

/** Where the axes stand. */
export function poseWords(scene: Pick<Scene, "axes" | "show">, pose: Record<string, number>): string {
  return scene.axes.map((a) => `${a.name.toUpperCase()} ${length(pose[a.name] ?? a.drawn, scene.show)}`).join(", ");
}

/** Lengths that a text tells, each with its own text: "80 x 40 mm" holds two. */
export function lengthsIn(text: string): { metres: number; text: string }[] {
  const unit = /(mm|cm|m|in|ft)\s*$/.exec(text.trim())?.[1];
  const metres = unit && { mm: 1e-3, cm: 1e-2, m: 1, in: INCH, ft: 12 * INCH }[unit];
  if (!metres) return [];
  const numbers = text.trim().slice(0, -unit.length).split(/\s+x\s+/);
  if (!numbers.every((n) => /^[\d.]+\s*$/.test(n))) return [];
  return numbers.map((n) => ({ metres: Number(n) * metres, text: `${n.trim()} ${unit}` }));
}

/** What the program says of a size, m, in the details of a piece; where it says nothing the size in the machine's units. */
export function sizeText(size: number, detail: readonly (readonly [string, string])[], units: Units): string {
  const told = detail.flatMap(([, text]) => lengthsIn(text));
  const near = told.filter((t) => Math.abs(t.metres - size) <= 0.004 * size);
  near.sort((a, b) => Math.abs(a.metres - size) - Math.abs(b.metres - size));
  return near[0]?.text ?? length(size, units);
}
