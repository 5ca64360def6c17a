/** The machine in three dimensions. With its neighbours in this folder the only place that knows the drawing library. */
import {
  Box3, BufferAttribute, BufferGeometry, DynamicDrawUsage, Group, HalfFloatType, Line, LineBasicMaterial, LineSegments, Matrix4, Mesh,
  NearestFilter, type Plane, PlaneGeometry, Raycaster, Scene as Stage, type ShaderMaterial, Vector2, Vector3, WebGLRenderer,
  WebGLRenderTarget,
} from "three";
import { ACCENT, PAPER, type RGB } from "../color";
import type { Motion, Piece, Scene } from "../contract";
import { carriedBy, setStations, type Stations, stations } from "./bend";
import { type Cut, cutLines, planeOf, pointsOf } from "./cut";
import { Eye, type Way } from "./eye";
import { type Drawn, drawn } from "./geometry";
import { common, cutMaterial, faceMaterial, figureMaterial, INK_BEFORE, inkMaterial, inkOn, insideMaterial, opaqueMaterial, outlineMaterial, screen, thin } from "./pens";

/** Swings a second that a motion is shown with, whatever its own frequency. */
const SHOWN_HZ = 0.6;
/** A pointer that moved less than this between down and up has tapped, px. */
const TAP = { mouse: 5, other: 12 };
/** Lines that lie so far apart are drawn with full ink, px. */
const ROOM = 9;
/** Thickness of the outline of the chosen part, px. */
const OUTLINE = 1.7;

type Face = Mesh<BufferGeometry, ShaderMaterial>;

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

export interface Told {
  picked: (part: string) => void;
  /** After every picture: what lies over the canvas follows. */
  drawn: () => void;
  /** The drawing was taken away by the browser, or given back. */
  lost: (lost: boolean) => void;
}

export class MachineView {
  readonly eye: Eye;
  private readonly gl: WebGLRenderer;
  private readonly stage = new Stage();
  private readonly figures = new Stage();
  private readonly figureOn = new WebGLRenderTarget(1, 1, { samples: 4, type: HalfFloatType, minFilter: NearestFilter, magFilter: NearestFilter });
  private readonly outline = new Mesh(new PlaneGeometry(2, 2), outlineMaterial(this.figureOn.texture));
  private readonly opaque = new Mesh(this.outline.geometry, opaqueMaterial());
  private readonly cutInk = new LineSegments(new BufferGeometry(), cutMaterial());
  private readonly bodies = new Map<string, Group>();
  private readonly shapes = new Map<string, Drawn>();
  private readonly presses = new Map<string, { value: number }>();
  private readonly shared = common();
  private readonly times = { value: 0 };
  private readonly watch: ResizeObserver;
  private placed = new Map<number, Placed>();
  private scene: Scene | null = null;
  private chosen = "";
  private hidden: ReadonlySet<string> = new Set();
  private alone = "";
  private plane: Plane | null = null;
  private cutOld = false;
  private path: Line<BufferGeometry, LineBasicMaterial> | null = null;
  private pathTimes = new Float32Array();
  private asked = 0;
  private swinging = 0;
  private moving = false;
  private fitted = false;
  private width = 0;
  private height = 0;
  /** Pictures made so far: a test can see that nothing is drawn in vain. */
  pictures = 0;

  constructor(
    private readonly canvas: HTMLCanvasElement,
    private readonly told: Told,
  ) {
    this.gl = new WebGLRenderer({ canvas, antialias: true });
    this.gl.setClearColor(PAPER);
    this.gl.autoClear = false;
    this.eye = new Eye(canvas, () => this.draw());
    this.cutInk.frustumCulled = this.outline.frustumCulled = this.opaque.frustumCulled = false;
    this.cutInk.renderOrder = 2;
    this.cutInk.visible = false;
    this.stage.add(this.cutInk);
    canvas.addEventListener("pointerdown", this.pressed);
    canvas.addEventListener("pointerup", this.released);
    canvas.addEventListener("webglcontextlost", this.taken);
    canvas.addEventListener("webglcontextrestored", this.given);
    this.watch = new ResizeObserver(() => this.resized());
    this.watch.observe(canvas);
    this.resized();
  }

  // ---- what is shown

  /** Show a machine. Pieces that kept their shape are only put in their places; camera, section and what is hidden stay. */
  setScene(scene: Scene): void {
    this.scene = scene;
    const before = this.placed;
    this.placed = new Map();
    for (const shape of scene.shapes) if (!this.shapes.has(shape.id)) this.shapes.set(shape.id, drawn(shape));
    for (const piece of scene.pieces) {
      const shape = this.shapes.get(piece.shape);
      if (!shape) continue;
      const old = before.get(piece.id);
      if (old && old.piece.shape === piece.shape && old.piece.body === piece.body && old.piece.kind === piece.kind) {
        before.delete(piece.id);
        this.settle(old, piece);
      } else this.settle(this.made(piece, shape), piece);
    }
    for (const one of before.values()) this.forget(one);
    this.forgetShapes(new Set(scene.shapes.map((s) => s.id)));
    this.show();
    this.choose(this.chosen);
    if (!this.fitted && this.width > 0) this.look("isometric");
    this.changed();
  }

  private settle(one: Placed, piece: Piece): void {
    one.piece = piece;
    for (const drawing of drawings(one)) {
      drawing.matrix.fromArray(piece.matrix);
      drawing.matrixWorldNeedsUpdate = true;
    }
    this.placed.set(piece.id, one);
  }

  private made(piece: Piece, shape: Drawn): Placed {
    const moves = stations(this.times);
    const face = new Mesh(shape.faces, faceMaterial(moves, piece.shape === "cylinder"));
    const ink = new LineSegments(shape.ink, inkMaterial(moves, this.shared, face.material, this.pressOf(piece.shape)));
    const inside = piece.kind === "work" ? null : new Mesh(shape.faces, insideMaterial(moves, this.shared, face.material, piece.id));
    if (piece.kind === "work") {
      thin(face.material, ink.material);
    }
    face.material.polygonOffset = !this.plane;
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

  /** Where the lines of a section lie nearer than some pixels the pen presses less, or the piece would be black. */
  private press(): void {
    const scale = (this.eye.camera.zoom * this.height) / 2;
    // where there is a cut no face may give way: its inside would show along its brim. So the ink goes farther before.
    this.shared.uInkBefore.value = this.plane ? Math.max(INK_BEFORE, 1.5 / scale / this.eye.halfDepth) : INK_BEFORE;
    for (const [id, press] of this.presses) {
      const apart = scale / Math.max(this.shapes.get(id)?.dense ?? 0, 1e-9);
      press.value = Math.max(0.22, Math.min(1, apart / ROOM));
    }
  }

  private bodyOf(name: string): Group {
    let group = this.bodies.get(name);
    if (!group) {
      group = new Group();
      this.bodies.set(name, group);
      this.stage.add(group);
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
      shape.faces.dispose();
      shape.ink.dispose();
      this.shapes.delete(id);
      this.presses.delete(id);
    }
  }

  /** Colour of every piece; null is the paper of its material. */
  color(of: (piece: Piece) => RGB | null): void {
    for (const { piece, face } of this.placed.values()) {
      const rgb = of(piece);
      if (rgb && piece.kind !== "work") face.material.uniforms.uColor.value.set(...rgb);
      else face.material.uniforms.uColor.value.copy(paper(piece));
    }
    this.ink();
    this.draw();
  }

  /** Dark on light faces, light on dark ones. */
  private ink(): void {
    for (const { piece, face, ink } of this.placed.values()) {
      ink.material.uniforms.uInk.value = inkOn(piece.kind === "work" ? "space" : face.material.uniforms.uColor.value);
    }
  }

  /** Move the bodies to a pose, m by axis; axes that are not named stand as drawn. */
  setPose(pose: Record<string, number>): void {
    for (const group of this.bodies.values()) group.position.set(0, 0, 0);
    for (const axis of this.scene?.axes ?? []) {
      const far = (pose[axis.name] ?? axis.drawn) - axis.drawn;
      for (const [body, [x, y, z]] of Object.entries(axis.moves)) {
        const at = this.bodies.get(body)?.position;
        at?.set(at.x + far * x, at.y + far * y, at.z + far * z);
      }
    }
    this.changed();
  }

  /** Bodies that are not shown, and the part that is shown alone ("" for all). */
  show(hidden = this.hidden, alone = this.alone): void {
    this.hidden = hidden;
    this.alone = alone;
    for (const [name, group] of this.bodies) group.visible = !hidden.has(name) || alone !== "";
    for (const { piece, face, ink, inside, figure } of this.placed.values()) {
      face.visible = ink.visible = !alone || belongs(piece, alone);
      if (inside) inside.visible = face.visible && this.plane !== null;
      if (figure) figure.visible = this.seen(piece);
    }
    this.changed();
  }

  private seen(piece: Piece): boolean {
    return this.alone ? belongs(piece, this.alone) : !this.hidden.has(piece.body);
  }

  /** A part of the machine file is chosen: its pieces are outlined over everything. */
  choose(part: string): void {
    this.chosen = part;
    for (const one of this.placed.values()) {
      const mine = part !== "" && belongs(one.piece, part);
      if (mine && !one.figure) this.mark(one);
      else if (!mine && one.figure) this.unmark(one);
    }
    this.draw();
  }

  private mark(one: Placed): void {
    one.figure = new Mesh(one.face.geometry, figureMaterial(one.moves));
    one.figure.matrixAutoUpdate = one.figure.matrixWorldAutoUpdate = one.figure.frustumCulled = false;
    one.figure.visible = this.seen(one.piece);
    this.figures.add(one.figure);
  }

  private unmark(one: Placed): void {
    one.figure?.removeFromParent();
    one.figure?.material.dispose();
    one.figure = null;
  }

  /** Cut the machine open; null closes it. */
  section(cut: Cut | null): void {
    this.plane = cut && planeOf(cut);
    this.gl.clippingPlanes = this.plane ? [this.plane] : [];
    for (const { face } of this.placed.values()) face.material.polygonOffset = !this.plane;
    this.show();
  }

  /** The side of a plane across an axis that stays so that one looks at the cut. */
  facing(axis: Cut["axis"]): Cut["keeps"] {
    return this.eye.toward()[axis] >= 0 ? 1 : -1;
  }

  private drawCut(): void {
    this.cutOld = false;
    this.cutInk.visible = this.plane !== null && !this.moving;
    if (!this.plane || this.moving) return;
    const lines: number[] = [];
    for (const { piece, face } of this.placed.values()) {
      if (piece.kind !== "work" && this.seen(piece)) cutLines(face.geometry, world(face), this.plane, lines);
    }
    this.cutInk.geometry.dispose();
    this.cutInk.geometry = new BufferGeometry().setAttribute("position", pointsOf(lines));
  }

  // ---- motion

  /** Show a motion, so many times larger than it is: swinging, or still where it is largest. */
  move(motion: Motion | null, times: number, still: boolean): void {
    const starts = motion !== null && !this.moving;
    this.moving = motion !== null;
    (this.scene?.pieces ?? []).forEach((piece, i) => {
      const placed = this.placed.get(piece.id);
      if (placed) setStations(placed.moves, motion?.pieces[i] ?? []);
    });
    this.most = times;
    if (starts) this.since = performance.now();
    cancelAnimationFrame(this.swinging);
    this.swinging = 0;
    this.times.value = motion ? times : 0;
    this.changed();
    if (motion && !still) this.swinging = requestAnimationFrame(this.swing);
  }
  private most = 0;
  private since = 0;

  private readonly swing = (now: number): void => {
    this.swinging = requestAnimationFrame(this.swing);
    this.times.value = this.most * Math.sin((2 * Math.PI * SHOWN_HZ * (now - this.since)) / 1000);
    this.paint();
  };

  // ---- the path of a program

  /** Four numbers a point: x, y, z in m, time in s, rising. */
  setPath(xyzt: Float32Array): void {
    this.forgetPath();
    const count = Math.floor(xyzt.length / 4);
    const place = new Float32Array(3 * count);
    this.pathTimes = new Float32Array(count);
    for (let i = 0; i < count; i++) {
      place.set(xyzt.subarray(4 * i, 4 * i + 3), 3 * i);
      this.pathTimes[i] = xyzt[4 * i + 3];
    }
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", new BufferAttribute(place, 3).setUsage(DynamicDrawUsage));
    this.path = new Line(geometry, new LineBasicMaterial({ color: ACCENT }));
    this.path.frustumCulled = false;
    this.stage.add(this.path);
    this.showPathUntil(Number.POSITIVE_INFINITY);
  }

  showPathUntil(time: number): void {
    this.path?.geometry.setDrawRange(0, upTo(this.pathTimes, time));
    this.draw();
  }

  private forgetPath(): void {
    this.path?.removeFromParent();
    this.path?.geometry.dispose();
    this.path?.material.dispose();
    this.path = null;
  }

  // ---- looking

  look(way: Way): void {
    const points = this.points();
    if (points.length === 0) return;
    this.fitted = true;
    this.eye.look(way, points);
  }

  /** Bring all that is shown on the paper, from where one looks. */
  fit(): void {
    const points = this.points();
    if (points.length > 0) this.eye.fit(points);
  }

  /** The next machine is looked at anew. */
  forgetLook(): void {
    this.fitted = false;
  }

  /** Corners of all that is shown where it stands. */
  private points(): Vector3[] {
    return this.pieces().flatMap((piece) => (this.seen(piece) ? this.corners(piece.id) : []));
  }

  /** Eight corners of a piece where it stands, each axis of its own from low to high: x by 1, y by 2, z by 4. */
  corners(id: number): Vector3[] {
    const one = this.placed.get(id);
    if (!one) return [];
    const place = world(one.face);
    return Array.from({ length: 8 }, (_, i) => cornerOf(boxOf(one.face.geometry), i, new Vector3()).applyMatrix4(place));
  }

  /** Middle of a piece where it is shown, on the canvas, px; null where it is not shown. */
  middle(id: number): { x: number; y: number; far: number } | null {
    const one = this.placed.get(id);
    if (!one || !this.seen(one.piece)) return null;
    const at = boxOf(one.face.geometry).getCenter(new Vector3());
    const own = at.x;
    const place = world(one.face);
    const arm = at.clone().applyMatrix4(place).sub(new Vector3(own, 0, 0).applyMatrix4(place));
    return this.eye.project(at.applyMatrix4(place).add(carriedBy(one.moves, own, arm)));
  }

  /** Middle of a piece on the page, px: for tests. */
  screenOf(id: number): { x: number; y: number } | null {
    const there = this.middle(id);
    const frame = this.canvas.getBoundingClientRect();
    return there && { x: there.x + frame.left, y: there.y + frame.top };
  }

  pieces(): Piece[] {
    return [...this.placed.values()].map((one) => one.piece);
  }

  /** Of all pieces: how long placing at a pose and giving colours take, ms. */
  measure(pose: Record<string, number>): { place: number; color: number } {
    const start = performance.now();
    this.setPose(pose);
    const middle = performance.now();
    const kept = [...this.placed.values()].map((one) => one.face.material.uniforms.uColor.value.clone());
    const colors = performance.now();
    let i = 0;
    this.color(() => kept[i++].toArray() as RGB);
    return { place: middle - start, color: performance.now() - colors };
  }

  // ---- picking

  private down: { id: number; x: number; y: number } | null = null;
  private readonly pressed = (e: PointerEvent): void => {
    this.down = e.isPrimary && e.button === 0 ? { id: e.pointerId, x: e.clientX, y: e.clientY } : null;
  };
  private readonly released = (e: PointerEvent): void => {
    const { down } = this;
    this.down = null;
    if (!down || down.id !== e.pointerId) return;
    const most = e.pointerType === "mouse" ? TAP.mouse : TAP.other;
    if (Math.hypot(e.clientX - down.x, e.clientY - down.y) <= most) this.told.picked(this.partAt(e.clientX, e.clientY));
  };

  /** Part of the machine file under a place of the page; "" where there is none. */
  partAt(x: number, y: number): string {
    const frame = this.canvas.getBoundingClientRect();
    const ray = new Raycaster();
    const at = new Vector2(((x - frame.left) / frame.width) * 2 - 1, 1 - ((y - frame.top) / frame.height) * 2);
    ray.setFromCamera(at, this.eye.camera);
    const faces = [...this.placed.values()].filter((o) => this.seen(o.piece) && o.piece.kind !== "work").map((o) => o.face);
    const hit = ray.intersectObjects(faces, false).find((h) => !this.plane || this.plane.distanceToPoint(h.point) >= 0);
    return hit ? (this.placed.get(hit.object.userData.piece)?.piece.part ?? "") : "";
  }

  // ---- drawing

  private resized(): void {
    this.width = this.canvas.clientWidth;
    this.height = this.canvas.clientHeight;
    if (this.width === 0 || this.height === 0) return; // not on the page at present
    const dots = Math.min(devicePixelRatio, 2);
    this.gl.setPixelRatio(dots);
    this.gl.setSize(this.width, this.height, false);
    this.figureOn.setSize(Math.round(this.width * dots), Math.round(this.height * dots));
    this.outline.material.uniforms.uStep.value.set(OUTLINE / this.width, OUTLINE / this.height);
    this.shared.uDots.value = dots;
    this.eye.resized(this.width, this.height);
    if (!this.fitted && this.scene) this.look("isometric");
    this.paint(); // at once: a canvas that changed its size is empty
  }

  /** Something stands elsewhere: the cut is drawn anew too. */
  private changed(): void {
    this.cutOld = true;
    this.draw();
  }

  /** Draw soon, at most once a frame. */
  readonly draw = (): void => {
    if (this.swinging || this.asked) return;
    this.asked = requestAnimationFrame(() => {
      this.asked = 0;
      this.paint();
    });
  };

  private paint(): void {
    if (this.width === 0 || this.height === 0 || this.gone) return;
    this.pictures++;
    if (this.cutOld) this.drawCut();
    this.press();
    this.gl.clear();
    this.gl.render(this.stage, this.eye.camera);
    if (this.plane) this.gl.render(this.opaque, this.eye.camera);
    if (this.figures.children.length > 0) this.drawOutline();
    this.told.drawn();
  }

  private drawOutline(): void {
    for (const { face, figure } of this.placed.values()) figure?.matrixWorld.copy(face.matrixWorld);
    this.gl.setRenderTarget(this.figureOn);
    this.gl.setClearColor("#000000", 0);
    this.gl.clear();
    this.gl.render(this.figures, this.eye.camera);
    this.gl.setRenderTarget(null);
    this.gl.setClearColor(PAPER, 1);
    this.gl.render(this.outline, this.eye.camera);
  }

  private gone = false;
  private readonly taken = (e: Event): void => {
    e.preventDefault();
    this.gone = true;
    this.told.lost(true);
  };
  private readonly given = (): void => {
    this.gone = false;
    this.told.lost(false);
    this.changed();
  };

  dispose(): void {
    cancelAnimationFrame(this.swinging);
    cancelAnimationFrame(this.asked);
    this.watch.disconnect();
    this.canvas.removeEventListener("pointerdown", this.pressed);
    this.canvas.removeEventListener("pointerup", this.released);
    this.canvas.removeEventListener("webglcontextlost", this.taken);
    this.canvas.removeEventListener("webglcontextrestored", this.given);
    this.eye.dispose();
    for (const one of this.placed.values()) this.forget(one);
    this.forgetShapes(new Set());
    this.forgetPath();
    this.cutInk.geometry.dispose();
    this.cutInk.material.dispose();
    this.outline.geometry.dispose();
    this.outline.material.dispose();
    this.opaque.material.dispose();
    this.figureOn.dispose();
    this.gone = true;
    this.gl.dispose();
    this.gl.forceContextLoss();
  }
}

/** A piece shows a part of the machine file where its path is that part, or lies below it. */
export function belongs(piece: Pick<Piece, "part">, part: string): boolean {
  return piece.part === part || piece.part.startsWith(`${part}.`);
}

/** How many of rising times are not after a time. */
export function upTo(times: ArrayLike<number>, time: number): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (times[middle] <= time) low = middle + 1;
    else high = middle;
  }
  return low;
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
