/** What a first user of the board stumbled over. */
import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { boardState, stateAfter } from "./board";
import board from "./fixtures/board.json";
import { smallScene } from "./machine";
import type { FindingOpened, Found, State } from "../src/contract";
import { OutsideLine } from "../src/history";
import { previewed } from "../src/live";
import { Promises } from "../src/promises";
import { act as doing, said } from "../src/said";
import { Lines, Verdict } from "../src/sheet";
import { StageList } from "../src/stages";
import { chooseOf, chosen, chosenToo, choose, closeOpened, listedAt, openFinding, opened, pose, scene, state, wantedSpot } from "../src/state";
import { Working } from "../src/working";

let host: HTMLElement;
let answers: Record<string, unknown>;

beforeEach(() => {
  state.value = boardState();
  answers = {};
  vi.stubGlobal("fetch", async (url: string) => {
    const told = answers[decodeURIComponent(url)];
    return new Response(JSON.stringify(told ?? { detail: `nothing at ${url}` }), { status: told ? 200 : 404 });
  });
  host = document.createElement("div");
  document.body.append(host);
});
afterEach(() => {
  render(null, host);
  host.remove();
  previewed.value = null;
  scene.value = null;
  choose("");
  closeOpened();
});

const show = (what: preact.ComponentChild) => act(() => render(what, host));
const pending: State["settled"] = { rev: null, state: "pending", words: "typical values", parcels: 1 };
const verdict = (words: string) => ({ ...boardState().verdict, words });

test("the line of what happened follows the verdict when it settles, and lets go of the count of another revision", async () => {
  await doing("Thicker screw", async () => (state.value = stateAfter({ verdict: verdict("11 fail"), settled: pending })));
  expect(said.value).toBe("Thicker screw. 11 fail, so far");
  state.value = stateAfter({ verdict: verdict("12 fail") });
  expect(said.value).toBe("Thicker screw. 12 fail");
  state.value = stateAfter({ rev: 9, verdict: verdict("3 fail") });
  expect(said.value).toBe("Thicker screw");
  said.value = "Stopping";
  state.value = stateAfter({ rev: 9, verdict: verdict("4 fail") });
  expect(said.value).toBe("Stopping");
});

test("a file that never made a machine has no old answers to speak of", async () => {
  const problems = [{ place: "broken.toml:56", line: 56, path: "axis.x", message: "is not TOML" }];
  state.value = boardState({ answers_rev: -1, promises: [], findings: [], problems });
  await show(
    <>
      <Lines />
      <Promises />
      <Verdict />
    </>,
  );
  expect(host.querySelector("h2")!.textContent).toBe("No answer yet: mend what is listed");
  expect(host.querySelector("li")!.textContent!.replace(/\s+/g, " ")).toBe("broken.toml:56 axis.x is not TOML");
  expect(host.textContent).not.toMatch(/revision|last whole machine/);
  expect(host.querySelector(".verdict")).toBeNull();
  await act(() => void (state.value = boardState({ problems, answers_rev: 7, answers_revision: "3" })));
  expect(host.textContent).toContain("those of revision 3");
  expect(host.querySelector(".verdict")).not.toBeNull();
});

test("while something is typed the verdict is the one that it would bring, or says that it is not", async () => {
  await show(<Verdict />);
  const told = { ok: true, problems: [], promises: [], verdict: { fail: 7, broken: 0, unknown: 0, watch: 0, ok: 1, words: "7 fail" }, ms: 1 };
  await act(() => void (previewed.value = { path: "a", text: "b", told }));
  expect(host.querySelector(".tally")!.textContent).toContain("7 fails");
  expect(host.textContent).toContain("as it would be with the typed text");
  await act(() => void (previewed.value = { path: "a", text: "b", told: { ...told, verdict: null } }));
  expect(host.textContent).toContain("of the file, not of the typed text");
  await act(() => void (previewed.value = null));
  expect(host.textContent).toContain(boardState().settled.words);
});

test("while something is typed what is wanted is what the typed text wants, and what cannot be told is no cross", async () => {
  const [one] = boardState().promises;
  const now = { ...one, text: "2.73 m/min", wanted: "8 m/min", reached: false, undecided: false };
  state.value = boardState({ promises: [now] });
  await show(<Promises />);
  expect(host.querySelector(".short")!.textContent).toBe("✕ not the wanted 8 m/min");
  const told = { ok: true, problems: [], verdict: null, ms: 1, promises: [{ ...now, wanted: "2 m/min", reached: true }] };
  await act(() => void (previewed.value = { path: "a", text: "b", told }));
  expect(host.querySelector(".p-more")!.textContent).toContain("wanted 2 m/min");
  expect(host.querySelector(".short")).toBeNull();
  await act(() => void (previewed.value = null));
  await act(() => void (state.value = boardState({ promises: [{ ...now, reached: null, undecided: true }] })));
  expect(host.querySelector(".short")).toBeNull();
  expect(host.querySelector(".p-more")!.textContent).toContain("wanted 8 m/min, not known whether reached");
});

test("what is told with a change stays while its answers settle, until it is closed or another change is made", async () => {
  const words = "64 EUR was written for ball-screw-1605, not for ball-screw-2020 (axis.x.drive.main.price)";
  await show(<Lines />);
  await act(() => void (state.value = stateAfter({ told: [words], settled: pending })));
  expect(host.querySelector(".told")!.textContent).toContain(words);
  await act(() => void (state.value = stateAfter({ told: [] }))); // the spread has come: told once, it is not told again
  expect(host.querySelector(".told")!.textContent).toContain(words);
  await act(() => host.querySelector<HTMLButtonElement>(".told button")!.click());
  await act(() => void (state.value = stateAfter({ told: [] })));
  expect(host.querySelector(".told")).toBeNull();
  await act(() => void (state.value = stateAfter({ rev: 8, told: [words] })));
  expect(host.querySelector(".told")).not.toBeNull();
  await act(() => void (state.value = stateAfter({ rev: 9, told: [] })));
  expect(host.querySelector(".told")).toBeNull();
});

test("a remedy is being tried until the program says that the last ones have come", async () => {
  const key = boardState().findings[0].key;
  const long = Object.values(board.findings).find((f) => f.remedies.length > 0) as unknown as FindingOpened;
  answers[`/api/finding?key=${key}`] = { ...long, key, remedies: [{ ...long.remedies[0], tried: false, effects: ["not tried yet"] }] };
  const at = (more: Partial<State["settled"]>) => boardState({ settled: { rev: 1, state: "done", words: "", parcels: 4, ...more } });
  const told = () => host.querySelector(".remedy")!.textContent;
  state.value = at({ remedies: "pending" });
  openFinding(key);
  await show(<Working />);
  await act(() => new Promise((done) => setTimeout(done, 5)));
  expect(told()).toContain("being tried …");
  await act(() => void (state.value = at({ remedies: "done" })));
  expect(told()).not.toMatch(/being tried|mends|alone|yet/);
  expect(host.querySelector(".remedy button")!.textContent).toContain("Try it");
  await act(() => void (state.value = at({ state: "pending", remedies: "pending" })));
  expect(told()).toContain("being tried …");
  await act(() => void (state.value = at({ state: "failed", remedies: "pending" })));
  expect(told()).not.toContain("being tried");
});

test("a remedy that makes something else worse says so beside the tick", async () => {
  const key = boardState().findings[0].key;
  const long = Object.values(board.findings).find((f) => f.remedies.length > 0) as unknown as FindingOpened;
  const one = { ...long.remedies[0], tried: true, mends: true, harms: true, effects: ["but then fails GEO-101 axis.z"] };
  answers[`/api/finding?key=${key}`] = { ...long, key, remedies: [one, { ...one, words: "another", harms: false }] };
  state.value = boardState({});
  openFinding(key);
  await show(<Working />);
  await act(() => new Promise((done) => setTimeout(done, 5)));
  const told = [...host.querySelectorAll(".remedy")].map((row) => row.textContent!);
  expect(told[0]).toContain("✓ mends it, but makes other findings worse");
  expect(told[0]).toContain("but then fails GEO-101 axis.z");
  expect(told[1]).not.toContain("worse");
});

test("opening a finding chooses its part, and both parts of a clash", () => {
  scene.value = smallScene();
  const [one, two] = [...new Set(smallScene().pieces.map((p) => p.part))];
  const clash: Found = { ...boardState().findings[0], key: "k", subject: `${one} (against ${two})`, part: one };
  state.value = boardState({ findings: [clash] });
  openFinding("k");
  expect([chosen.value, chosenToo.value]).toEqual([one, two]);
  expect(opened.value.map((o) => o.key)).toEqual(["k"]);
  choose(two);
  expect([chosen.value, chosenToo.value]).toEqual([two, ""]);
});

test("each finding is counted at the one stage where it is listed, and all of them under findings", async () => {
  await show(<StageList />);
  const count = (stage: string) => Number(/\d+/.exec(host.querySelector(`[href="#${stage}"] .count-watch`)?.textContent ?? "0")![0]);
  const s = state.value!;
  const watched = s.findings.filter((f) => f.status === "watch");
  expect(watched.length).toBeGreaterThan(2);
  expect(count("findings")).toBe(watched.length);
  const others = s.stages.filter((row) => row.id !== "findings");
  expect(others.reduce((sum, row) => sum + count(row.id), 0)).toBe(watched.length);
  for (const row of others) {
    const here = new Set(listedAt.value.get(row.id)?.filter((f) => f.status === "watch"));
    expect(count(row.id)).toBe(here.size);
  }
  expect(host.querySelector("[href='#frame'] .counts, [href='#guides'] .counts")!.getAttribute("title")).toContain("counted at one stage only");
});

test("a file changed outside: each way says where the other text is kept", async () => {
  state.value = boardState({ disk: "changed" });
  await show(<OutsideLine />);
  expect(host.textContent).toContain("Take theirs: the text of this page stays in the history as a step");
  expect(host.textContent).toContain("Keep mine: the other text stays in the history as a copy");
});

test("what the program says of a change is shown until it is closed", async () => {
  state.value = boardState({ told: ["The beam was left as it is."] });
  await show(<Lines />);
  expect(host.querySelector(".told")!.textContent).toContain("The beam was left as it is.");
  await act(() => host.querySelector<HTMLElement>(".told button")!.click());
  expect(host.querySelector(".told")).toBeNull();
  await act(() => void (state.value = boardState({ told: ["Another sentence."] })));
  expect(host.querySelector(".told")!.textContent).toContain("Another sentence.");
});

test("two parts that meet are both chosen, and a button drives the axes to where they do", async () => {
  state.value = boardState({});
  const key = state.value.findings[0].key;
  scene.value = { pieces: [{ part: "head.plate" }, { part: "axis.z.drive.main.coupling" }] } as never;
  const spot = { parts: ["head.plate", "axis.z.drive.main.coupling"] as [string, string], pose: { x: 0, y: 0, z: 0.13 } };
  const long = Object.values(board.findings)[0] as unknown as FindingOpened;
  answers[`/api/finding?key=${key}`] = { ...long, key, spot };
  openFinding(key);
  await show(<Working />);
  await act(() => new Promise((done) => setTimeout(done, 5)));
  await act(() => [...host.querySelectorAll("button")].find((b) => b.textContent === "Show where they meet")!.click());
  expect([chosen.value, chosenToo.value]).toEqual(spot.parts);
  expect([pose.value, wantedSpot.value]).toEqual([spot.pose, spot.parts]);
  expect(opened.value.map((o) => o.key)).toEqual([key]);
  choose("");
  chooseOf("head.plate (against axis.z.drive.main.coupling)");
  expect([chosen.value, chosenToo.value]).toEqual(spot.parts);
});
