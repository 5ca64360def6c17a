/**
 * Colours that carry a value. They were chosen so that their order holds for the four kinds of colour vision; a colour never
 * stands alone all the same: a scale has its two end numbers, a state its word and its sign.
 */
import type { Status } from "./contract";

/** Red, green, blue from 0 to 1 (sRGB). */
export type RGB = [number, number, number];

/** One-sided: little is dark, much is light. */
export const AMOUNT = [
  "#104483", "#29578c", "#3e6a97", "#5f7c93", "#7b8d94", "#97a095", "#b8b288", "#d8c589", "#fbd888",
] as const;

/** Two-sided: blue below, brown above, pale at nothing. */
export const SIGNED = [
  "#0a4797", "#456ea0", "#7494b1", "#aeb9c5", "#e7e3e2", "#d6b199", "#c77f4c", "#aa542e", "#8b2812",
] as const;

/** Lines of a chart in this order, each with its own dash (lengths in px; empty is solid). */
export const LINES = [
  { color: "#285b8e", dash: [], width: 2 },
  { color: "#cc7a1e", dash: [7, 4], width: 2 },
  { color: "#3c2213", dash: [2, 3], width: 2 },
  { color: "#7694b4", dash: [], width: 1 },
  { color: "#7a5a3c", dash: [10, 3, 2, 3], width: 2 },
] as const;

export const INK = "#23292b";
export const INK_2 = "#566064";
export const PAPER = "#fafaf7";
export const PANEL = "#ffffff";
export const HAIRLINE = "#cfd4d2";
export const EDGE = "#7c8784";
export const ACCENT = "#285b8e";
/** Outline of the chosen part. */
export const CHOSEN = "#b4231a";
/** Where a value is not known. */
export const UNKNOWN = "#d9d7d0";

export interface StateMark {
  color: string;
  /** Stands before the words. */
  sign: string;
  word: string;
}

/** How a status is drawn and said. */
export const STATE: Record<Status, StateMark> = {
  fail: { color: "#a3271c", sign: "✕", word: "fails" },
  broken: { color: "#a3271c", sign: "⚠", word: "check broke" },
  unknown: { color: "#566064", sign: "?", word: "unknown" },
  watch: { color: "#b87503", sign: "!", word: "watch" },
  ok: { color: "#1f6f6a", sign: "✓", word: "holds" },
};

/** Worst first. */
export const WORST_FIRST: readonly Status[] = ["fail", "broken", "unknown", "watch", "ok"];

export function rgb(hex: string): RGB {
  const n = Number.parseInt(hex.slice(1), 16);
  return [((n >> 16) & 255) / 255, ((n >> 8) & 255) / 255, (n & 255) / 255];
}

export function css([r, g, b]: RGB): string {
  return `#${[r, g, b].map((c) => Math.round(255 * c).toString(16).padStart(2, "0")).join("")}`;
}

const STOPS = { amount: AMOUNT.map(rgb), signed: SIGNED.map(rgb) };

/** Colour on a ramp; `t` runs from 0 to 1 and is held there. */
export function ramp(kind: "amount" | "signed", t: number): RGB {
  const stops = STOPS[kind];
  const at = Math.min(1, Math.max(0, t)) * (stops.length - 1);
  const low = Math.min(stops.length - 2, Math.floor(at));
  const part = at - low;
  const [a, b] = [stops[low], stops[low + 1]];
  return [0, 1, 2].map((i) => a[i] + part * (b[i] - a[i])) as RGB;
}

/** Colour of a value on a scale. A two-sided scale is centred on zero whatever its ends. A value that is not known gets none. */
export function valueColor(
  value: number | string | null | undefined,
  scale: { low: number; high: number; kind: "amount" | "signed" | "state" },
): RGB {
  if (scale.kind === "state") return rgb(STATE[value as Status]?.color ?? UNKNOWN);
  if (typeof value !== "number" || !Number.isFinite(value)) return rgb(UNKNOWN);
  if (scale.kind === "signed") {
    const reach = Math.max(Math.abs(scale.low), Math.abs(scale.high));
    return ramp("signed", reach > 0 ? 0.5 + (0.5 * value) / reach : 0.5);
  }
  const span = scale.high - scale.low;
  return ramp("amount", span > 0 ? (value - scale.low) / span : 0);
}
