/** What the colours of the pieces say: on a ramp between two numbers, or one of some states with a sign each. */
import { type RGB, rgb, STATE, UNKNOWN, valueColor, WORST_FIRST } from "../color";
import type { Piece, Status, Tints } from "../contract";
import { grouped } from "./say";

export interface StateRow {
  value: string;
  color: string;
  /** Stands beside the piece; "" for none. */
  sign: string;
  /** What is counted, behind "1 part" or "9 parts". */
  word: string;
}

/** What is owned and what is not: signs besides colours. */
const OWNED: StateRow[] = [
  { value: "owned", color: "#eceae3", sign: "", word: "owned" },
  { value: "buy", color: "#e3a45f", sign: "○", word: "to buy" },
  { value: "make", color: "#7694b4", sign: "△", word: "to make" },
  { value: "unknown", color: UNKNOWN, sign: "?", word: "unknown" },
];

const SAYING: Record<Status, string> = {
  fail: "with a failing finding",
  broken: "with a check that broke",
  unknown: "with an unknown finding",
  watch: "with a finding to watch",
  ok: "with findings that all hold",
};

/** Worst first; lighter than the marks in words, so that ink and signs are seen on them. */
const SOFT: Record<Status, string> = { fail: "#cf8f88", broken: "#cf8f88", unknown: "#b9bfc1", watch: "#e6bd72", ok: "#9cc4bf" };
const FINDING: StateRow[] = [
  ...WORST_FIRST.map((s) => ({ value: s, color: SOFT[s], sign: s === "ok" ? "" : STATE[s].sign, word: SAYING[s] })),
  { value: "", color: "#f6f5f1", sign: "", word: "no check speaks of" },
];

const rowsOf = (tints: Tints): StateRow[] => (tints.by === "owned" ? OWNED : FINDING);

function rowOf(tints: Tints, value: number | string | null): StateRow {
  const rows = rowsOf(tints);
  return rows.find((r) => r.value === (value ?? "")) ?? rows[rows.length - 1];
}

/** Color of every piece by its number. */
export function tintColors(tints: Tints): Map<number, RGB> {
  const state = tints.scale.kind === "state";
  return new Map(tints.pieces.map((p) => [p.id, state ? rgb(rowOf(tints, p.value).color) : valueColor(p.value, tints.scale)]));
}

/** Signs that stand beside parts: one a part, at its first piece. */
export function tintSigns(tints: Tints, pieces: readonly Piece[]): { id: number; sign: string; value: string }[] {
  if (tints.scale.kind !== "state") return [];
  const told = new Map(tints.pieces.map((p) => [p.id, p.value]));
  const seen = new Set<string>();
  const found: { id: number; sign: string; value: string }[] = [];
  for (const piece of pieces) {
    if (seen.has(piece.part) || piece.kind === "work") continue;
    seen.add(piece.part);
    const row = rowOf(tints, told.get(piece.id) ?? null);
    if (row.sign) found.push({ id: piece.id, sign: row.sign, value: row.value });
  }
  return found;
}

/** How many parts are in each state, in the order of the key; states of no part are left out. */
export function tintCounts(tints: Tints, pieces: readonly Piece[]): (StateRow & { count: number })[] {
  const partOf = new Map(pieces.filter(isPart).map((p) => [p.id, p.part]));
  const parts = new Map<string, Set<string>>();
  for (const { id, value } of tints.pieces) {
    const part = partOf.get(id);
    if (part === undefined) continue;
    const row = rowOf(tints, value).value;
    parts.set(row, (parts.get(row) ?? new Set()).add(part));
  }
  return rowsOf(tints)
    .map((row) => ({ ...row, count: parts.get(row.value)?.size ?? 0 }))
    .filter((row) => row.count > 0);
}

/** What is counted as a part: the work area is drawn, but it is none, and a joint holds parts. */
export const isPart = (piece: Piece): boolean => piece.kind !== "work" && piece.kind !== "joint";

/** Parts of the drawing, and how many of them have pieces in several states: those are counted in each. */
export function partCounts(tints: Tints, pieces: readonly Piece[]): { all: number; mixed: number } {
  const all = new Set(pieces.filter(isPart).map((p) => p.part)).size;
  const told = tintCounts(tints, pieces).reduce((sum, row) => sum + row.count, 0);
  return { all, mixed: Math.max(0, told - all) };
}

/** Words at the two ends of a ramp: the program's own text of the greatest piece where it tells one, which knows the builder's units. */
export function tintEnds(tints: Tints): [string, string] {
  const number = (v: number): string => `${grouped(+v.toPrecision(3))} ${tints.scale.unit}`.trim();
  const most = tints.pieces.reduce<{ value: number; text: string } | null>(
    (best, p) => (typeof p.value === "number" && (!best || p.value > best.value) ? { value: p.value, text: p.text } : best),
    null,
  );
  const same = most && Math.abs(most.value - tints.scale.high) <= 1e-9 * Math.abs(tints.scale.high);
  const high = same ? most.text.replace(/ of the .*/, "") : number(tints.scale.high);
  const low = tints.scale.low === 0 ? "0" : number(tints.scale.low);
  return [low, high];
}

/** What the tint says of a part; "" where it says nothing. */
export function tintOf(tints: Tints, pieces: readonly Piece[], part: string): string {
  const ids = new Set(pieces.filter((p) => p.part === part).map((p) => p.id));
  return tints.pieces.find((p) => ids.has(p.id) && p.text)?.text ?? "";
}
