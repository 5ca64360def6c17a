import { expect, test } from "vitest";
import { AMOUNT, css, LINES, ramp, rgb, SIGNED, STATE, UNKNOWN, valueColor, WORST_FIRST } from "../src/color";

/** Lightness L* of CIE 1976. */
function lightness(hex: string): number {
  const [r, g, b] = rgb(hex).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
  const y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
  return y > 216 / 24389 ? 116 * Math.cbrt(y) - 16 : (24389 / 27) * y;
}

function contrast(hex: string, on: string): number {
  const y = (h: string) => {
    const [r, g, b] = rgb(h).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const [low, high] = [y(hex), y(on)].sort((a, b) => a - b);
  return (high + 0.05) / (low + 0.05);
}

test("amount grows lighter at every step, so that it reads without hue", () => {
  const l = AMOUNT.map(lightness);
  for (let i = 1; i < l.length; i++) expect(l[i]).toBeGreaterThan(l[i - 1] + 3);
});

test("signed is lightest at nothing and falls to both sides", () => {
  const l = SIGNED.map(lightness);
  const middle = (l.length - 1) / 2;
  for (let i = 1; i <= middle; i++) {
    expect(l[middle - i]).toBeLessThan(l[middle - i + 1]);
    expect(l[middle + i]).toBeLessThan(l[middle + i - 1]);
  }
});

test("a ramp meets its stops, holds at its ends and lies between elsewhere", () => {
  expect(css(ramp("amount", 0))).toBe(AMOUNT[0]);
  expect(css(ramp("amount", 1))).toBe(AMOUNT.at(-1));
  expect(css(ramp("amount", 0.5))).toBe(AMOUNT[4]);
  expect(css(ramp("amount", 7))).toBe(AMOUNT.at(-1));
  const [r] = ramp("amount", 1 / 16);
  expect(r).toBeGreaterThan(rgb(AMOUNT[0])[0]);
  expect(r).toBeLessThan(rgb(AMOUNT[1])[0]);
});

test("a signed scale is centred on zero whatever its ends", () => {
  const scale = { low: -1, high: 4, kind: "signed" as const };
  expect(css(valueColor(0, scale))).toBe(SIGNED[4]);
  expect(css(valueColor(4, scale))).toBe(SIGNED[8]);
  expect(css(valueColor(-4, scale))).toBe(SIGNED[0]);
});

test("what is not known has a colour of its own", () => {
  const scale = { low: 0, high: 1, kind: "amount" as const };
  for (const nothing of [null, undefined, Number.NaN]) expect(css(valueColor(nothing, scale))).toBe(UNKNOWN);
  expect(css(valueColor("fail", { low: 0, high: 1, kind: "state" }))).toBe(STATE.fail.color);
  expect(css(valueColor("never heard of", { low: 0, high: 1, kind: "state" }))).toBe(UNKNOWN);
});

test("no state is told by its colour alone", () => {
  const signs = WORST_FIRST.map((s) => STATE[s].sign);
  const words = WORST_FIRST.map((s) => STATE[s].word);
  expect(new Set(signs).size).toBe(signs.length);
  expect(new Set(words).size).toBe(words.length);
});

test("lines differ by dash or width where they differ by colour, and show on paper", () => {
  expect(new Set(LINES.map((l) => `${l.dash}/${l.width}`)).size).toBe(LINES.length);
  for (const l of LINES) expect(contrast(l.color, "#ffffff")).toBeGreaterThan(3);
});
