/** Kept states: told against, forgotten. */
import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { boardState } from "./board";
import { HistoryWindow } from "../src/history";
import { Promises } from "../src/promises";
import { said } from "../src/said";
import { compareWith, state } from "../src/state";

const KEEPS = [
  { id: 4, name: "thicker" },
  { id: 2, name: "thin" },
];
let host: HTMLElement;
let sent: { url: string; body: unknown }[];
let answers: Record<string, unknown>;

beforeEach(() => {
  state.value = boardState({ keeps: KEEPS, kept: KEEPS[0] });
  sent = [];
  answers = { "/api/history": { steps: [], kept: KEEPS.map((k) => ({ ...k, note: "", when: "" })), backups: [] } };
  vi.stubGlobal("fetch", async (url: string, init: RequestInit) => {
    if (init.body) sent.push({ url, body: JSON.parse(String(init.body)) });
    return new Response(JSON.stringify(answers[url]), { status: 200 });
  });
  host = document.createElement("div");
  document.body.append(host);
});
afterEach(() => {
  render(null, host);
  host.remove();
  compareWith.value = "";
});

const settle = () => act(() => new Promise<void>((r) => setTimeout(r, 10)));
const against = () => host.querySelector<HTMLSelectElement>(".promises-against select");
const button = (words: string) => [...host.querySelectorAll("button")].find((b) => b.textContent!.trim() === words)!;

test("what changes are told against is chosen among the kept states and the machine as it was opened", async () => {
  await act(() => render(<Promises />, host));
  expect([...against()!.options].map((o) => [o.value, o.text])).toEqual([["4", "thicker"], ["2", "thin"], ["0", "it was opened"]]);
  expect(against()!.value).toBe("4");
  answers["/api/against"] = boardState({ keeps: KEEPS, kept: null });
  await act(() => {
    against()!.value = "0";
    against()!.dispatchEvent(new Event("change", { bubbles: true }));
  });
  await settle();
  expect(sent).toEqual([{ url: "/api/against", body: { id: 0 } }]);
  expect(against()!.value).toBe("0");
  await act(() => void (state.value = boardState({ keeps: [], kept: null })));
  expect(against()).toBeNull();
});

test("a kept state is forgotten only after it was asked, and is compared with no more", async () => {
  compareWith.value = "kept:2";
  await act(() => render(<HistoryWindow onClose={() => {}} />, host));
  await settle();
  expect(host.querySelector(".kept")!.textContent).toContain("changes are told against it");
  await act(() => button("Forget thin").click());
  expect(host.querySelector("dialog dialog h2")!.textContent).toBe("Forget “thin”?");
  await act(() => button("Keep it").click());
  expect([host.querySelector("dialog dialog"), sent]).toEqual([null, []]);
  await act(() => button("Forget thin").click());
  answers["/api/forget"] = boardState({ keeps: KEEPS.slice(0, 1), kept: KEEPS[0] });
  answers["/api/history"] = { steps: [], kept: [{ ...KEEPS[0], note: "", when: "" }], backups: [] };
  expect(compareWith.value).toBe("kept:2");
  await act(() => button("Forget it").click());
  await settle();
  expect(sent).toEqual([{ url: "/api/forget", body: { id: 2 } }]);
  expect([compareWith.value, host.querySelector("dialog dialog")]).toEqual(["", null]);
  await settle();
  expect([...host.querySelectorAll(".kept strong")].map((k) => k.textContent)).toEqual(["thicker"]);
});

test("a kept state gets another name in its place; Escape leaves the one that it has", async () => {
  await act(() => render(<HistoryWindow onClose={() => {}} />, host));
  await settle();
  await act(() => button("Rename thin").click());
  const box = () => host.querySelector<HTMLInputElement>("form.rename input");
  expect(box()!.value).toBe("thin");
  await act(() => void box()!.dispatchEvent(new KeyboardEvent("keydown", { key: "Escape", bubbles: true })));
  expect([box(), sent]).toEqual([null, []]);
  await act(() => button("Rename thin").click());
  await act(() => {
    box()!.value = "thicker";
    box()!.dispatchEvent(new Event("input", { bubbles: true }));
  });
  const renamed = [KEEPS[0], { id: 2, name: "thicker (2)" }];
  answers["/api/rename"] = boardState({ keeps: renamed, kept: KEEPS[0] });
  answers["/api/history"] = { steps: [], kept: renamed.map((k) => ({ ...k, note: "", when: "" })), backups: [] };
  await act(() => void box()!.form!.dispatchEvent(new Event("submit", { bubbles: true, cancelable: true })));
  await settle();
  await settle();
  expect(sent).toEqual([{ url: "/api/rename", body: { id: 2, name: "thicker" } }]);
  expect(box()).toBeNull();
  expect(said.value).toContain("“thin” is “thicker (2)” now");
  expect([...host.querySelectorAll(".kept strong")].map((k) => k.textContent)).toEqual(["thicker", "thicker (2)"]);
});

test("what was kept is told by the name that it got", async () => {
  await act(() => render(<HistoryWindow onClose={() => {}} />, host));
  await settle();
  const box = host.querySelector<HTMLInputElement>("form.keep input")!;
  await act(() => {
    box.value = "thin";
    box.dispatchEvent(new Event("input", { bubbles: true }));
  });
  answers["/api/keep"] = boardState({ keeps: [{ id: 5, name: "thin (2)" }, ...KEEPS], kept: { id: 5, name: "thin (2)" } });
  await act(() => void box.form!.dispatchEvent(new Event("submit", { bubbles: true, cancelable: true })));
  await settle();
  expect(said.value).toContain("Kept as “thin (2)”");
});
