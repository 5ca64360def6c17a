/** The machine in three dimensions. With its neighbours in this folder the only place that knows the drawing library. */
import {
  Box3, BufferGeometry, HalfFloatType, LineSegments, Mesh, NearestFilter, type Plane, PlaneGeometry, Raycaster, Scene as Stage, Vector2, Vector3,
  WebGLRenderer, WebGLRenderTarget,
} from "three";
import { PAPER, type RGB } from "../color";
import type { Motion, Piece, Scene } from "../contract";
import { type Cut, planeOf, pointsOf } from "./cut";
import { Eye, type Way } from "./eye";
import { Toolpath } from "./path";
import { common, cutMaterial, INK_BEFORE, opaqueMaterial, outlineMaterial } from "./pens";
import { type Face, Pieces } from "./pieces";

/** Swings a second that a motion is shown with, whatever its own frequency. */
const SHOWN_HZ = 0.6;
/** Share of the paper that one part fills when it is looked at. */
const PART_FILLED = 0.6;
/** Share that the smaller of two parts fills where they meet: what is round it must be seen too. */
const SPOT_FILLED = 0.15;
/** A pointer that moved less than this between down and up has tapped, px. */
const TAP = { mouse: 5, other: 12 };
/** Thickness of the outline of the chosen part, px. */
const OUTLINE = 1.7;

const sizeOf = (points: Vector3[]): number => new Box3().setFromPoints(points).getSize(new Vector3()).length();

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
  private readonly shared = common();
  private readonly machine = new Pieces(this.shared);
  private readonly path = new Toolpath();
  private readonly stage = new Stage();
  private readonly figureOn = new WebGLRenderTarget(1, 1, { samples: 4, type: HalfFloatType, minFilter: NearestFilter, magFilter: NearestFilter });
  private readonly outline = new Mesh(new PlaneGeometry(2, 2), outlineMaterial(this.figureOn.texture));
  private readonly opaque = new Mesh(this.outline.geometry, opaqueMaterial());
  private readonly cutInk = new LineSegments(new BufferGeometry(), cutMaterial());
  private readonly watch: ResizeObserver;
  private plane: Plane | null = null;
  private cutOld = false;
  private asked = 0;
  private swinging = 0;
  private moving = false;
  private most = 0;
  private since = 0;
  private fitted = false;
  private gone = false;
  private width = 0;
  private height = 0;
  /** Changes with what is hidden or cut away. */
  sight = 0;
  /** Pictures made so far: a test can see that nothing is drawn in vain. */
  pictures = 0;

  constructor(
    private readonly canvas: HTMLCanvasElement,
    private readonly told: Told,
  ) {
    const context = canvas.getContext("webgl2", { antialias: true, alpha: true, depth: true, stencil: false });
    if (!context) throw new Error("this browser draws nothing in three dimensions");
    this.gl = new WebGLRenderer({ canvas, context });
    this.gl.setClearColor(PAPER);
    this.gl.autoClear = false;
    this.eye = new Eye(canvas, () => this.draw());
    this.cutInk.frustumCulled = this.outline.frustumCulled = this.opaque.frustumCulled = false;
    this.cutInk.renderOrder = 2;
    this.cutInk.visible = false;
    this.stage.add(this.machine.root, this.cutInk, this.path.line);
    canvas.addEventListener("pointerdown", this.pressed);
    canvas.addEventListener("pointerup", this.released);
    canvas.addEventListener("webglcontextlost", this.taken);
    canvas.addEventListener("webglcontextrestored", this.given);
    this.watch = new ResizeObserver(() => this.resized());
    this.watch.observe(canvas);
    this.resized();
  }

  // ---- what is shown

  /** Show a machine. Camera, section, what is hidden and what is chosen stay. */
  setScene(scene: Scene): void {
    this.machine.set(scene);
    if (!this.fitted && this.width > 0) this.look("isometric");
    this.changed();
  }

  /** Colour of every piece; null is the paper of its material. */
  color(of: (piece: Piece) => RGB | null): void {
    this.machine.color(of);
    this.draw();
  }

  /** Move the bodies to a pose, m by axis; axes that are not named stand as drawn. */
  setPose(pose: Record<string, number>): void {
    this.machine.pose(pose);
    this.changed();
  }

  /** Bodies that are not shown, and the part that is shown alone ("" for all). */
  show(hidden: ReadonlySet<string>, alone: string): void {
    this.machine.show(hidden, alone);
    this.sight++;
    this.changed();
  }

  /** A part of the machine file is chosen, or two that a finding speaks of: their pieces are outlined over everything. */
  choose(part: string, other = ""): void {
    this.machine.choose(part, other);
    this.draw();
  }

  /** Cut the machine open; null closes it. */
  section(cut: Cut | null): void {
    this.plane = cut && planeOf(cut);
    this.gl.clippingPlanes = this.plane ? [this.plane] : [];
    this.machine.cutOpen(this.plane !== null);
    this.sight++;
    this.changed();
  }

  /** The side of a plane across an axis that stays so that one looks at the cut. */
  facing(axis: Cut["axis"]): Cut["keeps"] {
    return this.eye.toward()[axis] >= 0 ? 1 : -1;
  }

  private drawCut(): void {
    this.cutOld = false;
    this.cutInk.visible = this.plane !== null && !this.moving;
    if (!this.plane || this.moving) return;
    this.cutInk.geometry.dispose();
    this.cutInk.geometry = new BufferGeometry().setAttribute("position", pointsOf(this.machine.cut(this.plane)));
  }

  // ---- motion

  /** Show a motion, so many times larger than it is: swinging, or still where it is largest. */
  move(motion: Motion | null, times: number, still: boolean): void {
    const starts = motion !== null && !this.moving;
    this.moving = motion !== null;
    this.machine.carry(motion);
    this.most = times;
    if (starts) this.since = performance.now();
    cancelAnimationFrame(this.swinging);
    this.swinging = 0;
    this.machine.times.value = motion ? times : 0;
    if (starts && this.eye.untouched) this.fit(); // the motion may stand elsewhere
    this.changed();
    if (motion && !still) this.swinging = requestAnimationFrame(this.swing);
  }

  private readonly swing = (now: number): void => {
    this.swinging = requestAnimationFrame(this.swing);
    this.machine.times.value = this.most * Math.sin((2 * Math.PI * SHOWN_HZ * (now - this.since)) / 1000);
    this.paint();
  };

  // ---- the path of a program

  /** Four numbers a point: x, y, z in m, time in s, rising. */
  setPath(xyzt: Float32Array): void {
    this.path.set(xyzt);
    this.draw();
  }

  showPathUntil(time: number): void {
    this.path.until(time);
    this.draw();
  }

  // ---- looking

  look(way: Way): void {
    const points = this.machine.points();
    if (points.length === 0) return;
    this.fitted = true;
    this.eye.look(way, points);
  }

  /** Bring all that is shown on the paper, or one part, from where one looks. */
  fit(part = ""): void {
    const points = this.machine.points(part);
    if (points.length > 0) this.eye.fit(points, part ? PART_FILLED : undefined);
  }

  /** Look at where parts meet: near the smallest of them, from a side from which nothing lies before it where there is one. */
  spot(parts: readonly string[]): void {
    const sized = parts.map((part) => ({ part, points: this.machine.points(part) })).filter((one) => one.points.length > 0);
    const least = sized.sort((a, b) => sizeOf(a.points) - sizeOf(b.points))[0];
    if (!least) return;
    const pieces = this.machine.all().filter((piece) => piece.part === least.part);
    this.stage.updateMatrixWorld(true); // the axes may have been driven since the last picture
    const seen = (): boolean => {
      this.eye.camera.updateMatrixWorld();
      return pieces.some((piece) => {
        const at = this.middle(piece.id);
        return at !== null && this.nearest(this.rayAt(at.x, at.y))?.part === least.part;
      });
    };
    const ways: Way[] = ["isometric", "right", "left", "front", "back", "top"];
    const from = ways.find((way) => {
      this.eye.look(way, least.points);
      return seen();
    });
    if (!from) this.eye.look("isometric", least.points);
    this.fitted = true;
    this.eye.fit(least.points, SPOT_FILLED);
  }

  /** The next machine is looked at anew. */
  forgetLook(): void {
    this.fitted = false;
  }

  /** Eight corners of a piece on the canvas, px: its own x by 1, y by 2, z by 4. */
  corners(id: number): { x: number; y: number }[] {
    return this.machine.corners(id).map((corner) => this.eye.project(corner));
  }

  /** Middle of a piece on the canvas, or another place along it, px; null where it is not shown. */
  middle(id: number, along = 0): { x: number; y: number } | null {
    const at = this.machine.middle(id, along);
    return at && this.eye.project(at);
  }

  /** Nothing lies before a part at a place along one of its pieces. */
  inSight(piece: Piece, along: number): boolean {
    const at = this.middle(piece.id, along);
    return at !== null && this.nearest(this.rayAt(at.x, at.y))?.part === piece.part;
  }

  /** Middle of a piece on the page, px: for tests. */
  screenOf(id: number): { x: number; y: number } | null {
    const there = this.middle(id);
    const frame = this.canvas.getBoundingClientRect();
    return there && { x: there.x + frame.left, y: there.y + frame.top };
  }

  pieces(): Piece[] {
    return this.machine.all();
  }

  /** Of all pieces: how long placing at a pose and giving colours take, ms. Nothing is changed by it. */
  measure(): { place: number; color: number } {
    const colors = this.machine.colors();
    const start = performance.now();
    this.setPose(this.machine.posed);
    const placed = performance.now();
    this.color((piece) => colors.get(piece.id) ?? null);
    return { place: placed - start, color: performance.now() - placed };
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
    return this.nearest(this.rayAt(x - frame.left, y - frame.top))?.part ?? "";
  }

  /** From the eye through a place of the canvas, px. */
  private rayAt(x: number, y: number): Raycaster {
    const ray = new Raycaster();
    ray.setFromCamera(new Vector2((x / this.width) * 2 - 1, 1 - (y / this.height) * 2), this.eye.camera);
    return ray;
  }

  /** The piece that is seen first. Whose inside comes first is seen where it is cut. */
  private nearest(ray: Raycaster): Piece | null {
    const kept = ray.intersectObjects<Face>(this.machine.faces(), false).filter((h) => !this.plane || this.plane.distanceToPoint(h.point) >= 0);
    const atCut = this.plane && ray.ray.distanceToPlane(this.plane);
    let best: { piece: Piece; far: number } | null = null;
    const known = new Set<Piece>();
    for (const hit of kept) {
      const piece = this.machine.of(hit.object);
      if (!piece || known.has(piece)) continue;
      known.add(piece);
      const far = this.machine.isInside(hit.object) ? (atCut ?? hit.distance) : hit.distance;
      if (!best || far < best.far) best = { piece, far };
    }
    return best?.piece ?? null;
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
    if (!this.fitted) this.look("isometric");
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
    if (this.machine.figures.children.length > 0) this.drawOutline();
    this.told.drawn();
  }

  private press(): void {
    const scale = (this.eye.camera.zoom * this.height) / 2;
    // where there is a cut no face may give way: its inside would show along its brim. So the ink goes farther before.
    this.shared.uInkBefore.value = this.plane ? Math.max(INK_BEFORE, 1.5 / scale / this.eye.halfDepth) : INK_BEFORE;
    this.machine.press(scale);
  }

  private drawOutline(): void {
    this.machine.settleFigures();
    this.gl.setRenderTarget(this.figureOn);
    this.gl.setClearColor("#000000", 0);
    this.gl.clear();
    this.gl.render(this.machine.figures, this.eye.camera);
    this.gl.setRenderTarget(null);
    this.gl.setClearColor(PAPER, 1);
    this.gl.render(this.outline, this.eye.camera);
  }

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
    this.machine.dispose();
    this.path.dispose();
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

