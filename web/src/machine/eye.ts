/** From where the machine is looked at: parallel sight, turned, pushed and brought nearer by mouse, fingers and keys. */
import { Box3, MOUSE, OrthographicCamera, TOUCH, Vector3 } from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";

export type Way = "front" | "back" | "left" | "right" | "top" | "isometric";

/** Toward the eye, in the axes of the machine (ISO 841: Z along the spindle, X the longer way across, right-handed). */
export const WAYS: Record<Way, { toward: [number, number, number]; label: string; words: string }> = {
  front: { toward: [0, -1, 0], label: "Front", words: "X to the right, Z up" },
  back: { toward: [0, 1, 0], label: "Back", words: "X to the left, Z up" },
  left: { toward: [-1, 0, 0], label: "Left", words: "Y to the left, Z up" },
  right: { toward: [1, 0, 0], label: "Right", words: "Y to the right, Z up" },
  top: { toward: [0, 0, 1], label: "Top", words: "X to the right, Y up" },
  isometric: { toward: [1, -1, 1], label: "Iso", words: "from the front right, above" },
};

/** Distance of the eye, m: with parallel sight it only has to be outside of any machine. */
const AWAY = 60;
const MOST_ZOOM = 400;
/** A little short of straight up or down, so that what is up on the paper stays known. */
const STEEP = Math.PI / 2 - 1e-4;

/** Share of the paper that is filled when all is shown: sizes and the axes need room. */
const FILLED = 0.88;

const at = new Vector3();

export class Eye {
  readonly camera = new OrthographicCamera(-1, 1, 1, -1, 0, 2 * AWAY);
  /** m */
  readonly halfDepth = AWAY;
  /** The standard view that is shown; "" once turned away from it. */
  way: Way | "" = "isometric";
  private readonly orbit: OrbitControls;
  private width = 1;
  private height = 1;
  /** What the eye was placed for; null once somebody moved it. Until then it is placed again when the paper changes its size. */
  private placed: readonly Vector3[] | null = null;

  constructor(
    canvas: HTMLCanvasElement,
    private readonly moved: () => void,
  ) {
    this.camera.up.set(0, 0, 1);
    this.camera.position.set(AWAY, -AWAY, AWAY);
    this.orbit = new OrbitControls(this.camera, canvas);
    this.orbit.enableDamping = false;
    this.orbit.zoomToCursor = true;
    this.orbit.maxZoom = MOST_ZOOM;
    this.orbit.minZoom = 0.02;
    this.orbit.mouseButtons = { LEFT: MOUSE.ROTATE, MIDDLE: MOUSE.PAN, RIGHT: MOUSE.PAN };
    this.orbit.touches = { ONE: TOUCH.ROTATE, TWO: TOUCH.DOLLY_PAN };
    this.orbit.addEventListener("change", this.changed);
  }

  private readonly changed = (): void => {
    if (!this.placing) {
      this.placed = null;
      if (this.way && this.toward().angleTo(new Vector3(...WAYS[this.way].toward)) > 0.01) this.way = "";
    }
    this.moved();
  };
  private placing = false;

  resized(width: number, height: number): void {
    this.width = width;
    this.height = height;
    this.camera.left = -width / height;
    this.camera.right = width / height;
    if (this.placed) this.fit(this.placed);
    this.camera.updateProjectionMatrix();
  }

  /** Nobody has moved the eye since it was placed. */
  get untouched(): boolean {
    return this.placed !== null;
  }

  /** Look from a standard direction at all of some points. */
  look(way: Way, points: readonly Vector3[]): void {
    this.placing = true;
    const middle = new Box3().setFromPoints([...points]).getCenter(new Vector3());
    const toward = new Vector3(...WAYS[way].toward).normalize();
    if (way === "top") toward.set(0, -Math.cos(STEEP), Math.sin(STEEP));
    this.orbit.target.copy(middle);
    this.camera.position.copy(middle).addScaledVector(toward, AWAY);
    this.orbit.update();
    this.placing = false;
    this.way = way;
    this.fit(points);
  }

  /** Bring all of some points on the paper, so much of it filled; the direction stays. */
  fit(points: readonly Vector3[], filled = FILLED): void {
    this.placing = true;
    this.camera.lookAt(this.orbit.target);
    this.camera.updateMatrixWorld();
    const seen = new Box3();
    for (const point of points) seen.expandByPoint(at.copy(point).applyMatrix4(this.camera.matrixWorldInverse));
    const size = seen.getSize(new Vector3());
    // the middle of what is seen becomes the middle of the paper, and what is turned about
    const shift = seen.getCenter(new Vector3()).applyMatrix4(this.camera.matrixWorld).sub(this.orbit.target);
    this.orbit.target.add(shift);
    this.camera.position.copy(this.orbit.target).addScaledVector(this.camera.getWorldDirection(at), -AWAY);
    const wide = (2 * this.width) / this.height;
    const whole = filled * Math.min(wide / Math.max(size.x, 1e-3), 2 / Math.max(size.y, 1e-3));
    this.camera.zoom = Math.min(MOST_ZOOM, whole);
    this.camera.updateProjectionMatrix();
    this.orbit.update();
    this.placing = false;
    this.placed = points;
    this.moved();
  }

  /** Turn about the middle, radians. */
  turn(across: number, up: number): void {
    const from = this.camera.position.clone().sub(this.orbit.target);
    const round = Math.atan2(from.y, from.x) + across;
    const high = Math.max(-STEEP, Math.min(STEEP, Math.atan2(from.z, Math.hypot(from.x, from.y)) + up));
    from.set(Math.cos(high) * Math.cos(round), Math.cos(high) * Math.sin(round), Math.sin(high)).multiplyScalar(AWAY);
    this.camera.position.copy(this.orbit.target).add(from);
    this.orbit.update();
  }

  /** Push the paper, px. */
  push(right: number, down: number): void {
    const step = new Vector3(-right, down, 0).multiplyScalar(2 / this.height / this.camera.zoom).transformDirection(this.camera.matrixWorld);
    step.setLength((Math.hypot(right, down) * 2) / this.height / this.camera.zoom);
    this.orbit.target.add(step);
    this.camera.position.add(step);
    this.orbit.update();
  }

  nearer(times: number): void {
    this.camera.zoom = Math.max(0.02, Math.min(MOST_ZOOM, this.camera.zoom * times));
    this.camera.updateProjectionMatrix();
    this.placed = null;
    this.moved();
  }

  /** Unit vector from the machine to the eye. */
  toward(): Vector3 {
    return this.camera.position.clone().sub(this.orbit.target).normalize();
  }

  /** Place of a point of the machine on the canvas, px from its upper left corner; also how far it is. */
  project(point: Vector3): { x: number; y: number; far: number } {
    const at = point.clone().project(this.camera);
    return { x: ((at.x + 1) / 2) * this.width, y: ((1 - at.y) / 2) * this.height, far: at.z };
  }

  /** Directions of the axes of the machine on the paper: right and down, of length 1 where they lie in it. */
  axes(): Record<"x" | "y" | "z", [number, number]> {
    const e = this.camera.matrixWorldInverse.elements;
    return { x: [e[0], -e[1]], y: [e[4], -e[5]], z: [e[8], -e[9]] };
  }

  dispose(): void {
    this.orbit.removeEventListener("change", this.changed);
    this.orbit.dispose();
  }
}
