import { afterEach, expect, test } from "vitest";
import { replaceBy } from "../src/api";
import { diffOf } from "../src/diff";
import { titleBelow } from "../src/group";
import { inTextBox } from "../src/keys";
import { isOld } from "../src/live";
import { fits } from "../src/parts";
import { bySubject } from "../src/promises";
import { act, moved, said } from "../src/said";
import {
  answers,
  back,
  choose,
  closeOpened,
  openField,
  openFigure,
  openFinding,
  opened,
  remedied,
  stage,
  stageOf,
  state,
  takeUp,
  wantedField,
} from "../src/state";
import { whenInWords } from "../src/when";
import { boardState, stateAfter } from "./board";

afterEach(() => {
  closeOpened();
  state.value = null;
});

test("an announcement makes the page ask again only where it knows less", () => {
  const now = boardState();
  const told = { rev: now.rev, settled: now.settled, disk: now.disk, jobs: [] };
  expect(isOld(now, told)).toBe(false);
  expect(isOld(now, { ...told, rev: 2 })).toBe(true);
  expect(isOld(now, { ...told, boot: "another" })).toBe(true);
  expect(isOld(now, { ...told, disk: "changed" })).toBe(true);
  expect(isOld(now, { ...told, file: now.file })).toBe(false);
  expect(isOld(now, { ...told, file: { name: "other.toml", folder: "demo" } })).toBe(true);
  expect(isOld(now, { ...told, settled: { rev: null, state: "pending", words: "" } })).toBe(true);
  expect(isOld(now, { ...told, settled: { ...now.settled, parcels: 3 } })).toBe(true);
  const { kept, keeps } = now;
  expect(isOld(now, { ...told, kept, keeps })).toBe(false);
  expect(isOld(now, { ...told, kept: null, keeps })).toBe(true);
  expect(isOld(now, { ...told, kept, keeps: [{ id: 7, name: "of another window" }, ...keeps] })).toBe(true);
  expect(isOld(null, told)).toBe(true);
});

test("remedies that come after the spread ask for findings again, and for no picture", () => {
  const settled = (more: object) => (state.value = boardState({ settled: { rev: 1, state: "done", words: "", parcels: 2, ...more } }));
  settled({ rev: null, state: "pending", parcels: 0 });
  const keys = [[answers.value, remedied.value]];
  for (const more of [{ rev: null, state: "pending", parcels: 1 }, { parcels: 2 }, { parcels: 3 }]) {
    settled(more);
    keys.push([answers.value, remedied.value]);
  }
  const [pictures, findings] = [0, 1].map((at) => keys.map((k) => k[at]));
  expect(new Set(findings).size).toBe(4);
  expect(new Set(pictures).size).toBe(3);
  expect(pictures[2]).toBe(pictures[3]);
});

test("the bands of all samples ask again for what was told with those of few", () => {
  const after = (samples: number) => {
    state.value = boardState({ settled: { rev: 1, state: "done", words: "", parcels: 2, samples } });
    return answers.value;
  };
  expect(after(96)).not.toBe(after(512));
});

test("the last change tells what it moved, in the program's own texts", async () => {
  state.value = boardState();
  await act("Thicker screw", async () => (state.value = stateAfter()));
  const before = new Map(boardState().promises.map((p) => [p.label, p.text]));
  expect(moved.value!.rows.length).toBeGreaterThan(0);
  for (const row of moved.value!.rows) expect(row.was).toBe(before.get(row.label));
  expect(moved.value!.rows.map((r) => r.label)).toContain("X rapid");
  expect(moved.value!.rows.map((r) => r.label)).not.toContain("Y rapid");
  expect(said.value).toContain("Thicker screw");
});

test("counts with the spread are not held against counts without it", async () => {
  const verdict = (words: string) => ({ ...boardState().verdict, words });
  state.value = boardState({ verdict: verdict("15 to watch") });
  const pending = { rev: null, state: "pending" as const, words: "" };
  await act("x", async () => (state.value = stateAfter({ verdict: verdict("12 to watch"), settled: pending })));
  expect(moved.value!.verdict).toBeNull();
  expect(said.value).toContain("so far");
  state.value = stateAfter({ verdict: verdict("14 to watch") });
  expect(moved.value!.verdict).toEqual({ was: "15 to watch", now: "14 to watch" });
});

test("a file that is opened is held against nothing of the one before", () => {
  state.value = boardState();
  state.value = stateAfter({ made: "Thicker screw" });
  expect(moved.value!.rows.length).toBeGreaterThan(0);
  said.value = "Thicker screw. 12 to watch";
  replaceBy(boardState({ file: { name: "bench.toml", folder: "demo" }, rev: 9 }));
  expect(moved.value).toBeNull();
  expect(said.value).toBe("");
});

test("a change of another window is told by its own name, and undo stands beside it only where it takes that back", () => {
  state.value = boardState();
  state.value = stateAfter({ made: "Feed 2.2 m/min", undo: "Feed 2.2 m/min" });
  expect(moved.value).toMatchObject({ label: "Feed 2.2 m/min", last: true });
  state.value = boardState({ rev: stateAfter().rev + 1, made: "Undone: Feed 2.2 m/min", undo: "what was before" });
  expect(moved.value).toMatchObject({ label: "Undone: Feed 2.2 m/min", last: false });
});

test("promises of the whole machine come first, then axis by axis", () => {
  const subjects = bySubject(boardState().promises).map(([s]) => s);
  expect(subjects).toEqual(["machine", "axis.x", "axis.y", "axis.z"]);
});

test("opened things form a way back, and one that is opened again is gone back to", () => {
  openFinding("f");
  openFigure("a");
  openFigure("b");
  openFigure("a");
  expect(opened.value.map((o) => o.key)).toEqual(["f", "a"]);
  back();
  expect(opened.value.map((o) => o.key)).toEqual(["f"]);
});

test("turning to a field puts what is open aside, and it can be taken up again", () => {
  state.value = boardState();
  openFinding("f");
  openFigure("a");
  openField("purpose.rapid");
  expect(opened.value).toEqual([]);
  expect([stage.value, wantedField.value]).toEqual(["work", "purpose.rapid"]);
  takeUp();
  expect(opened.value.map((o) => o.key)).toEqual(["f", "a"]);
  choose("gantry.beam");
  expect(opened.value).toEqual([]);
  choose("");
});

test("a table that no stage shows leads to the first one below it", () => {
  state.value = boardState();
  openField("axis");
  expect([stage.value, wantedField.value]).toEqual(["guides", "axis.x"]);
});

test("a path leads to the stage that holds it or its nearest table", () => {
  state.value = boardState();
  expect(stageOf("purpose.rapid")).toBe("work");
  expect(stageOf("axis.x.drive.main.part")).toBe("drives");
  expect(stageOf("gantry.beam")).toBe("frame");
  expect(stageOf("gantry.beam (against axis.z.drive.main)")).toBe("frame");
  openField("purpose.rapid (with the wide cutter)");
  expect(wantedField.value).toBe("purpose.rapid");
  expect(stageOf("no.such.thing")).toBeUndefined();
});

test("two texts: what only one has, and a few lines around", () => {
  const mine = [..."abcdefghij"].join("\n");
  const theirs = mine.replace("e", "E");
  const lines = diffOf(mine, theirs);
  expect(lines.filter((l) => l.of === "mine").map((l) => l.text)).toEqual(["e"]);
  expect(lines.filter((l) => l.of === "theirs").map((l) => l.text)).toEqual(["E"]);
  expect(lines.filter((l) => l.of === "both").map((l) => l.text)).toEqual(["c", "d", "f", "g"]);
  expect(lines[0].of).toBe("gap");
  expect(diffOf(mine, mine).every((l) => l.of === "gap")).toBe(true);
  // a line that moved: the longer run of equal lines stays
  expect(diffOf("x\nb\nc", "b\nc\nx").map((l) => l.of)).toEqual(["mine", "both", "both", "theirs"]);
  expect(diffOf("a\nb", "a\nx\nb").filter((l) => l.of !== "both")).toEqual([{ of: "theirs", text: "x" }]);
});

test("rows of parts are found by any of their words", () => {
  const row = { name: "ball-screw-1605", numbers: [["lead", "5 mm"]] as [string, string][], source: "" };
  expect(fits(row, "1605")).toBe(true);
  expect(fits(row, "SCREW 5 mm")).toBe(true);
  expect(fits(row, "belt")).toBe(false);
});

test("the name of a table below another", () => {
  expect(titleBelow("axis.y.rail.left", "axis.y.rail")).toBe("left");
  expect(titleBelow("axis.y.drive.left.motor", "axis.y.drive")).toBe("left, motor");
});

test("keys belong to the box in which somebody types", () => {
  const made = (html: string) => {
    const box = document.createElement("div");
    box.innerHTML = html;
    return box.firstElementChild;
  };
  expect(inTextBox(made("<input>"))).toBe(true);
  expect(inTextBox(made("<select></select>"))).toBe(true);
  expect(inTextBox(made("<input type=checkbox>"))).toBe(false);
  expect(inTextBox(made("<button></button>"))).toBe(false);
  expect(inTextBox(null)).toBe(false);
});

test("moments in words", () => {
  expect(whenInWords("2026-11-25 14:05", new Date("2026-11-25T20:00:00"))).toMatch(/^today /);
  expect(whenInWords("2026-11-24 14:05", new Date("2026-11-25T20:00:00"))).toContain("2026");
  expect(whenInWords("some day")).toBe("some day");
});
