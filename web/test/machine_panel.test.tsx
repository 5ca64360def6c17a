import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import type { MotionRow } from "../src/contract";
import { alone, cut, drawer, hidden, larger, still } from "../src/machine/look";
import { MachinePanel } from "../src/machine/panel";
import { chosen, motion, pose, scene, state, tint } from "../src/state";
import { boardState } from "./board";
import { smallScene, swaying, tinted } from "./machine";

let host: HTMLElement;
let asked: string[];
let answers: Record<string, unknown>;

beforeEach(() => {
  asked = [];
  answers = {};
  vi.stubGlobal("fetch", async (url: string) => {
    asked.push(decodeURIComponent(url));
    const told = answers[decodeURIComponent(url)];
    return new Response(JSON.stringify(told ?? { detail: `nothing at ${url}` }), { status: told ? 200 : 404 });
  });
  vi.stubGlobal("matchMedia", () => ({ matches: false }));
  state.value = boardState();
  scene.value = smallScene();
  host = document.createElement("div");
  document.body.append(host);
});
afterEach(() => {
  render(null, host);
  host.remove();
  scene.value = null;
  chosen.value = motion.value = alone.value = "";
  pose.value = {};
  tint.value = "none";
  drawer.value = "view";
  hidden.value = new Set();
  cut.value = null;
  larger.value = 0;
  still.value = false;
});

const show = () => act(() => render(<MachinePanel />, host));
const settle = (ms = 5) => act(() => new Promise<void>((r) => setTimeout(r, ms)));
const $ = <E extends HTMLElement>(selector: string): E => host.querySelector<E>(selector)!;
const button = (name: string): HTMLButtonElement =>
  [...host.querySelectorAll("button")].find((b) => (b.getAttribute("aria-label") ?? b.textContent ?? "").startsWith(name))!;
const open = async (id: typeof drawer.value) => act(() => void (drawer.value = id));
const slide = (selector: string, value: number) =>
  act(() => {
    const input = $<HTMLInputElement>(selector);
    input.value = String(value);
    input.dispatchEvent(new InputEvent("input", { bubbles: true }));
  });

test("where nothing can be drawn it says so, and parts can be chosen all the same", async () => {
  await show();
  expect(host.textContent).toContain("cannot draw in three dimensions");
  await open("parts");
  const list = $<HTMLSelectElement>("#mv-part");
  expect([...list.options].map((o) => o.value)).toEqual(["bed.top", "purpose.work_area", "gantry.beam", "spindle", "spindle.mount"]);
  await act(() => {
    list.value = "gantry.beam";
    list.dispatchEvent(new Event("change", { bubbles: true }));
  });
  expect(chosen.value).toBe("gantry.beam");
});

test("the drawing tells in words what it shows", async () => {
  await show();
  const words = () => $("canvas[role=img]").getAttribute("aria-label")!;
  expect(words()).toContain("Small: 4 parts in 3 bodies (bed, gantry, head)");
  expect(words()).toContain("X 400 mm, Y 300 mm");
  await act(() => {
    chosen.value = "gantry.beam";
    pose.value = { x: 0.1 };
  });
  expect(words()).toContain("Chosen: gantry.beam, Length 1000 mm");
  expect(words()).toContain("X 100 mm, Y 300 mm");
});

test("one drawer is open at a time and the row says which", async () => {
  await show();
  const expanded = () => [...host.querySelectorAll(".mv-tabs button")].filter((b) => b.getAttribute("aria-expanded") === "true").map((b) => b.textContent);
  expect(expanded()).toEqual(["View"]);
  await act(() => button("Axes").click());
  expect(expanded()).toEqual(["Axes"]);
  await act(() => button("Axes").click());
  expect(expanded()).toEqual([]);
  expect($("#mv-drawer").hidden).toBe(true);
});

test("axes move by slider and button within their travel, and end a motion", async () => {
  await show();
  await open("axes");
  motion.value = "weight";
  await slide("#mv-axis-x", 0.25);
  expect(pose.value).toEqual({ x: 0.25 });
  expect(motion.value).toBe("");
  expect(host.textContent).toContain("250 mm");
  await act(() => button("X on by 10 mm").click());
  expect(pose.value.x).toBeCloseTo(0.26, 9);
  await slide("#mv-axis-x", 0.8);
  expect(button("X on by 10 mm").disabled).toBe(true);
  await act(() => button("Back as drawn").click());
  expect(pose.value).toEqual({});
});

test("an axis moves in inches where the file shows inches", async () => {
  scene.value = { ...smallScene(), show: "inch" };
  await show();
  await open("axes");
  await act(() => button("X on by 0.5 in").click());
  expect(pose.value.x).toBeCloseTo(0.4127, 9);
  expect($<HTMLInputElement>("#mv-axis-x").step).toBe(String(0.0254 / 16));
});

test("once the axes rest it asks what the machine gives there, once", async () => {
  answers["/api/pose?x=0.3&y=0.3"] = { give: { x: "1.2 um/N" }, stiffness: "0.6 N/um", soft: ["gantry.beam: 33 % of the give", "axis.x.blocks: 9 % of the give"], off_table: true };
  await show();
  await open("axes");
  asked = [];
  for (const x of [0.1, 0.2, 0.3]) await slide("#mv-axis-x", x);
  await settle(250);
  expect(asked.filter((url) => url.startsWith("/api/pose"))).toEqual(["/api/pose?x=0.3&y=0.3"]);
  const said = $(".mv-here").textContent!;
  expect(said).toContain("0.6 N/um");
  expect(said).toContain("X 1.2 um/N");
  expect(said).toContain("gantry.beam: 33 %");
  expect(said).toContain("not over the table");
  expect(said).toContain("axis.x.blocks: 9 %");
  expect([...host.querySelectorAll(".mv-soft button")]).toHaveLength(1); // blocks as a whole are no part that is drawn
  await act(() => button("gantry.beam").click());
  expect(chosen.value).toBe("gantry.beam");
});

test("what cannot be asked is said", async () => {
  await show();
  await open("axes");
  await settle(250);
  expect($(".mv-here").textContent).toContain("! nothing at /api/pose");
});

test("bodies are hidden one by one, or all but one, and it says what is not shown", async () => {
  await show();
  await open("parts");
  const box = [...host.querySelectorAll<HTMLInputElement>(".mv-bodies input")];
  expect(box.map((b) => b.checked)).toEqual([true, true, true]);
  await act(() => box[1].click());
  expect([...hidden.value]).toEqual(["gantry"]);
  expect($(".mv-foot").textContent).toContain("Not shown: gantry");
  await act(() => button("only Head").click());
  expect([...hidden.value]).toEqual(["bed", "gantry"]);
  await act(() => button("Show all").click());
  expect(hidden.value.size).toBe(0);
  await act(() => void (chosen.value = "spindle"));
  await settle();
  await act(() => button("Show it alone").click());
  expect(alone.value).toBe("spindle");
  expect($(".mv-foot").textContent).toContain("Shown alone: spindle");
});

test("a section is opened, moved, turned over and closed", async () => {
  await show();
  await open("cut");
  await act(() => button("Across Y").click());
  expect(cut.value).toEqual({ axis: "y", at: 0.5, keeps: 1 });
  await slide("#mv-cut-at", 0.2);
  await act(() => button("Other side").click());
  expect(cut.value).toEqual({ axis: "y", at: 0.2, keeps: -1 });
  expect($(".mv-foot").textContent).toContain("Cut at Y 200 mm");
  await act(() => button("Close").click());
  expect(cut.value).toBeNull();
});

test("colours have a key with numbers or words, and the chosen part its value", async () => {
  answers["/api/tints?by=give"] = tinted("give", [2, 40, 8, null, null], { low: 0, high: 40, unit: "%", kind: "amount" }, ["2 %", "40 % of the give"]);
  answers["/api/tints?by=owned"] = tinted("owned", ["owned", "buy", "buy", "make", null], { low: 0, high: 0, unit: "", kind: "state" });
  await show();
  await open("colour");
  await act(() => button("Give").click());
  await settle();
  await act(() => void (chosen.value = "gantry.beam"));
  await settle();
  expect($(".mv-key").textContent).toMatch(/^0.*40 %.*not told/);
  expect($(".mv-foot").textContent).toContain("gantry.beam: 40 % of the give");
  await act(() => button("Owned").click());
  await settle();
  expect($(".mv-key").textContent).toContain("2 parts to buy");
  expect([...host.querySelectorAll(".mv-swatch")].map((s) => s.textContent)).toEqual(["", "○", "△"]);
});

const rows = (hertz: number): MotionRow[] => [
  { name: swaying().name, title: swaying().name, kind: "load", words: "" },
  { name: `mode 1, ${hertz} Hz: swaying`, title: "swaying", kind: "mode", frequency: `${hertz} Hz`, words: "" },
];

test("a motion is shown at its own place with its scale, which the slider changes", async () => {
  answers["/api/motions"] = rows(17);
  answers[`/api/motion?name=${swaying().name}`] = swaying();
  await show();
  await open("motion");
  await settle();
  await act(() => {
    const list = $<HTMLSelectElement>("#mv-motion");
    list.value = swaying().name;
    list.dispatchEvent(new Event("change", { bubbles: true }));
  });
  await settle();
  expect($(".mv-foot").textContent).toContain("drawn 50\u202f000 times larger, at X 0 mm, Y 300 mm");
  await slide("#mv-larger", 0);
  expect($(".mv-foot").textContent).toContain("drawn 2000 times larger");
  await act(() => button("End").click());
  expect(motion.value).toBe("");
});

test("a mode that an edit has tuned is followed; a load that is gone is let go", async () => {
  answers["/api/motions"] = rows(17);
  motion.value = "mode 1, 17 Hz: swaying";
  await show();
  await settle();
  answers["/api/motions"] = rows(18);
  await act(() => void (state.value = boardState({ answers_rev: boardState().answers_rev + 1 })));
  await settle();
  await settle();
  expect(motion.value).toBe("mode 1, 18 Hz: swaying");
  // by the old name nothing was asked once the answers had changed: it might be gone
  expect(asked.filter((url) => url === "/api/motion?name=mode 1, 17 Hz: swaying")).toHaveLength(1);
  answers["/api/motions"] = [];
  await act(() => void (state.value = boardState({ answers_rev: boardState().answers_rev + 2 })));
  await settle();
  await settle();
  expect(motion.value).toBe("");
});

test("another machine takes back what was hidden and cut of the last one", async () => {
  await show();
  await act(() => void (hidden.value = new Set(["bed"])));
  await act(() => void (cut.value = { axis: "x", at: 0.5, keeps: 1 }));
  await settle();
  await act(() => void (state.value = boardState({ answers_rev: 99 })));
  await settle();
  expect(hidden.value.size).toBe(1);
  await act(() => void (state.value = boardState({ file: { name: "other.toml", folder: "elsewhere" } })));
  await settle();
  expect(hidden.value.size).toBe(0);
  expect(cut.value).toBeNull();
});
