/** Two windows, two files: nothing typed for the one is ever written to the other. */
import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { edit, receive, replaceBy, undo } from "../src/api";
import { FieldRow } from "../src/field";
import { ChangedOver } from "../src/over";
import { changedOver, fileOf, scene, state } from "../src/state";
import { boardState, field, stateAfter } from "./board";

const OTHER = { name: "bench.toml", folder: "demo" };
const other = (rev = 9) => boardState({ file: OTHER, rev, answers_rev: rev, settled: { rev: null, state: "pending", words: "" } });

let sent: { url: string; file: string | undefined }[];
let answer: (url: string) => { status: number; told: unknown };
let host: HTMLElement;

beforeEach(() => {
  state.value = boardState();
  changedOver.value = null;
  sent = [];
  answer = () => ({ status: 200, told: stateAfter() });
  vi.stubGlobal("fetch", async (url: string, init: RequestInit) => {
    sent.push({ url, file: (init.headers as Record<string, string>)["x-machine-file"] });
    const { status, told } = answer(url);
    return new Response(JSON.stringify(told), { status });
  });
  host = document.createElement("div");
  document.body.append(host);
});
afterEach(() => {
  render(null, host);
  host.remove();
});

const settle = () => act(() => new Promise<void>((r) => setTimeout(r, 20)));
/** As the page does it: another file is another sheet. */
function Page() {
  const s = state.value!;
  return (
    <div key={fileOf(s)}>
      <ChangedOver />
      {s.file.name !== OTHER.name && <FieldRow field={field("purpose.accuracy")} group="Purpose" />}
    </div>
  );
}
const typed = async (text: string) => {
  await act(() => render(<Page />, host));
  const box = host.querySelector("input")!;
  await act(() => {
    box.value = text;
    box.dispatchEvent(new Event("input", { bubbles: true }));
  });
  await settle();
  sent = [];
  return box;
};

test("a change names the file that was shown when it was made, not the one that is shown when its turn comes", async () => {
  const file = encodeURIComponent(fileOf(state.value));
  const first = edit([["purpose.accuracy", "1 mm"]]);
  const second = undo();
  state.value = other();
  await Promise.all([first, second]);
  expect(sent).toEqual([
    { url: "/api/edit", file },
    { url: "/api/undo", file },
  ]);
});

test("a text that is being typed is set aside and shown where another window opens another file; nothing is sent", async () => {
  await typed("150 in/min");
  await act(() => receive(other()));
  await settle();
  expect(sent).toEqual([]);
  expect(host.textContent).toContain("Another window opened bench.toml");
  expect(host.querySelector("[aria-label='Typed and not written']")!.textContent).toMatch(/as-built\.toml.*Accuracy 150 in\/min/);
  expect(scene.value).toBeNull();
});

test("a refusal because another file is open changes the page over and keeps the text in view", async () => {
  const box = await typed("0.07 mm");
  answer = () => ({ status: 409, told: { detail: "this was meant for as-built.toml", state: other() } });
  await act(() => void box.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true })));
  await settle();
  await settle();
  expect(sent.map((s) => s.url)).toEqual(["/api/edit"]);
  expect(state.value!.file.name).toBe("bench.toml");
  expect(host.textContent).toContain("written nowhere");
  expect(host.textContent).toContain("0.07 mm");
});

test("an answer of the file before that comes late does not bring it back", () => {
  replaceBy(other(9));
  receive(stateAfter({ rev: 8 }));
  expect(state.value!.file.name).toBe("bench.toml");
});
