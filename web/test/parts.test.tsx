import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import type { Field, PartChoice } from "../src/contract";
import { PartTable } from "../src/parts";
import { state } from "../src/state";
import { boardState } from "./board";

let host: HTMLElement;
let rows: PartChoice[];
const field = { path: "axis.x.drive.main.motor", label: "Motor", kind: "part", text: "stepper-17-40" } as Field;

beforeEach(() => {
  state.value = boardState();
  rows = [
    { name: "stepper-17-40", title: "Stepper NEMA 17", numbers: [["holding", "0.4 N m"]], source: "a table" },
    { name: "servo-60-400", title: "Servo 400 W", numbers: [["rated torque", "1.27 N m"]], source: "a table" },
  ];
  vi.stubGlobal("fetch", async () => new Response(JSON.stringify(rows), { status: 200 }));
  HTMLDialogElement.prototype.showModal ??= () => {};
  host = document.createElement("div");
  document.body.append(host);
});
afterEach(() => {
  render(null, host);
  host.remove();
});

async function shown() {
  await act(() => render(<PartTable field={field} onTake={() => {}} onClose={() => {}} />, host));
  await act(() => new Promise<void>((r) => setTimeout(r, 10)));
}
const heads = () => [...host.querySelectorAll("thead th")].map((th) => th.textContent!.trim());

test("a source that all rows share is told once, and takes no column", async () => {
  await shown();
  expect(heads()).toEqual(["row", "holding", "rated torque"]);
  expect(host.querySelector("caption")!.textContent).toContain("2 of 2 rows; source of all: a table");
});

test("sources that differ stand with their rows", async () => {
  rows[1].source = "another table";
  await shown();
  expect(heads()).toEqual(["row", "holding", "rated torque", "source"]);
  expect(host.querySelector("caption")!.textContent).not.toContain("source");
  expect([...host.querySelectorAll("td.words")].map((td) => td.textContent!.trim())).toEqual(["a table", "another table"]);
});

test("each number carries the name of its column, for where the columns are folded into lines", async () => {
  await shown();
  expect([...host.querySelectorAll("tbody tr:first-child td")].map((td) => [td.getAttribute("data-label"), td.textContent])).toEqual([
    ["holding", "0.4 N m"],
    ["rated torque", ""],
  ]);
});
