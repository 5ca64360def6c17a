import { Vector3 } from "three";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { MachineView } from "../src/machine/view";
import { at, smallScene, swaying } from "./machine";

/** Stands for the part that needs graphics hardware; all that is placed, picked and projected is real. */
const { FakeRenderer, made } = vi.hoisted(() => {
  const made: FakeRenderer[] = [];
  class FakeRenderer {
    clippingPlanes: unknown[] = [];
    disposed = false;
    constructor() {
      made.push(this);
    }
    setClearColor() {}
    setPixelRatio() {}
    setSize() {}
    setRenderTarget() {}
    clear() {}
    render() {}
    forceContextLoss() {}
    dispose() {
      this.disposed = true;
    }
  }
  return { FakeRenderer, made };
});
vi.mock("three", async (original) => ({ ...(await original<typeof import("three")>()), WebGLRenderer: FakeRenderer }));

let canvas: HTMLCanvasElement;
let view: MachineView;
let picked: string[];
let lost: boolean[];
let frames: FrameRequestCallback[];

beforeEach(() => {
  picked = [];
  lost = [];
  frames = [];
  vi.stubGlobal("requestAnimationFrame", (f: FrameRequestCallback) => frames.push(f));
  vi.stubGlobal("cancelAnimationFrame", (n: number) => void (frames[n - 1] = () => {}));
  canvas = document.createElement("canvas");
  Object.defineProperties(canvas, { clientWidth: { value: 800 }, clientHeight: { value: 600 } });
  canvas.getBoundingClientRect = () => ({ left: 100, top: 50, width: 800, height: 600, right: 900, bottom: 650, x: 100, y: 50, toJSON: () => ({}) });
  canvas.getContext = (() => ({})) as unknown as typeof canvas.getContext; // the stand-in asks nothing of it
  canvas.setPointerCapture = () => {};
  canvas.releasePointerCapture = () => {};
  document.body.append(canvas);
  view = new MachineView(canvas, { picked: (part) => picked.push(part), drawn: () => {}, lost: (is) => lost.push(is) });
  view.setScene(smallScene());
});
afterEach(() => {
  view.dispose();
  canvas.remove();
  vi.unstubAllGlobals();
});

/** Let the page draw what it was asked for. */
function frame(): number {
  const now = frames;
  frames = [];
  for (const f of now) f(performance.now());
  return now.length;
}

const where = (id: number) => view.screenOf(id)!;

test("all of the machine is on the paper, whatever the view", () => {
  for (const way of ["front", "back", "left", "right", "top", "isometric"] as const) {
    view.look(way);
    expect(view.eye.way).toBe(way);
    const xs: number[] = [];
    for (const piece of view.pieces()) for (const { x, y } of view.corners(piece.id)) {
      expect(x).toBeGreaterThan(0);
      expect(x).toBeLessThan(800);
      expect(y).toBeGreaterThan(0);
      expect(y).toBeLessThan(600);
      xs.push(x, y);
    }
    expect(Math.max(...xs) - Math.min(...xs)).toBeGreaterThan(300); // and large enough to be read
  }
});

test("views lie as the axes of the machine say", () => {
  const lie = () => Object.fromEntries(Object.entries(view.eye.axes()).map(([k, v]) => [k, v.map((n) => Math.round(n) + 0)]));
  view.look("front");
  expect(lie()).toEqual({ x: [1, 0], y: [0, 0], z: [0, -1] });
  view.look("back");
  expect(lie()).toEqual({ x: [-1, 0], y: [0, 0], z: [0, -1] });
  view.look("left");
  expect(lie()).toEqual({ x: [0, 0], y: [-1, 0], z: [0, -1] });
  view.look("right");
  expect(lie()).toEqual({ x: [0, 0], y: [1, 0], z: [0, -1] });
  view.look("top");
  expect(lie()).toEqual({ x: [1, 0], y: [0, -1], z: [0, 0] });
});

test("what is pointed at is the nearest piece that is shown; the work area is not in the way", () => {
  view.look("front");
  expect(view.partAt(where(2).x, where(2).y)).toBe("spindle");
  view.show(new Set(["head"]), "");
  expect(view.partAt(where(1).x, where(1).y)).toBe("gantry.beam");
  expect(view.screenOf(2)).toBeNull();
  view.show(new Set(), "bed.top");
  expect(view.partAt(where(0).x, where(0).y)).toBe("bed.top");
  expect(view.screenOf(1)).toBeNull();
  expect(view.partAt(101, 51)).toBe("");
});

test("what a section takes away cannot be pointed at", () => {
  view.look("front");
  const { x, y } = where(2);
  view.section({ axis: "y", at: 0.4, keeps: -1 });
  expect(view.partAt(x, y)).toBe("spindle.mount");
  view.section(null);
  expect(view.partAt(x, y)).toBe("spindle");
  expect(view.facing("y")).toBe(-1);
  view.look("back");
  expect(view.facing("y")).toBe(1);
});

test("what stands behind something else is not in sight, until that is hidden or cut away", () => {
  view.look("front");
  const mount = view.pieces().find((p) => p.id === 3)!;
  expect(view.inSight(mount, 0)).toBe(false); // behind the spindle, which is narrower than the mount
  expect(view.inSight(mount, 0.49)).toBe(false); // and longer
  const spindle = view.pieces().find((p) => p.id === 2)!;
  expect(view.inSight(spindle, 0)).toBe(true);
  view.section({ axis: "y", at: 0.4, keeps: -1 });
  expect(view.inSight(mount, 0)).toBe(true);
});

const press = (type: string, x: number, y: number, more: PointerEventInit = {}) =>
  canvas.dispatchEvent(new PointerEvent(type, { clientX: x, clientY: y, pointerId: 1, isPrimary: true, button: 0, pointerType: "mouse", ...more }));

test("a tap picks, a drag turns and picks nothing", () => {
  view.look("front");
  const { x, y } = where(2);
  press("pointerdown", x, y);
  press("pointerup", x + 2, y);
  expect(picked).toEqual(["spindle"]);
  press("pointerdown", x, y);
  press("pointerup", x + 40, y);
  press("pointerdown", x, y, { button: 2 });
  press("pointerup", x, y, { button: 2 });
  expect(picked).toEqual(["spindle"]);
  press("pointerdown", 101, 51);
  press("pointerup", 101, 51);
  expect(picked).toEqual(["spindle", ""]);
});

test("bodies go with their axes, by the program's own steps", () => {
  view.look("top");
  const [bed, beam, spindle] = [where(0), where(1), where(2)];
  const metre = view.corners(0);
  const scale = Math.hypot(metre[1].x - metre[0].x, metre[1].y - metre[0].y); // the sheet is 1 m wide
  view.setPose({ x: 0.5, y: 0.1 });
  expect(where(0)).toEqual(bed);
  expect(where(1).x - beam.x).toBeCloseTo(0, 6);
  expect(where(1).y - beam.y).toBeCloseTo(0.2 * scale, 3);
  expect(where(2).x - spindle.x).toBeCloseTo(0.1 * scale, 3);
  expect(where(2).y - spindle.y).toBeCloseTo(0.2 * scale, 3);
  view.setPose({});
  expect(where(2)).toEqual(spindle);
});

test("a motion carries its pieces as many times larger as asked, and lets them go", () => {
  view.look("right");
  const [bed, beam, spindle] = [where(0), where(1), where(2)];
  const scale = (view.eye.camera.zoom * 600) / 2;
  view.move(swaying(), 50_000, true);
  expect(where(0)).toEqual(bed);
  expect(where(1).x - beam.x).toBeCloseTo(0.05 * scale, 3);
  expect(where(2).x - spindle.x).toBeCloseTo(0.1 * scale, 3);
  view.move(null, 0, true);
  expect(where(2)).toEqual(spindle);
});

test("a motion that is held still is drawn once; one that swings is drawn again and again until it ends", () => {
  frame();
  frame();
  expect(frame()).toBe(0);
  view.move(swaying(), 1000, true);
  expect(frame()).toBe(1);
  expect(frame()).toBe(0);
  view.move(swaying(), 1000, false);
  for (let i = 0; i < 5; i++) expect(frame()).toBeGreaterThan(0);
  view.move(null, 0, true);
  frame();
  expect(frame()).toBe(0);
});

test("nothing is drawn in vain: many changes make one picture", () => {
  frame();
  frame();
  const before = view.pictures;
  view.setPose({ x: 0.1 });
  view.setPose({ x: 0.2 });
  view.color(() => [1, 0, 0]);
  view.choose("spindle");
  frame();
  expect(view.pictures).toBe(before + 1);
});

test("an edit keeps the camera, what is hidden, the section and what is chosen", () => {
  view.look("front");
  view.eye.turn(0.3, 0.2);
  view.eye.nearer(2);
  view.show(new Set(["head"]), "");
  view.section({ axis: "x", at: 0.5, keeps: 1 });
  const before = { eye: view.eye.toward().toArray(), zoom: view.eye.camera.zoom };
  const scene = smallScene();
  scene.pieces[1].matrix = at([1, 1, 1], [0.5, 0.5, 0.5]);
  scene.pieces.push({ ...scene.pieces[3], id: 9, part: "head.new", shape: "cylinder" });
  scene.pieces = scene.pieces.filter((p) => p.id !== 2);
  const was = where(1).y;
  view.setScene(scene);
  expect({ eye: view.eye.toward().toArray(), zoom: view.eye.camera.zoom }).toEqual(before);
  expect(view.screenOf(9)).toBeNull(); // its body is hidden
  expect(view.pieces().map((p) => p.id)).toEqual([0, 1, 3, 4, 9]);
  expect(where(1).y).toBeLessThan(was);
  expect(made.at(-1)!.clippingPlanes).toHaveLength(1);
  view.show(new Set(), "");
  expect(view.screenOf(9)).not.toBeNull();
});

test("another machine is looked at anew", () => {
  view.look("front");
  view.forgetLook();
  view.setScene(smallScene());
  expect(view.eye.way).toBe("isometric");
});

test("keys turn, push and bring nearer; a view that is left is no standard view any more", () => {
  view.look("front");
  view.eye.push(30, 0);
  expect(view.eye.way).toBe("front");
  const beam = where(1);
  view.eye.push(40, -20);
  expect(where(1).x - beam.x).toBeCloseTo(40, 4);
  expect(where(1).y - beam.y).toBeCloseTo(-20, 4);
  view.eye.turn(0.1, 0);
  expect(view.eye.way).toBe("");
  expect(view.eye.toward().angleTo(new Vector3(0, -1, 0))).toBeCloseTo(0.1, 6);
  view.eye.turn(0, 9);
  expect(view.eye.toward().z).toBeCloseTo(1, 6);
});

test("a drawing that the browser took away is not drawn until it is back", () => {
  frame();
  const before = view.pictures;
  canvas.dispatchEvent(new Event("webglcontextlost", { cancelable: true }));
  view.setPose({ x: 0.1 });
  frame();
  expect(view.pictures).toBe(before);
  canvas.dispatchEvent(new Event("webglcontextrestored"));
  frame();
  expect(view.pictures).toBe(before + 1);
  expect(lost).toEqual([true, false]);
});

test("placing and colouring are measured without changing anything", () => {
  view.color((p) => (p.id === 1 ? [0.1, 0.2, 0.3] : null));
  view.setPose({ y: 0.5 });
  const beam = where(1);
  const told = view.measure();
  expect(told.place).toBeGreaterThanOrEqual(0);
  expect(told.color).toBeGreaterThanOrEqual(0);
  expect(where(1)).toEqual(beam);
});

test("without graphics hardware it says so at once", () => {
  canvas.getContext = (() => null) as unknown as typeof canvas.getContext;
  expect(() => new MachineView(canvas, { picked: () => {}, drawn: () => {}, lost: () => {} })).toThrow(/three dimensions/);
});

test("what goes away lets go of the graphics hardware", () => {
  view.choose("spindle");
  view.dispose();
  expect(made.at(-1)!.disposed).toBe(true);
  expect(view.pieces()).toEqual([]);
});

test("two parts that a finding speaks of are outlined together, and let go together", () => {
  const outlined = () => (view as unknown as { machine: { figures: { children: unknown[] } } }).machine.figures.children.length;
  const parts = [...new Set(smallScene().pieces.map((p) => p.part))];
  view.choose(parts[0]);
  const one = outlined();
  view.choose(parts[0], parts[1]);
  expect(outlined()).toBeGreaterThan(one);
  // each in a colour of its own: one that stands before the other keeps its outline
  const fills = (view as unknown as { machine: { figures: { children: { material: { uniforms: { uFill: { value: { x: number; y: number } } } } }[] } } }).machine.figures.children;
  expect(new Set(fills.map((f) => `${f.material.uniforms.uFill.value.x} ${f.material.uniforms.uFill.value.y}`))).toEqual(new Set(["1 0", "0 1"]));
  view.setScene(smallScene());
  expect(outlined()).toBeGreaterThan(one);
  view.choose("");
  expect(outlined()).toBe(0);
});

test("where two parts meet is looked at from a side that nothing else stands on, near enough to see the smaller one", () => {
  const scene = smallScene();
  const lid = { ...scene.pieces[0], id: 9, part: "lid", matrix: at([2, 2, 0.02], [0.5, 0.5, 0.6]) };
  view.look("isometric");
  const zoom = view.eye.camera.zoom;
  view.spot(["gantry.beam", "spindle.mount"]);
  expect(view.eye.way).toBe("isometric");
  expect(view.eye.camera.zoom).toBeGreaterThan(zoom);
  const middle = view.middle(3)!;
  expect([middle.x, middle.y].map(Math.round)).toEqual([400, 300]);
  view.setScene({ ...scene, pieces: [...scene.pieces, lid] });
  view.spot(["gantry.beam", "spindle.mount"]);
  expect(view.eye.way).toBe("right");
  expect(Math.round(view.middle(3)!.x)).toBe(400);
  // driven out from under the lid since the last picture
  view.setScene({ ...scene, pieces: [...scene.pieces, { ...lid, matrix: at([0.8, 2, 0.02], [0.5, 0.5, 0.6]) }] });
  frame();
  view.setPose({ x: 0.8 });
  view.spot(["gantry.beam", "spindle.mount"]);
  expect(view.eye.way).toBe("isometric");
  view.setPose({});
  view.spot(["gantry.beam", "spindle.mount"]);
  expect(view.eye.way).toBe("right");
  view.spot(["nothing.there"]);
  expect(view.eye.way).toBe("right");
});
