/** The stage of the cut as the page shows what the board tells of the jobs of a demo (see fixtures/make_cuts.py). */
import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { Bars } from "../src/bars";
import type { Cuts, Picture, PictureRow, StageRow } from "../src/contract";
import { ComparedDrawn } from "../src/compared-drawn";
import { Cut } from "../src/cut";
import { Pictures } from "../src/picture";
import { barEnds, barPart, barTicks, tableOf } from "../src/plotting";
import { Promises } from "../src/promises";
import { SecondOpinion, secondWork } from "../src/second";
import { closeOpened, job, narrowShows, opened, openField, stage, stageOf, state, wantedCard, wantedJob } from "../src/state";
import { boardState } from "./board";
import told from "./fixtures/cuts.json";

const cuts = (): Cuts => structuredClone(told.cuts) as unknown as Cuts;
const limits = (of: string): Picture => structuredClone(told.pictures[`cut-limits:${of}` as keyof typeof told.pictures]) as unknown as Picture;
const group = (path: string) => ({ path, title: path });
const cutStage: StageRow = {
  id: "cut",
  title: "The cut",
  words: "",
  count: { fail: 0, watch: 0, unknown: 0 },
  groups: ["job", "job.frames", "job.fittings", "spoilboard", "spindle"].map(group),
};

let host: HTMLElement;
let answer: Cuts;
let posted: { url: string; body: { edits: [string, string][]; label: string } }[];
let asked: string[];

beforeEach(() => {
  const s = boardState();
  const stages = s.stages.filter((row) => row.id !== "cut");
  stages.splice(5, 0, cutStage);
  state.value = { ...s, stages };
  stage.value = "cut";
  wantedJob.value = "";
  narrowShows.value = "fields";
  answer = cuts();
  posted = [];
  asked = [];
  vi.stubGlobal("fetch", async (url: string, how?: { method?: string; body?: string }) => {
    if (how?.method === "POST") {
      posted.push({ url, body: JSON.parse(how.body!) });
      return new Response(JSON.stringify(state.value));
    }
    asked.push(decodeURIComponent(url));
    const one = decodeURIComponent(url).split("/api/picture/")[1];
    const data = url === "/api/cuts" ? answer : url === "/api/pictures" ? told.rows : one in told.pictures ? told.pictures[one as keyof typeof told.pictures] : { ...limits("frames"), id: one, of: one.split(":")[1], bars: [], words: "Worked out later." };
    return new Response(JSON.stringify(data));
  });
  host = document.createElement("div");
  document.body.append(host);
});

afterEach(async () => {
  await act(() => render(null, host));
  host.remove();
  closeOpened();
});

const settle = () => act(() => new Promise<void>((r) => setTimeout(r)));

async function shown(what: preact.ComponentChild): Promise<void> {
  await act(() => render(what, host));
  for (let k = 0; k < 4; k++) await settle();
}

const button = (name: string, within: Element = host) => [...within.querySelectorAll("button")].find((b) => b.textContent?.includes(name))!;
const panel = (name: string) => host.querySelector(`[aria-labelledby="cut-${name}"]`)!;

test("each job has a panel with its verdict as sign and word, what binds, what comes next, wall, hold and chatter", async () => {
  await shown(<Cut />);
  expect(host.querySelectorAll("section.cut")).toHaveLength(2);
  for (const one of answer.jobs) {
    const text = panel(one.name).textContent!;
    expect(panel(one.name).querySelector(".mark")!.textContent).toMatch(/^[✓!✕?]/);
    for (const words of [one.runs, one.verdict, one.binds!.words, one.next!.words, one.removal!.text, ...one.hold, ...one.chatter]) expect(text).toContain(words);
    for (const wall of one.walls) expect(text).toContain(wall.text);
    expect(text).toContain("squareness, leads and holes are not in it");
  }
  expect(panel("fittings").className).toContain("finding-watch");
});

test("file and advice stand side by side, each with its reason, and are taken in one step with all their edits", async () => {
  await shown(<Cut />);
  const fittings = answer.jobs.find((one) => one.name === "fittings")!;
  const rows = [...panel("fittings").querySelectorAll(".cut-settings tbody tr")].map((row) => row.textContent);
  for (const row of fittings.settings) {
    expect(rows).toContain(`${row.what}${row.file}${row.advised}`);
    expect(rows).toContain(row.reason);
  }
  expect(fittings.edits.length).toBeGreaterThan(1);
  await act(() => button("Take these settings", panel("fittings")).click());
  await settle();
  expect(posted).toHaveLength(1);
  expect(posted[0].url).toBe("/api/edit");
  expect(posted[0].body.edits).toEqual(fittings.edits);
  expect(posted[0].body.label).toBe("fittings: advised settings");
});

test("settings of before cannot be taken while new ones are being worked out", async () => {
  answer.settled = false;
  state.value = { ...state.value!, settled: { rev: null, state: "pending", words: "", parcels: 1 } };
  await shown(<Cut />);
  expect(button("Take these settings").disabled).toBe(true);
  expect(host.textContent).toContain("Being worked out again");
});

test("a file that has the settings already offers none, and one without advice says why", async () => {
  answer.jobs[0] = { ...answer.jobs[0], edits: [] };
  answer.jobs[1] = { ...answer.jobs[1], edits: [], no_advice: "the teeth would rub", settings: answer.jobs[1].settings.map((row) => ({ ...row, advised: "", reason: "" })) };
  await shown(<Cut />);
  expect(button("Take these settings")).toBeUndefined();
  expect(panel(answer.jobs[0].name).textContent).toContain("The file has these settings already.");
  expect(panel(answer.jobs[1].name).textContent).toContain("No settings were found: the teeth would rub.");
});

test("a limit that is unknown says what it takes", async () => {
  answer.jobs[0].limits.push({ ...answer.jobs[0].limits[0], id: "x", words: "hold of the work", missing: "job.frames.hold_down", figure: "" });
  await shown(<Cut />);
  expect(panel("frames").textContent).toContain("hold of the work? unknown: it takes job.frames.hold_down");
});

test("a machine without jobs says what to do", async () => {
  answer = { ...answer, jobs: [], cautions: [], words: "The machine file names no job yet." };
  await shown(<Cut />);
  expect(host.textContent).toBe("The machine file names no job yet.");
});

test("cautions stand in a fold, each with the jobs that it is for", async () => {
  await shown(<Cut />);
  const fold = host.querySelector("details.finding-group")!;
  expect(fold.textContent).toContain(answer.foreword);
  expect(fold.querySelectorAll("li")).toHaveLength(answer.cautions.length);
  expect(fold.textContent).toContain(`${answer.cautions[0].subject}: ${answer.cautions[0].jobs.join(", ")}`);
});

test("figures open to their working", async () => {
  await shown(<Cut />);
  await act(() => button(answer.jobs[0].removal!.text, panel("frames")).click());
  expect(opened.value.at(-1)).toEqual({ kind: "figure", key: "job.frames.removal" });
});

test("pictures are those of one job: the first, or the one that was asked for", async () => {
  expect(job.value).toBe("frames");
  await shown(<Pictures stage="cut" />);
  const ids = (told.rows as PictureRow[]).map((row) => row.id);
  expect(asked).toEqual(["/api/pictures", ...ids.map((id) => `/api/picture/${id}:frames`)]);
  expect(button("frames").getAttribute("aria-pressed")).toBe("true");
  await act(() => button("fittings").click());
  for (let k = 0; k < 4; k++) await settle();
  expect(asked.slice(-ids.length)).toEqual(ids.map((id) => `/api/picture/${id}:fittings`));
  expect(host.querySelector("h3")!.textContent).toBe("What limits the cut: fittings");
});

test("a panel leads to the pictures of its job", async () => {
  await shown(<Cut />);
  await act(() => button("Pictures of fittings").click());
  expect([job.value, narrowShows.value]).toEqual(["fittings", "drawing"]);
});

test("picking a job beside the pictures brings its card into view, once", async () => {
  const brought: (string | null)[] = [];
  vi.spyOn(Element.prototype, "scrollIntoView").mockImplementation(function (this: Element) {
    brought.push(this.getAttribute("aria-labelledby"));
  });
  await shown(
    <>
      <Cut />
      <Pictures stage="cut" />
    </>,
  );
  expect(brought).toEqual([]);
  const choice = host.querySelector('[aria-label="Job whose pictures are drawn"]')!;
  await act(() => [...choice.querySelectorAll("button")].find((b) => b.textContent === "fittings")!.click());
  await settle();
  expect(brought).toEqual(["cut-fittings"]);
  expect(wantedCard.value).toBe("");
});

test("of two machines each job that both are for has pictures, told by its name", async () => {
  await shown(<ComparedDrawn ids={["cut-limits:frames", "cut-limits:fittings"]} against="file:other.toml" />);
  expect([...host.querySelectorAll(".buttons")][0].textContent).toBe("What limits the cut: framesWhat limits the cut: fittings");
  await act(() => button("What limits the cut: fittings").click());
  await settle();
  expect(asked.at(-1)).toBe("/api/compare/picture/cut-limits:fittings?with=file:other.toml");
});

test("as long as something is unknown the lowest limit is told as that of the known ones", async () => {
  answer.jobs[0].limits.push({ ...answer.jobs[0].limits[0], id: "x", missing: "a scale" });
  await shown(<Cut />);
  expect(panel(answer.jobs[0].name).querySelector("dl")!.textContent).toContain("binds, of what is known");
  expect(panel(answer.jobs[1].name).querySelector("dl")!.textContent).not.toContain("of what is known");
});

test("a second opinion is asked for once, and told of the job that is looked at", async () => {
  secondWork.asked.value = null;
  const empty = { ...limits("frames"), kind: "lines" as const, title: "Chatter by two methods: frames", series: [], bars: [] };
  const result = { frames: { words: ["the delay method: it begins at 9.97 mm"], pictures: [empty] } };
  const sent: string[] = [];
  vi.stubGlobal("fetch", async (url: string, how?: { method?: string; body?: string }) => {
    sent.push(`${how?.method ?? "GET"} ${url} ${how?.body ?? ""}`.trim());
    return new Response(JSON.stringify({ id: 7, name: "x", state: url.endsWith("/7") ? "done" : "running", fraction: 0, note: "", result: url.endsWith("/7") ? result : null }));
  });
  await shown(<SecondOpinion of="frames" />);
  await act(() => button("Ask for a second opinion").click());
  await settle();
  expect(sent).toEqual(['POST /api/jobs {"kind":"second-opinion"}']);
  expect(button("Being worked out").disabled).toBe(true);
  await act(() => void (state.value = { ...state.value!, jobs: [{ id: 7, name: "x", state: "done", fraction: 1, note: "" }] }));
  for (let k = 0; k < 3; k++) await settle();
  expect(host.textContent).toContain("it begins at 9.97 mm");
  expect(host.textContent).toContain("Chatter by two methods: frames");
  await shown(<SecondOpinion of="fittings" />);
  expect(host.textContent).toContain("fittings could not be looked at");
  await act(() => void (state.value = { ...state.value!, answers_rev: 99 }));
  expect(host.textContent).toContain("The machine has changed since");
});

test("bars over powers of ten end where their logarithm is, and the line of the job stands among them", async () => {
  const picture = limits("fittings");
  await shown(<Bars picture={picture} />);
  const wide = [...host.querySelectorAll<HTMLElement>("ol .bar-fill")].map((bar) => Number.parseFloat(bar.style.width));
  const [first, second] = [picture.bars[0].value, picture.bars[1].value];
  const ends = barEnds(picture);
  const decade = 100 / Math.log10(ends[1] / ends[0]);
  expect(wide[1] - wide[0]).toBeCloseTo(decade * Math.log10(second / first), 3);
  const line = Number.parseFloat(host.querySelector<HTMLElement>("ol .bar-line")!.style.left);
  expect(line - wide[0]).toBeCloseTo(decade * Math.log10(picture.marks[0].x / first), 3);
  expect(host.textContent).toContain(picture.marks[0].text);
  expect(tableOf(picture).rows.at(-1)![0]).toBe(picture.marks[0].text);
});

test("plain bars begin at nothing, logarithmic ones at the power of ten below the least", () => {
  const bars = (values: number[], log: boolean): Picture => ({ ...limits("frames"), marks: [], y: { label: "", unit: "", log }, bars: values.map((value) => ({ label: String(value), value, text: "", part: "" })) });
  expect(barEnds(bars([5, 40], false))).toEqual([0, 40]);
  expect(barEnds(bars([5, 40], true))).toEqual([1, 40]);
  expect(barEnds(bars([10, 40], true))).toEqual([1, 40]);
  expect(barTicks([1, 400])).toEqual([1, 10, 100]);
  expect(barTicks([0, 400])).toEqual([]);
  expect([barPart(10, [1, 100]), barPart(0, [1, 100]), barPart(25, [0, 100])]).toEqual([0.5, 0, 0.25]);
});

test("a field that stands at several stages is looked for at the open one first", () => {
  stage.value = "cut";
  expect(stageOf("job.frames.depth")).toBe("cut");
  openField("job.frames.depth");
  expect(stage.value).toBe("cut");
  stage.value = "work";
  expect(stageOf("job.frames.depth")).toBe("work");
});

test("a promise that is a word is no unknown one, and jobs have a heading of their own", async () => {
  const one = { ...boardState().promises[0], subject: "job.frames", what: "runs", label: "frames runs", text: "runs if", value: null, unit: "", wanted: "", band: "", figure: "" };
  state.value = { ...state.value!, promises: [...boardState().promises, one, { ...one, what: "wall error", text: "unknown" }] };
  await shown(<Promises />);
  const section = host.querySelector('section[aria-label="Job frames"]')!;
  expect([...section.querySelectorAll("li")].map((li) => li.dataset.kind)).toEqual(["", "unknown"]);
  expect(section.textContent).not.toContain("JOB");
});

test("what the file's own settings remove stands beside the rate, and is no wish that is missed", async () => {
  const rate = { ...boardState().promises[0], subject: "job.frames", what: "removal rate", label: "frames removal rate", text: "67.5 cm3/min", beside: "advised; file 72 cm3/min", wanted: "", reached: null };
  state.value = { ...state.value!, promises: [rate] };
  await shown(<Promises />);
  expect(host.querySelector(".p-more")!.textContent).toContain("advised; file 72 cm3/min");
  expect(host.textContent).not.toContain("wanted");
});
