/** Draws the sheet that lies over the drawing. */
import { INK, STATE } from "../color";
import type { Scene, Status, Tints } from "../contract";
import { chosen, scene } from "../state";
import { way } from "./look";
import { apart, dimensionLines, type Overlay } from "./overlay";
import { belongs } from "./pieces";
import { sizeText } from "./say";
import { tintSigns } from "./tints";
import type { MachineView } from "./view";

/** Signs that stand nearer than this to another are left out, px. */
const APART = 15;

export function drawSheet(sheet: Overlay, view: MachineView, tints: Tints | null, moving: boolean): void {
  if (way.peek() !== view.eye.way) way.value = view.eye.way;
  const shown = scene.peek();
  sheet.begin();
  if (!shown) return;
  sheet.triad(view.eye.axes());
  if (tints) {
    const signs = tintSigns(tints, shown.pieces).flatMap((s) => {
      const at = view.middle(s.id);
      return at ? [{ ...s, ...at }] : [];
    });
    for (const s of apart(signs, APART)) sheet.sign(s, s.sign, STATE[s.value as Status]?.color ?? INK);
  }
  if (!moving && chosen.peek()) drawSizes(sheet, view, shown);
}

/** The three sizes of the largest piece of the chosen part. */
function drawSizes(sheet: Overlay, view: MachineView, shown: Scene): void {
  const mine = shown.pieces.filter((p) => belongs(p, chosen.peek()) && view.middle(p.id));
  const own = mine.filter((p) => p.part === chosen.peek());
  const bulk = (size: readonly number[]): number => size[0] * size[1] * size[2];
  const piece = (own.length ? own : mine).reduce<(typeof mine)[number] | null>((a, b) => (a && bulk(a.size) >= bulk(b.size) ? a : b), null);
  if (!piece) return;
  const texts = piece.size.map((size) => sizeText(size, piece.detail, shown.show));
  if (shown.shapes.find((s) => s.id === piece.shape)?.kind === "cylinder") {
    texts[1] = `⌀ ${texts[1]}`;
    texts[2] = "";
  }
  const corners = view.corners(piece.id);
  for (const line of dimensionLines(corners, texts)) sheet.dimension(line);
}
