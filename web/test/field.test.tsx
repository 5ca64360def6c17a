import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { FieldRow, textToWrite } from "../src/field";
import { PAUSE_MS, previewed } from "../src/live";
import { online, state, wantedField } from "../src/state";
import type { Field } from "../src/contract";
import { boardState, field, stateAfter } from "./board";

interface Call {
  url: string;
  body: { edits: [string, string | null][]; label?: string };
}
let calls: Call[];
let answers: (call: Call) => { status: number; told: unknown };
let host: HTMLElement;

beforeEach(() => {
  state.value = boardState();
  calls = [];
  answers = (call) =>
    call.url === "/api/preview"
      ? { status: 200, told: { ok: true, problems: [], promises: stateAfter().promises, verdict: null, ms: 1 } }
      : { status: 200, told: stateAfter() };
  vi.stubGlobal("fetch", async (url: string, init: RequestInit) => {
    const call = { url, body: JSON.parse(String(init.body)) } as Call;
    calls.push(call);
    const { status, told } = answers(call);
    return new Response(JSON.stringify(told), { status });
  });
  host = document.createElement("div");
  document.body.append(host);
});
afterEach(() => {
  render(null, host);
  host.remove();
  online.value = true;
});

const settle = (ms = PAUSE_MS + 20) => act(() => new Promise<void>((r) => setTimeout(r, ms)));
const show = async (f: Field) => {
  await act(() => render(<FieldRow field={f} group="Purpose" />, host));
  return host.querySelector<HTMLInputElement>("input, select, output")!;
};
const type = async (box: HTMLInputElement, text: string) => {
  await act(() => {
    box.value = text;
    box.dispatchEvent(new Event("input", { bubbles: true }));
  });
  await settle();
};
const press = async (box: HTMLElement, key: string) => {
  await act(() => {
    box.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true }));
  });
  await settle();
};
const written = () => calls.filter((c) => c.url === "/api/edit");

test("a box has its label, its text, the other unit and where the value comes from", async () => {
  const box = await show(field("purpose.rapid"));
  expect(host.querySelector("label")!.htmlFor).toBe(box.id);
  expect(box.value).toBe("8 m/min");
  const said = document.getElementById(box.getAttribute("aria-describedby")!)!;
  expect(said.textContent).toContain("314.96 in/min");
  expect(said.textContent).toMatch(/line \d+ of the file/);
});

test("typing previews, Enter writes once, and leaving then writes no more", async () => {
  const box = await show(field("purpose.rapid"));
  await type(box, "10 m/min");
  expect(calls.map((c) => c.url)).toEqual(["/api/preview"]);
  expect(previewed.value?.path).toBe("purpose.rapid");
  await press(box, "Enter");
  await act(() => void box.dispatchEvent(new Event("blur")));
  await settle();
  expect(written()).toHaveLength(1);
  expect(written()[0].body.edits).toEqual([["purpose.rapid", "10 m/min"]]);
  expect(written()[0].body.label).toContain("10 m/min");
  expect(previewed.value).toBeNull();
});

test("quick strokes are previewed once, and not at all where Enter follows at once", async () => {
  const box = await show(field("purpose.rapid"));
  for (const text of ["1", "12", "12 m/min"])
    await act(() => {
      box.value = text;
      box.dispatchEvent(new Event("input", { bubbles: true }));
    });
  await settle();
  expect(calls.map((c) => c.body.edits)).toEqual([[["purpose.rapid", "12 m/min"]]]);
  await act(() => {
    box.value = "13 m/min";
    box.dispatchEvent(new Event("input", { bubbles: true }));
    box.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true }));
  });
  await settle();
  expect(calls.map((c) => c.url)).toEqual(["/api/preview", "/api/edit"]);
});

test("what is refused stays in the box with the reason beside it, and Escape gives the file's text back", async () => {
  answers = (call) => (call.url === "/api/edit" ? { status: 422, told: { detail: "rapid: 'fast' is no speed" } } : { status: 200, told: { ok: false, problems: [{ message: "not a speed yet" }], promises: [] } });
  const box = await show(field("purpose.rapid"));
  await type(box, "fast");
  expect(host.textContent).toContain("Not yet: not a speed yet");
  expect(previewed.value).toBeNull();
  expect(host.querySelector("[role=alert]")).toBeNull();
  await press(box, "Enter");
  expect(host.querySelector("[role=alert]")!.textContent).toContain("'fast' is no speed");
  expect(box.getAttribute("aria-invalid")).toBe("true");
  expect(box.value).toBe("fast");
  await press(box, "Escape");
  expect(box.value).toBe("8 m/min");
  expect(host.querySelector("[role=alert]")).toBeNull();
  expect(state.value!.rev).toBe(1);
});

test("an undo shows the old text again, though no answer came between", async () => {
  const box = await show(field("purpose.rapid"));
  await type(box, "10 m/min");
  await press(box, "Enter");
  expect(box.value).toBe("10 m/min");
  await show(field("purpose.rapid")); // fetched after the undo: as before the edit
  expect(box.value).toBe("8 m/min");
});

test("an emptied box takes the line out of the file, unless it is needed", async () => {
  expect(textToWrite("  ")).toBeNull();
  let box = await show(field("purpose.accuracy"));
  await type(box, "");
  await press(box, "Enter");
  expect(written()[0].body.edits).toEqual([["purpose.accuracy", null]]);
  render(null, host);
  box = await show(field("purpose.rapid"));
  await type(box, "");
  await press(box, "Enter");
  expect(written()).toHaveLength(1);
  expect(host.querySelector("[role=alert]")!.textContent).toContain("needed");
});

test("a choice made by pointer is written at once, one made by arrow keys when it is left", async () => {
  const box = (await show(field("machine.layout"))) as unknown as HTMLSelectElement;
  const choose = async (value: string) => {
    await act(() => {
      box.value = value;
      box.dispatchEvent(new Event("change", { bubbles: true }));
    });
    await settle();
  };
  await press(box, "ArrowDown");
  await choose("fixed-gantry");
  expect(written()).toHaveLength(0);
  await act(() => void box.dispatchEvent(new Event("blur")));
  await settle();
  expect(written()[0].body.edits).toEqual([["machine.layout", "fixed-gantry"]]);
  await act(() => void box.dispatchEvent(new Event("pointerdown", { bubbles: true })));
  await choose("moving-gantry");
  expect(written()).toHaveLength(2);
});

test("what is wrong with the text in the file is told in its field", async () => {
  state.value = boardState({ problems: [{ place: "a.toml:14", line: 14, path: "purpose.rapid", message: "'8 parsecs' is no speed" }] });
  const box = await show(field("purpose.rapid", { text: "8 parsecs" }));
  expect(box.getAttribute("aria-invalid")).toBe("true");
  expect(host.querySelector("[role=alert]")!.textContent).toContain("'8 parsecs' is no speed");
  await type(box, "8 m/s");
  expect(box.getAttribute("aria-invalid")).toBeNull();
});

test("a silent field says what is taken in its place", async () => {
  const box = await show(field("axis.x.drive.main.bracket"));
  expect(box.value).toBe("");
  expect(box.placeholder).toBe("100 N/um");
  expect(host.textContent).toContain("takes 100 N/um");
  expect(host.textContent).toContain("default, common practice");
});

test("what may not be edited says why", async () => {
  await show(field("machine.name", { editable: false, why_not: "set by the program" }));
  expect(host.querySelector("input")).toBeNull();
  expect(host.textContent).toContain("set by the program");
});

test("a field that was asked for takes the focus", async () => {
  const box = await show(field("purpose.rapid"));
  await act(() => void (wantedField.value = "purpose.rapid"));
  await settle();
  expect(document.activeElement).toBe(box);
  expect(wantedField.value).toBe("");
});

test("a needed field that is cleared says so while it is typed", async () => {
  const box = await show(field("purpose.rapid", { needed: true, example: "6 m/min" }));
  await type(box, "");
  expect(host.textContent).toContain("is needed; write for example 6 m/min");
  expect(host.textContent).not.toContain("Enter writes");
  expect(calls).toEqual([]);
});

test("a text whose writing found no answer says that it is not written, while down and after", async () => {
  const box = await show(field("purpose.rapid"));
  await type(box, "10 m/min");
  vi.stubGlobal("fetch", async () => {
    throw new TypeError("no connection");
  });
  await press(box, "Enter");
  expect(online.value).toBe(false);
  expect(host.textContent).toContain("Not connected: kept here, not written yet");
  expect(host.textContent).not.toContain("Enter writes");
  await act(() => void (online.value = true));
  expect(host.textContent).toContain("Not written yet: Enter writes it");
  expect(box.value).toBe("10 m/min");
});

test("a name is chosen from what the machine has, by its words, or typed", async () => {
  const rows = [
    { name: "bed.left-side", title: "Bed, left side", numbers: [["kind", "bar"]], source: "of the machine" },
    { name: "bed.right-side", title: "Bed, right side", numbers: [["kind", "bar"]], source: "of the machine" },
  ];
  const answered = globalThis.fetch;
  const asked: string[] = [];
  vi.stubGlobal("fetch", async (url: string, init?: RequestInit) => {
    if (!url.startsWith("/api/choices")) return answered(url, init);
    asked.push(url);
    return new Response(JSON.stringify(rows));
  });
  HTMLDialogElement.prototype.showModal ??= function (this: HTMLDialogElement) {
    this.open = true;
  };
  const box = await show(field("purpose.rapid", { path: "axis.y.rail.left.on", kind: "name", text: "bed.left-side", label: "Sits on" }));
  expect(box.tagName).toBe("INPUT");
  await act(() => host.querySelector<HTMLButtonElement>(".box button")!.click());
  await settle();
  expect(new Set(asked)).toEqual(new Set(["/api/choices?path=axis.y.rail.left.on"]));
  expect(host.querySelector("dialog")!.textContent).toContain("Bed, right side");
  expect(host.querySelector("caption")!.textContent).toBe("2 of 2 names");
  await act(() => [...host.querySelectorAll<HTMLButtonElement>("dialog th button")].find((b) => b.textContent === "bed.right-side")!.click());
  await settle();
  expect(written().at(-1)!.body.edits).toEqual([["axis.y.rail.left.on", "bed.right-side"]]);
});

test("the other unit of an earlier value never stands below a later one", async () => {
  const box = await show(field("purpose.rapid"));
  await type(box, "7 m/min");
  await press(box, "Enter"); // written; the words of the new value were not fetched: the program went away
  expect(written()).toHaveLength(1);
  expect(box.value).toBe("7 m/min");
  expect(host.textContent).not.toContain("314.96");
  await show({ ...field("purpose.rapid"), text: "7 m/min", other: "275.59 in/min" });
  expect(host.textContent).toContain("275.59 in/min");
});
