/** The machine in three dimensions. With its neighbours in this folder the only place that knows the drawing library. */
import {
  Box3, BufferAttribute, BufferGeometry, Color, DirectionalLight, DynamicDrawUsage, Group, HemisphereLight, Line, LineBasicMaterial,
  type LineBasicMaterial as Ink, LineSegments, Matrix4, Mesh, type MeshLambertMaterial, OrthographicCamera, Plane, Raycaster, Scene as Stage,
  Vector2, Vector3, WebGLRenderer,
} from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import { LineMaterial } from "three/addons/lines/LineMaterial.js";
import { LineSegments2 } from "three/addons/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/addons/lines/LineSegmentsGeometry.js";
import { CHOSEN, PAPER, type RGB } from "../color";
import type { Motion, Piece, Scene } from "../contract";
import { edgeMaterial, faceMaterial, setStations, type Stations, stations } from "./bend";
import { type Drawn, drawn } from "./geometry";

export type Way = "front" | "back" | "left" | "right" | "top" | "isometric";

/** From where each view looks, machine frame: x to the right, y to the back, z up. */
export const WAYS: Record<Way, [number, number, number]> = {
  front: [0, -1, 0],
  back: [0, 1, 0],
  left: [-1, 0, 0],
  right: [1, 0, 0],
  top: [0, 0, 1],
  isometric: [-0.62, -0.78, 0.55],
};

/** Swings a second that a motion is shown with, whatever its own frequency. */
const SHOWN_HZ = 0.7;

interface Placed {
  piece: Piece;
  face: Mesh<BufferGeometry, MeshLambertMaterial>;
  ink: LineSegments<BufferGeometry, Ink>;
  moves: Stations;
}

export class MachineView {
  private readonly gl: WebGLRenderer;
  private readonly stage = new Stage();
  private readonly camera = new OrthographicCamera(-1, 1, 1, -1, -50, 50);
  private readonly orbit: OrbitControls;
  private readonly bodies = new Map<string, Group>();
  private readonly shapes = new Map<string, Drawn>();
  private readonly swing = { value: 0 };
  private readonly plane = new Plane(new Vector3(1, 0, 0), 0);
  private readonly watch: ResizeObserver;
  private placed = new Map<number, Placed>();
  private outline: LineSegments2 | null = null;
  private path: Line | null = null;
  private pathTimes = new Float32Array();
  private asked = 0;
  private animation = 0;
  private scene: Scene | null = null;
  private fitted = false;
  private isolated = "";
  private hidden: ReadonlySet<string> = new Set();
  /** Called after every picture: labels that lie over the canvas follow. */
  onDrawn: () => void = () => {};

  constructor(
    private readonly canvas: HTMLCanvasElement,
    private readonly picked: (part: string) => void,
  ) {
    this.gl = new WebGLRenderer({ canvas, antialias: true, alpha: false });
    this.gl.setClearColor(PAPER);
    this.gl.localClippingEnabled = false;
    this.camera.up.set(0, 0, 1);
    const sun = new DirectionalLight("#ffffff", 1.25);
    sun.position.set(-2, -3, 5);
    this.stage.add(new HemisphereLight("#ffffff", "#b9b6ab", 2.1), sun);
    this.orbit = new OrbitControls(this.camera, canvas);
    this.orbit.enableDamping = false;
    this.orbit.zoomToCursor = true;
    this.orbit.addEventListener("change", this.draw);
    canvas.addEventListener("pointerdown", this.pressed);
    canvas.addEventListener("pointerup", this.released);
    canvas.addEventListener("webglcontextrestored", this.draw);
    canvas.addEventListener("webglcontextlost", (e) => e.preventDefault());
    this.watch = new ResizeObserver(() => this.resized());
    this.watch.observe(canvas.parentElement ?? canvas);
    this.resized();
  }

  // ---- what is shown

  setScene(scene: Scene): void {
    this.scene = scene;
    for (const group of this.bodies.values()) this.stage.remove(group);
    for (const one of this.placed.values()) {
      one.face.material.dispose();
      one.ink.material.dispose();
    }
    this.bodies.clear();
    this.placed.clear();
    const kept = new Set(scene.shapes.map((s) => s.id));
    for (const [id, shape] of this.shapes) {
      if (!kept.has(id)) {
        shape.faces.dispose();
        shape.edges.dispose();
        this.shapes.delete(id);
      }
    }
    for (const shape of scene.shapes) if (!this.shapes.has(shape.id)) this.shapes.set(shape.id, drawn(shape));
    for (const piece of scene.pieces) this.place(piece);
    this.showBodies(this.hidden);
    if (!this.fitted) this.look("isometric");
    this.draw();
  }

  private place(piece: Piece): void {
    const shape = this.shapes.get(piece.shape);
    if (!shape) return;
    const moves = stations(this.swing);
    const face = new Mesh(shape.faces, faceMaterial(moves));
    const ink = new LineSegments(shape.edges, edgeMaterial(moves));
    const matrix = new Matrix4().fromArray(piece.matrix);
    for (const one of [face, ink]) {
      one.matrixAutoUpdate = false;
      one.matrix.copy(matrix);
      one.userData.piece = piece.id;
    }
    if (piece.kind === "work") {
      face.material.transparent = true;
      face.material.opacity = 0.07;
      face.material.depthWrite = false;
      ink.material.opacity = 0.35;
    }
    let group = this.bodies.get(piece.body);
    if (!group) {
      group = new Group();
      this.bodies.set(piece.body, group);
      this.stage.add(group);
    }
    group.add(face, ink);
    this.placed.set(piece.id, { piece, face, ink, moves });
  }

  /** Colour of every piece; null is the paper of its material. */
  color(of: (piece: Piece) => RGB | null): void {
    for (const { piece, face } of this.placed.values()) {
      const rgb = of(piece);
      if (rgb) face.material.color.setRGB(...rgb, "srgb");
      else face.material.color.set(paper(piece));
    }
    this.draw();
  }

  /** Move the bodies to a pose, m by axis; axes that are not named stand as drawn. */
  setPose(pose: Record<string, number>): void {
    for (const group of this.bodies.values()) group.position.set(0, 0, 0);
    for (const axis of this.scene?.axes ?? []) {
      const far = (pose[axis.name] ?? axis.drawn) - axis.drawn;
      for (const [body, step] of Object.entries(axis.moves)) this.bodies.get(body)?.position.addScaledVector(new Vector3(...step), far);
    }
    this.outlineChosen();
    this.draw();
  }

  showBodies(hidden: ReadonlySet<string>): void {
    this.hidden = hidden;
    for (const [name, group] of this.bodies) group.visible = !hidden.has(name);
    for (const { piece, face, ink } of this.placed.values()) {
      face.visible = ink.visible = !this.isolated || belongs(piece, this.isolated);
    }
    this.draw();
  }

  /** Show one part alone; "" shows all. */
  isolate(part: string): void {
    this.isolated = part;
    this.showBodies(this.hidden);
  }

  /** A part of the machine file is chosen: its pieces are outlined over everything. */
  choose(part: string): void {
    this.chosen = part;
    this.outlineChosen();
    this.draw();
  }
  private chosen = "";

  private outlineChosen(): void {
    if (this.outline) {
      this.stage.remove(this.outline);
      this.outline.geometry.dispose();
      this.outline.material.dispose();
      this.outline = null;
    }
    const lines: number[] = [];
    const at = new Vector3();
    for (const { piece, ink } of this.placed.values()) {
      if (!this.chosen || !belongs(piece, this.chosen)) continue;
      ink.updateWorldMatrix(true, false);
      const place = ink.geometry.attributes.position;
      for (let i = 0; i < place.count; i++) {
        at.fromBufferAttribute(place, i).applyMatrix4(ink.matrixWorld);
        lines.push(at.x, at.y, at.z);
      }
    }
    if (!lines.length) return;
    const material = new LineMaterial({ color: CHOSEN, linewidth: 2.5, depthTest: false, transparent: true });
    material.resolution.set(this.canvas.clientWidth, this.canvas.clientHeight);
    this.outline = new LineSegments2(new LineSegmentsGeometry().setPositions(lines), material);
    this.outline.renderOrder = 10;
    this.outline.raycast = () => {};
    this.stage.add(this.outline);
  }

  /** Cut the machine open along an axis at a place, m; null closes it. */
  section(cut: { axis: "x" | "y" | "z"; at: number } | null): void {
    if (cut) {
      const way = { x: [-1, 0, 0], y: [0, 1, 0], z: [0, 0, -1] }[cut.axis] as [number, number, number];
      this.plane.normal.set(...way);
      this.plane.constant = cut.axis === "y" ? -cut.at : cut.at;
    }
    this.gl.clippingPlanes = cut ? [this.plane] : [];
    this.draw();
  }

  // ---- motion

  /** Show a motion, so many times larger than it is; swings unless still is asked for. */
  move(motion: Motion | null, times: number, still: boolean): void {
    cancelAnimationFrame(this.animation);
    this.animation = 0;
    const ids = this.scene?.pieces ?? [];
    ids.forEach((piece, i) => {
      const placed = this.placed.get(piece.id);
      if (placed) setStations(placed.moves, motion?.pieces[i] ?? []);
    });
    this.swing.value = motion ? times : 0;
    if (!motion || still) return this.draw();
    const start = performance.now();
    const step = (now: number): void => {
      this.swing.value = times * Math.sin((2 * Math.PI * SHOWN_HZ * (now - start)) / 1000);
      this.paint();
      this.animation = requestAnimationFrame(step);
    };
    this.animation = requestAnimationFrame(step);
  }

  // ---- the path of a program

  /** Four numbers a point: x, y, z in m, time in s. */
  setPath(xyzt: Float32Array): void {
    if (this.path) {
      this.stage.remove(this.path);
      this.path.geometry.dispose();
    }
    const count = xyzt.length / 4;
    const place = new Float32Array(3 * count);
    this.pathTimes = new Float32Array(count);
    for (let i = 0; i < count; i++) {
      place.set(xyzt.subarray(4 * i, 4 * i + 3), 3 * i);
      this.pathTimes[i] = xyzt[4 * i + 3];
    }
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", new BufferAttribute(place, 3).setUsage(DynamicDrawUsage));
    this.path = new Line(geometry, new LineBasicMaterial({ color: "#285b8e" }));
    this.path.frustumCulled = false;
    this.path.raycast = () => {}; // its threshold would take every click
    this.stage.add(this.path);
    this.showPathUntil(Number.POSITIVE_INFINITY);
  }

  showPathUntil(time: number): void {
    this.path?.geometry.setDrawRange(0, upTo(this.pathTimes, time));
    this.draw();
  }

  // ---- looking

  look(way: Way): void {
    if (!this.scene) return;
    const box = new Box3(new Vector3(...corner(this.scene.box, 0)), new Vector3(...corner(this.scene.box, 1)));
    const middle = box.getCenter(new Vector3());
    this.orbit.target.copy(middle);
    const from = new Vector3(...WAYS[way]).normalize();
    if (way === "top") from.add(new Vector3(0, -1e-4, 0));
    this.camera.position.copy(middle).addScaledVector(from, 10);
    this.camera.zoom = 1;
    this.orbit.update();
    this.camera.updateMatrixWorld();
    this.fit(box);
    this.fitted = true;
    this.draw();
  }

  private fit(box: Box3): void {
    const seen = new Box3();
    const at = new Vector3();
    for (let i = 0; i < 8; i++) {
      at.set(i & 1 ? box.max.x : box.min.x, i & 2 ? box.max.y : box.min.y, i & 4 ? box.max.z : box.min.z);
      seen.expandByPoint(at.applyMatrix4(this.camera.matrixWorldInverse));
    }
    const size = seen.getSize(new Vector3());
    const width = this.camera.right - this.camera.left;
    const height = this.camera.top - this.camera.bottom;
    this.camera.zoom = 0.9 * Math.min(width / Math.max(size.x, 1e-3), height / Math.max(size.y, 1e-3));
    this.camera.updateProjectionMatrix();
  }

  /** Turn the machine under the eye, by keys. */
  turn(across: number, up: number): void {
    const from = this.camera.position.clone().sub(this.orbit.target);
    const flat = Math.hypot(from.x, from.y);
    const round = Math.atan2(from.y, from.x) + across;
    const high = Math.max(-1.55, Math.min(1.55, Math.atan2(from.z, flat) + up));
    const far = from.length();
    from.set(far * Math.cos(high) * Math.cos(round), far * Math.cos(high) * Math.sin(round), far * Math.sin(high));
    this.camera.position.copy(this.orbit.target).add(from);
    this.orbit.update();
    this.draw();
  }

  zoom(times: number): void {
    this.camera.zoom *= times;
    this.camera.updateProjectionMatrix();
    this.draw();
  }

  /** Place of a point of the machine on the canvas, px. */
  onScreen(point: [number, number, number] | Vector3): { x: number; y: number } {
    const at = (Array.isArray(point) ? new Vector3(...point) : point.clone()).project(this.camera);
    return { x: ((at.x + 1) / 2) * this.canvas.clientWidth, y: ((1 - at.y) / 2) * this.canvas.clientHeight };
  }

  /** Middle of a piece on the page, px: for tests. */
  screenOf(id: number): { x: number; y: number } | null {
    const one = this.placed.get(id);
    if (!one) return null;
    one.face.updateWorldMatrix(true, false);
    const there = this.onScreen(new Vector3().setFromMatrixPosition(one.face.matrixWorld));
    const frame = this.canvas.getBoundingClientRect();
    return { x: there.x + frame.left, y: there.y + frame.top };
  }

  /** Corner of a piece's box in the machine, at the pose that is shown; sides are -1 or 1. */
  cornerOf(id: number, sides: [number, number, number]): Vector3 | null {
    const one = this.placed.get(id);
    if (!one) return null;
    one.face.updateWorldMatrix(true, false);
    one.face.geometry.computeBoundingBox();
    const box = one.face.geometry.boundingBox!;
    const pick = (k: "x" | "y" | "z", side: number): number => (side < 0 ? box.min[k] : box.max[k]);
    return new Vector3(pick("x", sides[0]), pick("y", sides[1]), pick("z", sides[2])).applyMatrix4(one.face.matrixWorld);
  }

  /** Directions of the machine's axes as they lie on the paper: for the triad. */
  axesOnPaper(): { x: [number, number]; y: [number, number]; z: [number, number] } {
    const turn = (x: number, y: number, z: number): [number, number] => {
      const at = new Vector3(x, y, z).transformDirection(this.camera.matrixWorldInverse);
      return [at.x, -at.y];
    };
    return { x: turn(1, 0, 0), y: turn(0, 1, 0), z: turn(0, 0, 1) };
  }

  pieces(): Piece[] {
    return [...this.placed.values()].map((one) => one.piece);
  }

  // ---- picking

  private down = { x: 0, y: 0 };
  private readonly pressed = (e: PointerEvent): void => {
    this.down = { x: e.clientX, y: e.clientY };
  };
  private readonly released = (e: PointerEvent): void => {
    if (Math.hypot(e.clientX - this.down.x, e.clientY - this.down.y) > 5) return;
    this.picked(this.partAt(e.clientX, e.clientY));
  };

  partAt(x: number, y: number): string {
    const frame = this.canvas.getBoundingClientRect();
    const at = new Vector2(((x - frame.left) / frame.width) * 2 - 1, 1 - ((y - frame.top) / frame.height) * 2);
    const ray = new Raycaster();
    ray.setFromCamera(at, this.camera);
    const faces = [...this.placed.values()].filter((o) => o.face.visible && o.face.parent?.visible && o.piece.kind !== "work").map((o) => o.face);
    const cut = this.gl.clippingPlanes[0];
    const hit = ray.intersectObjects(faces, false).find((h) => !cut || cut.distanceToPoint(h.point) >= 0);
    return hit ? (this.placed.get(hit.object.userData.piece)?.piece.part ?? "") : "";
  }

  // ---- drawing

  private resized(): void {
    const frame = this.canvas.parentElement ?? this.canvas;
    const width = Math.max(frame.clientWidth, 10);
    const height = Math.max(frame.clientHeight, 10);
    this.gl.setPixelRatio(Math.min(devicePixelRatio, 2));
    this.gl.setSize(width, height, false);
    this.camera.left = -width / height;
    this.camera.right = width / height;
    this.camera.updateProjectionMatrix();
    this.outline?.material.resolution.set(width, height);
    this.draw();
  }

  /** Draw soon, at most once a frame. */
  readonly draw = (): void => {
    if (this.animation) return;
    this.asked ||= requestAnimationFrame(() => {
      this.asked = 0;
      this.paint();
    });
  };

  private paint(): void {
    this.gl.render(this.stage, this.camera);
    this.onDrawn();
  }

  dispose(): void {
    cancelAnimationFrame(this.animation);
    cancelAnimationFrame(this.asked);
    this.watch.disconnect();
    this.orbit.dispose();
    for (const shape of this.shapes.values()) {
      shape.faces.dispose();
      shape.edges.dispose();
    }
    this.gl.dispose();
    this.gl.forceContextLoss();
  }
}

/** A piece shows a part of the machine file where its path is that part, or lies below it. */
export function belongs(piece: Piece, part: string): boolean {
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

const corner = (box: Scene["box"], k: 0 | 1): [number, number, number] => box[k];

/** Paper tones by material: light enough for ink, far enough apart to tell wood from metal. */
function paper(piece: Piece): Color {
  const said = `${piece.material} ${piece.kind}`.toLowerCase();
  if (/plywood|fibre|wood|mdf|layer|maple|spruce/.test(said)) return new Color("#efe3cb");
  if (/steel|iron/.test(said)) return new Color("#dfe2e2");
  if (/alumin/.test(said)) return new Color("#eeefec");
  if (/motor|spindle|cabinet/.test(said)) return new Color("#cfd4d6");
  if (piece.kind === "work") return new Color("#285b8e");
  return new Color("#e2e3df");
}
