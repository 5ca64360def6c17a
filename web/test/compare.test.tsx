import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { boardState } from "./board";
import { Compare } from "../src/compare";
import type { Compared } from "../src/contract";
import { compareWith, state } from "../src/state";

let host: HTMLElement;
let answers: Record<string, { status: number; told: unknown }>;

beforeEach(() => {
  state.value = boardState({ keeps: [{ id: 3, name: "before" }] });
  answers = { "/api/history": { status: 200, told: { steps: [], kept: [{ id: 3, name: "before", note: "", when: "" }], backups: [] } } };
  vi.stubGlobal("fetch", async (url: string) => {
    const { status, told } = answers[decodeURIComponent(url)] ?? { status: 404, told: { detail: `there is no file ${url}` } };
    return new Response(JSON.stringify(told), { status });
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
const found = () => boardState().findings.find((f) => f.status === "watch")!;
const compared = (more: Partial<Compared> = {}): Compared => ({
  names: ["router.toml", "before"],
  words: "Typical values of both.",
  promises: [],
  findings: { only_a: [], only_b: [found()], both_judged: [{ ...found(), key: "x", a: "watch", b: "fail" }], both_moved: [] },
  cost: null,
  mass: null,
  pictures: [],
  ...more,
});
const against = async (text: string) => {
  const box = host.querySelector<HTMLInputElement>(".against input")!;
  await act(() => {
    box.value = text;
    box.dispatchEvent(new Event("input", { bubbles: true }));
  });
  await act(() => void host.querySelector(".against form")!.dispatchEvent(new Event("submit", { bubbles: true, cancelable: true })));
  await settle();
};

test("compared findings name their check and their part, and how their status turned", async () => {
  compareWith.value = "kept:3";
  answers["/api/compare?with=kept:3"] = { status: 200, told: compared() };
  await act(() => render(<Compare />, host));
  await settle();
  await settle();
  expect(host.textContent).toContain("Typical values of both.");
  const [only, both] = [...host.querySelectorAll(".differ")];
  expect(only.querySelector(".check-id")!.textContent).toBe(found().id);
  expect(only.querySelector(".where")!.textContent).toBe(found().subject);
  expect(only.querySelector(".was")).toBeNull();
  expect(both.querySelector(".was")!.textContent!.trim()).toBe("before: fail, now: watch");
});

test("what is judged otherwise and what only has another number stand under headings of their own", async () => {
  compareWith.value = "kept:3";
  const row = { ...found(), a: "watch", b: "watch" };
  const findings = {
    only_a: [],
    only_b: [],
    both_judged: [{ ...row, key: "judged", b: "fail" }],
    both_moved: [{ ...row, key: "moved", words: "before: 2 N against 1 N, now: 3 N against 1 N" }],
  };
  answers["/api/compare?with=kept:3"] = { status: 200, told: compared({ findings }) };
  await act(() => render(<Compare />, host));
  await settle();
  await settle();
  const told = [...host.querySelectorAll(".differ")].map((part) => [part.querySelector("h3")!.textContent, part.querySelector(".was")!.textContent!.trim()]);
  expect(told).toEqual([
    ["In both, judged otherwise", "before: fail, now: watch"],
    ["In both, with another number", "before: 2 N against 1 N, now: 3 N against 1 N"],
  ]);
});

test("a program that tells no statuses is shown without them", async () => {
  compareWith.value = "kept:3";
  const { a, b, ...bare } = compared().findings.both_judged[0];
  answers["/api/compare?with=kept:3"] = { status: 200, told: compared({ words: undefined, findings: { only_a: [], only_b: [], both_judged: [bare], both_moved: [] } }) };
  await act(() => render(<Compare />, host));
  await settle();
  await settle();
  expect([a, b]).toEqual(["watch", "fail"]);
  expect(host.querySelector(".differ .check-id")!.textContent).toBe(found().id);
  expect(host.querySelector(".was")).toBeNull();
});

test("a wrong path says why beside its box and does not stay as a choice", async () => {
  await act(() => render(<Compare />, host));
  await settle();
  await against("nothing.toml");
  expect(host.querySelector('[role="alert"]')!.textContent).toContain("there is no file");
  expect([...host.querySelectorAll("option")].map((o) => o.value)).toEqual(["", "kept:3"]);
  expect(compareWith.value).toBe("");
  answers["/api/compare?with=file:other.toml"] = { status: 200, told: compared() };
  await against("other.toml");
  await settle();
  expect(compareWith.value).toBe("file:other.toml");
  expect(host.querySelector('[role="alert"]')).toBeNull();
  expect(host.querySelector(".was")!.textContent!.trim()).toBe("there: fail, here: watch");
});

const promises = [
  { label: "X rapid", a: "5.45 m/min", b: "10.9 m/min", change: "-5.41 m/min (-50 %)", better: false },
  { label: "mass", a: "352 kg", b: "362 kg", change: "-10 kg (-3 %)", better: null },
];

test("better and worse are words of their own, and only where one of the two can be said", async () => {
  compareWith.value = "kept:3";
  answers["/api/compare?with=kept:3"] = { status: 200, told: compared({ promises }) };
  await act(() => render(<Compare />, host));
  await settle();
  await settle();
  const [rapid, mass] = [...host.querySelectorAll("td.change")];
  expect(rapid.querySelector("strong")!.textContent).toBe("worse");
  expect(rapid.className).toContain("change-worse");
  expect(rapid.textContent).toBe("-5.41\u00a0m/min (-50\u00a0%) worse");
  expect(mass.querySelector("strong")).toBeNull();
});

test("a table does not stand under the name of a file that is not there", async () => {
  answers["/api/compare?with=file:other.toml"] = { status: 200, told: compared({ promises }) };
  await act(() => render(<Compare />, host));
  await settle();
  await against("other.toml");
  await settle();
  expect(host.querySelector(".side-by-side")).not.toBeNull();
  await against("missing.toml");
  expect(host.querySelector(".side-by-side")).toBeNull();
  expect(compareWith.value).toBe("");
  expect(host.querySelector('[role="alert"]')!.textContent).toContain("there is no file");
});

test("a table goes with the file that it was about", async () => {
  compareWith.value = "file:other.toml";
  answers["/api/compare?with=file:other.toml"] = { status: 200, told: compared({ promises }) };
  await act(() => render(<Compare />, host));
  await settle();
  await settle();
  expect(host.querySelector(".side-by-side")).not.toBeNull();
  delete answers["/api/compare?with=file:other.toml"];
  await act(() => void (state.value = { ...state.value!, rev: state.value!.rev + 1, answers_rev: state.value!.answers_rev + 1 }));
  await settle();
  expect(host.querySelector(".side-by-side")).toBeNull();
  expect(host.textContent).toContain("there is no file");
});
