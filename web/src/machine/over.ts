/** Draws the sheet that lies over the drawing. */
import { INK, STATE } from "../color";
import type { Piece, Scene, Status, Tints } from "../contract";
import { chosen, scene } from "../state";
import { way } from "./look";
import { apart, dimensionLines, type Overlay } from "./overlay";
import { belongs } from "./pieces";
import { sizeText } from "./say";
import { tintSigns } from "./tints";
import type { MachineView } from "./view";

/** Signs that stand nearer than this to another are left out, px. */
const APART = 15;
/** Where along a part its sign is tried, best first. */
const PLACES = [0, 0.28, -0.28, 0.46, -0.46];
/** What can be seen is asked once nothing has moved for so long, ms. */
const REST_MS = 140;

export class Over {
  private readonly signs: Signs;

  constructor(
    private readonly sheet: Overlay,
    private readonly view: MachineView,
  ) {
    this.signs = new Signs(view);
  }

  draw(tints: Tints | null, moving: boolean): void {
    const { sheet, view } = this;
    if (way.peek() !== view.eye.way) way.value = view.eye.way;
    const shown = scene.peek();
    sheet.begin();
    if (!shown) return;
    sheet.triad(view.eye.axes());
    if (tints) for (const s of this.signs.of(tints, shown)) sheet.sign(s, s.sign, STATE[s.value as Status]?.color ?? INK);
    if (!moving && chosen.peek()) drawSizes(sheet, view, shown);
  }

  dispose(): void {
    this.signs.dispose();
  }
}

interface Sign {
  x: number;
  y: number;
  sign: string;
  value: string;
}

/** Signs beside the parts that can be seen. */
class Signs {
  /** Where along a piece its sign stands; null where nothing of it is in sight. */
  private places = new Map<number, number | null>();
  private known = "";
  private later = 0;

  constructor(private readonly view: MachineView) {}

  of(tints: Tints, shown: Scene): Sign[] {
    const wanted = tintSigns(tints, shown.pieces);
    const pieces = new Map(shown.pieces.map((p) => [p.id, p]));
    this.look(wanted.flatMap((s) => pieces.get(s.id) ?? []));
    const found = wanted.flatMap(({ id, sign, value }) => {
      const along = this.places.has(id) ? this.places.get(id)! : 0; // not asked yet, as while a motion swings
      const at = along === null ? null : this.view.middle(id, along);
      return at ? [{ ...at, sign, value }] : [];
    });
    return apart(found, APART);
  }

  /** Ask what is in sight, once things rest and stand elsewhere than when it was asked last. */
  private look(pieces: readonly Piece[]): void {
    const spots = pieces.map((p) => this.view.middle(p.id)).map((at) => (at ? `${at.x.toFixed(1)} ${at.y.toFixed(1)}` : "-"));
    const now = `${this.view.sight} ${spots.join()}`;
    if (now === this.known) return;
    clearTimeout(this.later);
    this.later = window.setTimeout(() => {
      this.known = now;
      this.places = new Map(pieces.map((p) => [p.id, PLACES.find((along) => this.view.inSight(p, along)) ?? null]));
      this.view.draw();
    }, REST_MS);
  }

  dispose(): void {
    clearTimeout(this.later);
  }
}

/** The three sizes of the largest piece of the chosen part. */
function drawSizes(sheet: Overlay, view: MachineView, shown: Scene): void {
  const mine = shown.pieces.filter((p) => belongs(p, chosen.peek()) && view.middle(p.id));
  const own = mine.filter((p) => p.part === chosen.peek());
  const bulk = (size: readonly number[]): number => size[0] * size[1] * size[2];
  const piece = (own.length ? own : mine).reduce<Piece | null>((a, b) => (a && bulk(a.size) >= bulk(b.size) ? a : b), null);
  if (!piece) return;
  const texts = piece.size.map((size) => sizeText(size, piece.detail, shown.show));
  if (shown.shapes.find((s) => s.id === piece.shape)?.kind === "cylinder") {
    texts[1] = `⌀ ${texts[1]}`;
    texts[2] = "";
  }
  for (const line of dimensionLines(view.corners(piece.id), texts, sheet.paper)) sheet.dimension(line);
}
