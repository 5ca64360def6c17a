/** The pieces of the machine: faces and ink of each, in their bodies, coloured, hidden, carried and marked. */
import {
  BackSide, type Box3, type BufferGeometry, Group, LineSegments, type Matrix4, Mesh, type Plane, Scene as Stage, type ShaderMaterial, Vector3,
} from "three";
import { ACCENT, type RGB } from "../color";
import type { Motion, Piece, Scene, Shape } from "../contract";
import { carriedBy, setStations, type Stations, stations } from "./bend";
import { cutLines } from "./cut";
import { type Drawn, drawn, STEPS } from "./geometry";
import { type Common, faceMaterial, figureMaterial, inkMaterial, inkOn, insideMaterial, screen, thin } from "./pens";

/** Lines that lie so far apart are drawn with full ink, px. */
const ROOM = 9;
const LEAST_INK = 0.22;

export type Face = Mesh<BufferGeometry, ShaderMaterial>;

interface Placed {
  piece: Piece;
  face: Face;
  ink: LineSegments<BufferGeometry, ShaderMaterial>;
  /** Seen through a cut; null for a space. */
  inside: Face | null;
  moves: Stations;
  /** The same faces, filled, while the piece belongs to the chosen part. */
  figure: Face | null;
}

/** A shape as it stands, and once it is asked for cut into steps so that it can bend. */
class Forms {
  readonly plain: Drawn;
  private stepped: Drawn | null = null;

  constructor(private readonly shape: Shape) {
    this.plain = drawn(shape);
  }

  get bent(): Drawn {
    this.stepped ??= drawn(this.shape, STEPS);
    return this.stepped;
  }

  dispose(): void {
    for (const form of [this.plain, this.stepped]) {
      form?.faces.dispose();
      form?.ink.dispose();
    }
  }
}

export class Pieces {
  readonly root = new Group();
  /** Figures of the chosen part: from them its outline is found. */
  readonly figures = new Stage();
  /** How many times larger the motion is drawn. */
  readonly times = { value: 0 };
  private readonly bodies = new Map<string, Group>();
  private readonly shapes = new Map<string, Forms>();
  private readonly presses = new Map<string, { value: number }>();
  private placed = new Map<number, Placed>();
  private scene: Scene | null = null;
  private chosen = "";
  private chosenToo = "";
  private hidden: ReadonlySet<string> = new Set();
  private alone = "";
  private open = false;
  /** Where the axes stand. */
  posed: Record<string, number> = {};

  constructor(private readonly shared: Common) {}

  // ---- what there is

  /** Take a scene. Pieces that kept their shape are only put in their places. */
  set(scene: Scene): void {
    this.scene = scene;
    const before = this.placed;
    this.placed = new Map();
    for (const shape of scene.shapes) if (!this.shapes.has(shape.id)) this.shapes.set(shape.id, new Forms(shape));
    for (const piece of scene.pieces) {
      const shape = this.shapes.get(piece.shape);
      if (!shape) continue;
      const old = before.get(piece.id);
      const same = old && old.piece.shape === piece.shape && old.piece.body === piece.body && old.piece.kind === piece.kind;
      if (same) before.delete(piece.id);
      this.settle(same ? old : this.made(piece, shape), piece);
    }
    for (const one of before.values()) this.forget(one);
    this.forgetShapes(new Set(scene.shapes.map((s) => s.id)));
    this.show(this.hidden, this.alone);
    this.choose(this.chosen, this.chosenToo);
  }

  private settle(one: Placed, piece: Piece): void {
    one.piece = piece;
    for (const drawing of drawings(one)) {
      drawing.matrix.fromArray(piece.matrix);
      drawing.matrixWorldNeedsUpdate = true;
    }
    this.placed.set(piece.id, one);
  }

  private made(piece: Piece, { plain }: Forms): Placed {
    const moves = stations(this.times);
    const face = new Mesh(plain.faces, faceMaterial(moves, piece.shape === "cylinder"));
    const ink = new LineSegments(plain.ink, inkMaterial(moves, this.shared, face.material, this.pressOf(piece.shape)));
    const inside = piece.kind === "work" ? null : new Mesh(plain.faces, insideMaterial(moves, this.shared, face.material, piece.id));
    if (piece.kind === "work") thin(face.material, ink.material);
    face.material.polygonOffset = !this.open;
    ink.renderOrder = 1; // after all faces: these say where there is none
    for (const one of drawings({ face, ink, inside })) {
      one.matrixAutoUpdate = false;
      one.frustumCulled = false; // a piece that bends leaves its box
      one.userData.piece = piece.id;
    }
    this.bodyOf(piece.body).add(...drawings({ face, ink, inside }));
    return { piece, face, ink, inside, moves, figure: null };
  }

  private pressOf(shape: string): { value: number } {
    const known = this.presses.get(shape) ?? { value: 1 };
    this.presses.set(shape, known);
    return known;
  }

  private bodyOf(name: string): Group {
    let group = this.bodies.get(name);
    if (!group) {
      group = new Group();
      this.bodies.set(name, group);
      this.root.add(group);
    }
    return group;
  }

  private forget(one: Placed): void {
    for (const drawing of drawings(one)) {
      drawing.removeFromParent();
      drawing.material.dispose();
    }
    this.unmark(one);
  }

  private forgetShapes(kept: ReadonlySet<string>): void {
    for (const [id, shape] of this.shapes) {
      if (kept.has(id)) continue;
      shape.dispose();
      this.shapes.delete(id);
      this.presses.delete(id);
    }
  }

  dispose(): void {
    for (const one of this.placed.values()) this.forget(one);
    this.placed.clear();
    this.forgetShapes(new Set());
    this.root.removeFromParent();
  }

  all(): Piece[] {
    return [...this.placed.values()].map((one) => one.piece);
  }

  /** Faces that can be pointed at, where they stand; where the machine is cut open also their insides. */
  faces(): Face[] {
    const found = this.solids().flatMap(({ face, inside }) => (this.open && inside ? [face, inside] : [face]));
    for (const face of found) world(face);
    return found;
  }

  /** Things that are shown, without spaces. */
  private solids(): Placed[] {
    return [...this.placed.values()].filter((one) => this.seen(one.piece) && one.piece.kind !== "work");
  }

  isInside(face: Face): boolean {
    return face.material.side === BackSide;
  }

  of(face: Face): Piece | null {
    return this.placed.get(face.userData.piece as number)?.piece ?? null;
  }

  // ---- how it looks

  /** Colour of every piece; null is the paper of its material. */
  color(of: (piece: Piece) => RGB | null): void {
    for (const { piece, face } of this.placed.values()) {
      const rgb = of(piece);
      if (rgb && piece.kind !== "work") face.material.uniforms.uColor.value.set(...rgb);
      else face.material.uniforms.uColor.value.copy(paper(piece));
    }
    this.ink();
  }

  /** Dark on light faces, light on dark ones. */
  private ink(): void {
    for (const { piece, face, ink } of this.placed.values()) {
      ink.material.uniforms.uInk.value = inkOn(piece.kind === "work" ? "space" : face.material.uniforms.uColor.value);
    }
  }

  /** Colours as they are, by number. */
  colors(): Map<number, RGB> {
    return new Map([...this.placed].map(([id, { face }]) => [id, face.material.uniforms.uColor.value.toArray() as RGB]));
  }

  /** The machine is cut open, or whole. */
  cutOpen(open: boolean): void {
    this.open = open;
    for (const { face } of this.placed.values()) face.material.polygonOffset = !open;
    this.show(this.hidden, this.alone);
  }

  /**
   * Where the lines of a section lie nearer than some pixels the pen presses less, or the piece would be black.
   *
   * @param scale Pixels to a metre.
   */
  press(scale: number): void {
    for (const [id, press] of this.presses) {
      const apart = scale / Math.max(this.shapes.get(id)?.plain.dense ?? 0, 1e-9);
      press.value = Math.max(LEAST_INK, Math.min(1, apart / ROOM));
    }
  }

  /** Bodies that are not shown, and the part that is shown alone ("" for all). */
  show(hidden: ReadonlySet<string>, alone: string): void {
    this.hidden = hidden;
    this.alone = alone;
    for (const [name, group] of this.bodies) group.visible = !hidden.has(name) || alone !== "";
    for (const { piece, face, ink, inside, figure } of this.placed.values()) {
      face.visible = ink.visible = !alone || belongs(piece, alone);
      if (inside) inside.visible = face.visible && this.open;
      if (figure) figure.visible = this.seen(piece);
    }
  }

  seen(piece: Piece): boolean {
    return this.alone ? belongs(piece, this.alone) : !this.hidden.has(piece.body);
  }

  /** A part of the machine file is chosen: its pieces are outlined over everything. */
  choose(part: string, other = ""): void {
    [this.chosen, this.chosenToo] = [part, other];
    for (const one of this.placed.values()) {
      const of = [part, other].findIndex((path) => path !== "" && belongs(one.piece, path));
      if (one.figure) this.unmark(one);
      if (of >= 0) this.mark(one, of === 1);
    }
  }

  private mark(one: Placed, second: boolean): void {
    one.figure = new Mesh(one.face.geometry, figureMaterial(one.moves, second));
    one.figure.matrixAutoUpdate = one.figure.matrixWorldAutoUpdate = one.figure.frustumCulled = false;
    one.figure.visible = this.seen(one.piece);
    this.figures.add(one.figure);
  }

  private unmark(one: Placed): void {
    one.figure?.removeFromParent();
    one.figure?.material.dispose();
    one.figure = null;
  }

  /** Lines round what a plane cuts. */
  cut(plane: Plane): number[] {
    const lines: number[] = [];
    for (const { face } of this.solids()) cutLines(face.geometry, world(face), plane, lines);
    return lines;
  }

  // ---- where it is

  /** Move the bodies to a pose, m by axis; axes that are not named stand as drawn. */
  pose(pose: Record<string, number>): void {
    this.posed = pose;
    for (const group of this.bodies.values()) group.position.set(0, 0, 0);
    for (const axis of this.scene?.axes ?? []) {
      const far = (pose[axis.name] ?? axis.drawn) - axis.drawn;
      for (const [body, [x, y, z]] of Object.entries(axis.moves)) {
        const at = this.bodies.get(body)?.position;
        at?.set(at.x + far * x, at.y + far * y, at.z + far * z);
      }
    }
  }

  /** Take a motion; null lets all stand. */
  carry(motion: Motion | null): void {
    (this.scene?.pieces ?? []).forEach((piece, i) => {
      const placed = this.placed.get(piece.id);
      const form = this.shapes.get(piece.shape);
      if (!placed || !form) return;
      const rows = motion?.pieces[i] ?? [];
      setStations(placed.moves, rows);
      const { faces, ink } = rows.length > 2 ? form.bent : form.plain;
      placed.face.geometry = faces;
      placed.ink.geometry = ink;
      for (const one of [placed.inside, placed.figure]) if (one) one.geometry = faces;
    });
  }

  /** Corners of all that is shown where it stands, or of one part. */
  points(part = ""): Vector3[] {
    return this.all().flatMap((piece) => (this.seen(piece) && (!part || belongs(piece, part)) ? this.corners(piece.id) : []));
  }

  /** Eight corners of a piece where it stands, each axis of its own from low to high: x by 1, y by 2, z by 4. */
  corners(id: number): Vector3[] {
    const one = this.placed.get(id);
    if (!one) return [];
    const place = world(one.face);
    return Array.from({ length: 8 }, (_, i) => cornerOf(boxOf(one.face.geometry), i, new Vector3()).applyMatrix4(place));
  }

  /**
   * Middle of a piece where it is shown, or another place along its first axis; null where it is not shown.
   *
   * @param along From -0.5 to 0.5.
   */
  middle(id: number, along = 0): Vector3 | null {
    const one = this.placed.get(id);
    if (!one || !this.seen(one.piece)) return null;
    const at = boxOf(one.face.geometry).getCenter(new Vector3());
    at.x += along;
    const own = at.x;
    const place = world(one.face);
    const arm = at.clone().applyMatrix4(place).sub(new Vector3(own, 0, 0).applyMatrix4(place));
    return at.applyMatrix4(place).add(carriedBy(one.moves, own, arm));
  }

  /** The figures stand where the pieces were drawn. */
  settleFigures(): void {
    for (const { face, figure } of this.placed.values()) figure?.matrixWorld.copy(face.matrixWorld);
  }
}

/** A piece shows a part of the machine file where its path is that part, or lies below it. */
export function belongs(piece: Pick<Piece, "part">, part: string): boolean {
  return piece.part === part || piece.part.startsWith(`${part}.`);
}

const drawings = ({ face, ink, inside }: Pick<Placed, "face" | "ink" | "inside">) => (inside ? [face, ink, inside] : [face, ink]);

/** Where a piece stands: as in the scene, shifted with its body. The library brings its own copy up to date only when it draws. */
function world(face: Face): Matrix4 {
  const at = face.parent?.position;
  const place = face.matrixWorld.copy(face.matrix);
  if (at) for (const [i, shift] of at.toArray().entries()) place.elements[12 + i] += shift;
  return place;
}

function boxOf(faces: BufferGeometry): Box3 {
  if (!faces.boundingBox) faces.computeBoundingBox();
  return faces.boundingBox!;
}

function cornerOf(box: Box3, number: number, into: Vector3): Vector3 {
  return into.set(number & 1 ? box.max.x : box.min.x, number & 2 ? box.max.y : box.min.y, number & 4 ? box.max.z : box.min.z);
}

/** Paper tones by material: light enough for ink, far enough apart to tell wood from metal. */
const TONES: [said: RegExp, tone: Vector3][] = [
  [/\bwork\b/, screen(ACCENT)],
  [/plywood|fibre|wood|mdf|maple|spruce|beech|oak/, screen("#f1e6cf")],
  [/steel|iron/, screen("#e3e6e7")],
  [/alumin/, screen("#f3f4f2")],
  [/motor|spindle|cabinet/, screen("#d9dee0")],
];
const PLAIN = screen("#e9eae7");

function paper(piece: Piece): Vector3 {
  const said = `${piece.material} ${piece.kind}`.toLowerCase();
  return TONES.find(([words]) => words.test(said))?.[1] ?? PLAIN;
}
