import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import board from "./fixtures/board.json";
import { boardState, stateAfter } from "./board";
import type { Promised, State } from "../src/contract";
import { Groups } from "../src/group";
import { previewed } from "../src/live";
import { Promises } from "../src/promises";
import { moved } from "../src/said";
import { closeOpened, openFinding, opened, state, wantedField } from "../src/state";
import { Lines } from "../src/sheet";
import { StiffenFirst } from "../src/stiffen";
import { Working } from "../src/working";

let host: HTMLElement;
let answers: Record<string, unknown>;
let sent: { url: string; body: unknown }[];

beforeEach(() => {
  state.value = boardState();
  answers = {};
  sent = [];
  vi.stubGlobal("fetch", async (url: string, init: RequestInit) => {
    if (init.body) sent.push({ url, body: JSON.parse(String(init.body)) });
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
  wantedField.value = "";
  closeOpened();
});

const settle = () => act(() => new Promise<void>((r) => setTimeout(r, 5)));
const withRapid = (more: Partial<Promised>): State => {
  const s = boardState();
  const at = s.promises.findIndex((p) => p.label === "X rapid");
  s.promises[at] = { ...s.promises[at], ...more };
  return s;
};
const rapid = () => host.querySelector<HTMLElement>("[aria-label='X axis'] .promise")!;

test("a promise tells its number, band and wish, and opens its figure", async () => {
  await act(() => render(<Promises />, host));
  const p = boardState().promises.find((q) => q.label === "X rapid")!;
  expect(rapid().textContent).toContain(p.text);
  expect(rapid().textContent).toContain(p.band);
  expect(rapid().textContent).toContain(`wanted ${p.wanted}`);
  await act(() => rapid().querySelector("button")!.click());
  expect(opened.value).toEqual([{ kind: "figure", key: p.figure }]);
});

test("a change is told with its direction in words, not by colour alone", async () => {
  state.value = withRapid({ change: "+2 m/min", changed: "up", better: true });
  await act(() => render(<Promises />, host));
  expect(rapid().textContent).toContain("+2 m/min better");
  await act(() => void (state.value = withRapid({ change: "-2 m/min", changed: "down", better: false })));
  expect(rapid().textContent).toContain("-2 m/min worse");
});

test("answers of the last whole machine are drawn as such where the file makes none", async () => {
  state.value = boardState({ problems: [{ place: "a.toml:3", line: 3, path: "purpose.rapid", message: "no" }] });
  await act(() => render(<Promises />, host));
  expect(host.textContent).toContain("not of the file");
  await act(() => void (state.value = boardState()));
  expect(host.textContent).not.toContain("not of the file");
});

test("a promise that is less than what is wanted says so", async () => {
  state.value = withRapid({ reached: true });
  await act(() => render(<Promises />, host));
  expect(rapid().textContent).not.toContain("not the wanted");
  await act(() => void (state.value = withRapid({ reached: false })));
  expect(rapid().textContent).toContain("not the wanted 8 m/min");
});

test("a band of an earlier answer is drawn and said as pending", async () => {
  await act(() => render(<Promises />, host));
  expect(rapid().textContent).not.toContain("computed again");
  await act(() => void (state.value = withRapid({ stale: true })));
  expect(rapid().textContent).toContain("being computed again");
});

test("while something is typed the promises show what would be, beside what is", async () => {
  await act(() => render(<Promises />, host));
  const now = boardState().promises.find((q) => q.label === "X rapid")!.text;
  const would = stateAfter().promises.find((q) => q.label === "X rapid")!.text;
  await act(() => {
    previewed.value = { path: "a", text: "b", told: { ok: true, problems: [], promises: stateAfter().promises, verdict: null, ms: 1 } };
  });
  expect(rapid().dataset.kind).toBe("ahead");
  expect(rapid().textContent).toContain(`would be ${would}`);
  expect(rapid().textContent).toContain(`now ${now}`);
  expect(host.querySelector<HTMLElement>("[aria-label='Y axis'] .promise")!.dataset.kind).not.toBe("ahead");
});

test("trying a remedy makes its edits as one labelled change, and the page tells what it moved", async () => {
  const tried = Object.values(board.findings).find((f) => f.remedies.length > 0)!;
  answers[`/api/finding?key=${tried.key}`] = tried;
  answers["/api/edit"] = stateAfter();
  openFinding(tried.key);
  await act(() => render(<Working />, host));
  await settle();
  expect(host.textContent).toContain(tried.why);
  const button = [...host.querySelectorAll("button")].find((b) => b.textContent!.startsWith("Try it"))!;
  await act(() => button.click());
  await settle();
  const { edits, words } = tried.remedies[0];
  expect(sent).toEqual([{ url: "/api/edit", body: { edits, label: `try: ${words} (${tried.subject.replace(/ \(.*/, "")})`, rev: 1 } }]);
  expect(state.value!.rev).toBe(2);
  expect(moved.value!.rows.map((r) => r.label)).toContain("X rapid");
});

test("a figure names its inputs and leads on to theirs", async () => {
  const figures = board.figures as Record<string, { title: string; inputs: { name: string; path: string; is: string }[] }>;
  const [path, figure] = Object.entries(figures).find(([, f]) => f.inputs.some((i) => i.is === "figure"))!;
  answers[`/api/figure?path=${path}`] = figure;
  opened.value = [{ kind: "figure", key: path }];
  await act(() => render(<Working />, host));
  await settle();
  expect(host.textContent).toContain(figure.title);
  const next = figure.inputs.find((i) => i.is === "figure")!;
  const link = [...host.querySelectorAll<HTMLElement>(".inputs .link")].find((b) => b.textContent === next.path)!;
  await act(() => link.click());
  expect(opened.value.map((o) => o.key)).toEqual([path, next.path]);
});

test("what is left to defaults is folded, and opens where a field in it is asked for", async () => {
  answers["/api/fields?path=purpose"] = board.fields.purpose;
  await act(() => render(<Groups groups={[{ path: "purpose", title: "Purpose" }]} />, host));
  await settle();
  expect(host.querySelector("[data-path='purpose.rapid']")).not.toBeNull();
  expect(host.querySelector("[data-path='purpose.stiffness']")).toBeNull();
  await act(() => void (wantedField.value = "purpose.stiffness"));
  await settle();
  expect(document.activeElement).toBe(host.querySelector("[data-path='purpose.stiffness'] input"));
});

test("what to stiffen first is asked for, fetched when the work has ended, tried, and told as old after a change", async () => {
  const row = { words: "thicker plate", edits: [["carriage.size", "25 mm"]], stiffness: "0.5 N/um", give: "-6.4 %", holds: "13 %", mass: "+1 kg", moving: "+1 kg", cost: "about 12 EUR", notes: ["9 EUR was written for a thin plate, not for this one"] };
  const result = { lead: "0.44 N/um", none: [], warning: "", rows: [row], estimate: "About: its price grows with its mass.", little: 2, together: null, refused: [] };
  answers["/api/jobs"] = { id: 7, name: "x", state: "running", fraction: 0, note: "" };
  await act(() => render(<StiffenFirst />, host));
  await act(() => host.querySelector("button")!.click());
  await settle();
  expect(sent).toEqual([{ url: "/api/jobs", body: { kind: "stiffen" } }]);
  expect(host.querySelector("button")!.disabled).toBe(true);
  answers["/api/jobs/7"] = { id: 7, name: "x", state: "done", fraction: 1, note: "", result };
  const job = { id: 7, name: "x", state: "done" as const, fraction: 1, note: "" };
  await act(() => void (state.value = boardState({ jobs: [job] })));
  await settle();
  expect(host.textContent).toContain("0.5 N/um, give -6.4 %");
  expect(host.querySelector(".stiffen .remedy")!.textContent).toContain("9 EUR was written for a thin plate, not for this one");
  expect(host.textContent).toContain("About: its price grows with its mass.");
  expect(host.textContent).not.toContain("has changed since");
  answers["/api/edit"] = stateAfter({ jobs: [job] });
  await act(() => [...host.querySelectorAll("button")].find((b) => b.textContent!.startsWith("Try it"))!.click());
  await settle();
  expect(sent.at(-1)).toEqual({ url: "/api/edit", body: { edits: row.edits, label: "try: thicker plate", rev: 1 } });
  expect(host.textContent).toContain("has changed since");
});

test("what can be added is one change", async () => {
  answers["/api/fields?path=site"] = board.fields.site;
  answers["/api/edit"] = stateAfter();
  await act(() => render(<Groups groups={[{ path: "site", title: "Site" }]} />, host));
  await settle();
  const add = [...host.querySelectorAll("button")].find((b) => b.textContent!.includes("another wall outlet"))!;
  await act(() => add.click());
  await settle();
  expect(sent).toEqual([{ url: "/api/edit", body: { edits: board.fields.site.can_add[0].edits, label: "Where it stands: add another wall outlet", rev: 1 } }]);
});

test("a file that makes no machine tells of which revision the answers are, as the title block counts, and the ways back", async () => {
  const problem = { place: "router.toml:12", line: 12, path: "", message: "the bracket of a heading is not closed" };
  state.value = boardState({ problems: [problem], answers_rev: 55, answers_revision: "4", whole: true, undo: "changed outside the drawing board" });
  await act(() => render(<Lines />, host));
  expect(host.textContent).toContain("those of revision 4.");
  expect(host.textContent).toContain("router.toml:12");
  const names = [...host.querySelectorAll("button")].map((b) => b.textContent!.trim());
  expect(names).toEqual(["Keep mine: the last whole text", "Undo: changed outside the drawing board"]);
});
