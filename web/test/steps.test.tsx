/** The states beside a step of the history: looked at, or brought back. */
import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { boardState, stateAfter } from "./board";
import { Compare } from "../src/compare";
import { HistoryWindow } from "../src/history";
import { compareWith, state } from "../src/state";

let host: HTMLElement;
let asked: string[];
let sent: { url: string; body: unknown }[];
const steps = [{ id: 7, label: "X drive: Part ball-screw-2020", when: "2026-11-25 20:00", undone: false }];

beforeEach(() => {
  state.value = boardState();
  asked = [];
  sent = [];
  vi.stubGlobal("fetch", async (url: string, init?: RequestInit) => {
    asked.push(decodeURIComponent(url));
    if (init?.body) sent.push({ url, body: JSON.parse(String(init.body)) });
    if (url.startsWith("/api/compare")) return new Response(JSON.stringify({ detail: "later" }), { status: 404 });
    return new Response(JSON.stringify(url === "/api/history" ? { steps, kept: [], backups: [] } : stateAfter()), { status: 200 });
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
const press = (words: string) => act(() => [...host.querySelectorAll<HTMLButtonElement>(".steps button")].find((b) => b.textContent!.startsWith(words))!.click());

test("the state before a step is looked at beside the machine of now", async () => {
  let closed = false;
  await act(() => render(<HistoryWindow onClose={() => (closed = true)} />, host));
  await settle();
  await press("Compare with before it");
  expect([compareWith.value, closed]).toEqual(["before:7", true]);
  await act(() => render(<Compare />, host));
  await settle();
  expect(asked).toContain("/api/compare?with=before:7");
  expect(host.querySelector<HTMLSelectElement>(".against select")!.selectedOptions[0].text).toBe("before: X drive: Part ball-screw-2020");
});

test("the state beside a step is brought back as one more step", async () => {
  await act(() => render(<HistoryWindow onClose={() => {}} />, host));
  await settle();
  await press("Bring back before it");
  await settle();
  await press("Bring back after it");
  await settle();
  expect(sent).toEqual([{ url: "/api/restore", body: { id: "before:7" } }, { url: "/api/restore", body: { id: "step:7" } }]);
});
