import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { ComparedDrawn } from "../src/compared-drawn";
import type { Picture, Scene } from "../src/contract";
import { Pictures } from "../src/picture";
import { chosen, pose, scene, state } from "../src/state";
import { boardState } from "./board";
import { picture, pictureOfBoth, rows } from "./pictures";

const charts = vi.hoisted(() => ({ made: 0, gone: 0, shown: 0, stood: [] as (number | null)[] }));
vi.mock("../src/chart", async (real) => ({
  ...(await real<typeof import("../src/chart")>()),
  Chart: class {
    places: number[];
    constructor(_host: HTMLElement, p: Picture) {
      charts.made++;
      this.places = p.series[0].points.map(([x]) => x);
    }
    show(): void {
      charts.shown++;
    }
    stand(x: number | null): void {
      charts.stood.push(x);
    }
    destroy(): void {
      charts.gone++;
    }
  },
}));

let host: HTMLElement;
let told: Record<string, unknown>;
let asked: string[];

beforeEach(() => {
  Object.assign(charts, { made: 0, gone: 0, shown: 0, stood: [] });
  state.value = boardState();
  scene.value = null;
  chosen.value = "";
  pose.value = {};
  asked = [];
  told = { "/api/pictures": rows };
  for (const { id } of rows) told[`/api/picture/${id}`] = picture(id);
  vi.stubGlobal("fetch", async (url: string) => {
    asked.push(url);
    return url in told ? new Response(JSON.stringify(told[url])) : new Response(JSON.stringify({ detail: `nothing at ${url}` }), { status: 404 });
  });
  host = document.createElement("div");
  document.body.append(host);
});

afterEach(async () => {
  await act(() => render(null, host));
  host.remove();
});

const settle = () => act(() => new Promise<void>((r) => setTimeout(r)));

async function shown(stage: string): Promise<void> {
  await act(() => render(<Pictures stage={stage} />, host));
  for (let k = 0; k < 4; k++) await settle();
}

const button = (name: string) => [...host.querySelectorAll("button")].find((b) => b.textContent?.includes(name))!;

test("a stage shows its pictures and no others, each with title, words, key numbers and links to its files", async () => {
  await shown("drives");
  expect(asked).toEqual(["/api/pictures", "/api/picture/force-speed"]);
  expect([...host.querySelectorAll("h3")].map((h) => h.textContent)).toEqual(["Force of the axes against speed"]);
  expect(host.textContent).toContain(picture("force-speed").key[0].text);
  expect([...host.querySelectorAll("a")].map((a) => a.getAttribute("href"))).toEqual(["/api/picture/force-speed.svg", "/api/picture/force-speed.csv"]);
});

test("a stage without pictures shows nothing", async () => {
  await shown("work");
  expect(host.innerHTML).toBe("");
});

test("lines can be read by keys: the place and every line in words", async () => {
  await shown("drives");
  const slider = host.querySelector<HTMLElement>('[role="slider"]')!;
  await act(() => void slider.dispatchEvent(new KeyboardEvent("keydown", { key: "ArrowRight", bubbles: true })));
  expect(charts.stood).toEqual([0]);
  expect(slider.getAttribute("aria-valuetext")).toMatch(/^speed 0 m\/min: X 582\.8 N; Y 17\d\d N; Z/);
  expect(host.querySelector(".legend")!.textContent).toContain("582.8 N");
});

test("a chart is made once, fed again with new answers and let go with the stage", async () => {
  await shown("drives");
  expect([charts.made, charts.gone]).toEqual([1, 0]);
  const before = charts.shown;
  await act(() => void (state.value = boardState({ answers_rev: 99 })));
  await settle();
  await settle();
  expect(charts.made).toBe(1);
  expect(charts.shown).toBeGreaterThan(before);
  await act(() => render(null, host));
  expect(charts.gone).toBe(1);
});

test("the same numbers stand in a table", async () => {
  await shown("drives");
  await act(() => button("Show as table").click());
  const table = host.querySelector("table")!;
  expect(table.querySelectorAll("tbody tr").length).toBe(picture("force-speed").series.reduce((n, s) => n + s.points.length, 0));
  expect(charts.gone).toBe(1);
  await act(() => button("Show as table").click());
  expect(charts.made).toBe(2);
});

test("a bar chooses its part, what belongs to no drawn part chooses what it lies in", async () => {
  const piece = (part: string) => ({ part }) as Scene["pieces"][number];
  scene.value = { pieces: [piece("gantry.beam"), piece("spindle"), piece("axis.x.block.lower-1")] } as Scene;
  await shown("stiffness");
  const bars = [...host.querySelectorAll<HTMLButtonElement>("button.bar")];
  const of = (label: string) => bars.find((b) => b.textContent!.startsWith(label))!;
  await act(() => of("gantry.beam").click());
  expect(chosen.value).toBe("gantry.beam");
  expect(of("gantry.beam").getAttribute("aria-pressed")).toBe("true");
  await act(() => of("spindle.shaft").click());
  expect(chosen.value).toBe("spindle");
  await act(() => of("axis.x.blocks").click());
  expect(chosen.value).toBe("axis.x.block.lower-1");
  expect(of("carriage.plate").hasAttribute("aria-pressed")).toBe(false);
});

test("the first bars are shown, the others when they are asked for", async () => {
  await shown("stiffness");
  expect(host.querySelectorAll(".bar")).toHaveLength(8);
  await act(() => button("All ").click());
  expect(host.querySelectorAll(".bar")).toHaveLength(picture("shares").bars.length);
});

test("the map is read by keys, from its weak place on, and the machine can be stood there", async () => {
  await shown("stiffness");
  const map = host.querySelector<HTMLElement>('[role="application"]')!;
  const press = (key: string) => act(() => void map.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true })));
  expect(button("Stand the machine").disabled).toBe(true);
  await press("ArrowLeft");
  expect(host.querySelector("[aria-live]")!.textContent).toMatch(/^X 625 mm, Y 0 mm: 0\.32/);
  await press("ArrowUp");
  await press("Enter");
  expect(pose.value).toEqual({ x: expect.closeTo(0.625, 9), y: expect.closeTo(1.25 / 6, 6) });
  await press("End");
  await act(() => button("Stand the machine").click());
  expect(pose.value.x).toBeCloseTo(1.25, 9);
});

test("a picture that has nothing says what is lacking, and offers no files", async () => {
  told["/api/picture/stiffness-map"] = { ...picture("stiffness-map"), map: null, key: [], words: "There is no structure to look at: no bed." };
  told["/api/picture/shares"] = { ...picture("shares"), bars: [], words: "There is no structure to look at: no bed." };
  await shown("stiffness");
  expect(host.textContent).toContain("no structure to look at: no bed");
  expect(host.querySelectorAll("a, table, canvas")).toHaveLength(0);
});

test("a picture that cannot be had says why, the others stand", async () => {
  delete told["/api/picture/shares"];
  await shown("stiffness");
  expect(host.textContent).toContain("! nothing at /api/picture/shares");
  expect(host.querySelectorAll("canvas")).toHaveLength(1);
});

test("modes stand in a table with their words", async () => {
  await shown("ringing");
  const table = host.querySelector("table")!;
  expect([...table.querySelectorAll("thead th")].map((h) => h.textContent)).toEqual(picture("modes").columns);
  expect(table.querySelectorAll("tbody tr")).toHaveLength(picture("modes").rows.length);
});

test("two machines: one picture at a time, both maps named, files of both", async () => {
  const query = "?with=kept%3A1";
  told[`/api/compare/picture/stiffness-map${query}`] = pictureOfBoth("stiffness-map");
  told[`/api/compare/picture/shares${query}`] = pictureOfBoth("shares");
  await act(() => render(<ComparedDrawn ids={["stiffness-map", "shares"]} against="kept:1" />, host));
  for (let k = 0; k < 4; k++) await settle();
  expect(host.querySelectorAll("canvas")).toHaveLength(2);
  expect([...host.querySelectorAll("h4")].map((h) => h.textContent)).toEqual(["first idea", "as built"]);
  expect(host.querySelector("a")!.getAttribute("href")).toBe(`/api/compare/picture/stiffness-map.svg${query}`);
  expect(button("Stand the machine")).toBeUndefined();
  await act(() => button("What gives").click());
  for (let k = 0; k < 4; k++) await settle();
  expect(host.querySelector(".bar")!.textContent).toContain("29.3 % 38.6 %");
});
