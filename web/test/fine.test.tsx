import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { boardState } from "./board";
import { picture } from "./pictures";
import { FineMap, fineGrid, type FineTold, fineWork } from "../src/fine";
import type { Grid } from "../src/contract";
import { state } from "../src/state";

// nested z, y, x: the order is the program's
const TOLD: FineTold = {
  axes: ["z", "y", "x"],
  places: [[0, 0.1], [0, 0.5], [0, 0.4, 0.8]],
  least: [[[1e6, 2e6, 3e6], [4e6, 5e6, 6e6]], [[0.5e6, 9e6, 9e6], [9e6, 0.25e6, null]]],
  over: [[[true, true, false], [true, true, true]], [[true, true, false], [true, false, true]]],
};
const COARSE = { axes: ["x", "y"], metres: 0.001, si: 1e6, unit: "N/um" } as Grid;

test("a fine map lies in the axes and units of the coarse one; nothing is told where there is no table", () => {
  const lowest = fineGrid(TOLD, COARSE, -1)!;
  expect([lowest.xs, lowest.ys]).toEqual([[0, 400, 800], [0, 500]]);
  expect(lowest.values).toEqual([[0.5, 2, null], [4, 5, 6]]);
  expect(lowest.worst).toMatchObject({ x: 0, y: 0, text: "softest 0.5 N/um, typical" });
  expect(fineGrid(TOLD, COARSE, 0)!.values).toEqual([[1, 2, null], [4, 5, 6]]);
  expect(fineGrid(TOLD, COARSE, 1)!.values).toEqual([[0.5, 9, null], [9, null, null]]);
  expect(fineGrid(TOLD, { ...COARSE, axes: ["x", "u"] }, -1)).toBeNull();
});

let host: HTMLElement;
let sent: string[];
beforeEach(() => {
  state.value = boardState({ jobs: [] });
  fineWork.asked.value = null;
  sent = [];
  vi.stubGlobal("ResizeObserver", class { observe() {} disconnect() {} });
  vi.stubGlobal("fetch", async (url: string, init: RequestInit) => {
    sent.push(`${init.method} ${url} ${init.body ?? ""}`.trim());
    const job = { id: 7, name: "finely", state: url.endsWith("/7") ? "done" : "running", fraction: 0, note: "", result: url.endsWith("/7") ? TOLD : null };
    return new Response(JSON.stringify(job));
  });
  host = document.createElement("div");
  document.body.append(host);
});
afterEach(() => {
  render(null, host);
  host.remove();
});

test("the fine map is asked for, followed as a job, and drawn as typical values", async () => {
  const settle = () => act(() => new Promise<void>((r) => setTimeout(r, 10)));
  const button = () => host.querySelector<HTMLButtonElement>(".fine-map > button")!;
  await act(() => render(<FineMap picture={picture("stiffness-map")} />, host));
  expect(host.querySelector("canvas")).toBeNull();
  await act(() => button().click());
  await settle();
  expect(sent).toEqual(['POST /api/jobs {"kind":"fine-map"}']);
  expect(button().disabled).toBe(true);
  const ended = { id: 7, name: "finely", state: "done" as const, fraction: 1, note: "" };
  await act(() => void (state.value = boardState({ jobs: [ended] })));
  await settle();
  expect(sent.at(-1)).toBe("GET /api/jobs/7");
  expect(host.textContent).toContain("Typical values, 3 by 2 places");
  expect([...host.querySelectorAll("option")].map((o) => o.textContent!.trim())).toEqual(["where it is softest", "Z 0 mm", "Z 100 mm"]);
  expect(host.querySelector(".ring-key")!.textContent).toContain("softest 0.5 N/um");
  expect(host.textContent).not.toContain("changed since");
  await act(() => void (state.value = boardState({ jobs: [ended], answers_rev: 99 })));
  expect(host.textContent).toContain("this map is of the one before");
});

test("long work is stopped where it was started", async () => {
  const settle = () => act(() => new Promise<void>((r) => setTimeout(r, 10)));
  await act(() => render(<FineMap picture={picture("stiffness-map")} />, host));
  await act(() => host.querySelector<HTMLButtonElement>(".fine-map > button")!.click());
  await settle();
  const job = { id: 7, name: "finely", state: "running" as const, fraction: 0.4, note: "40 of 100 places" };
  await act(() => void (state.value = boardState({ jobs: [job, { ...job, id: 8, name: "of another" }] })));
  const here = host.querySelector(".job-here")!;
  expect(here.querySelector("progress")!.value).toBe(0.4);
  expect(here.textContent).toContain("40 of 100 places");
  await act(() => here.querySelector("button")!.click());
  await settle();
  expect(sent.at(-1)).toBe("DELETE /api/jobs/7");
  await act(() => void (state.value = boardState({ jobs: [{ ...job, state: "cancelled" as const }] })));
  expect(host.querySelector(".job-here")).toBeNull();
});
