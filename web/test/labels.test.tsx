/** Changes are named so that they are known again, and trouble names its place. */
import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { boardState, stateAfter } from "./board";
import { aboutOf, ApiError } from "../src/api";
import type { Found } from "../src/contract";
import { FindingList } from "../src/findings";
import { Group } from "../src/group";
import { attempt, wrong } from "../src/said";
import { state } from "../src/state";

let host: HTMLElement;
let sent: { url: string; body: unknown }[];

beforeEach(() => {
  state.value = boardState();
  sent = [];
  const group = { path: "axis.x.drive", title: "X drives", help: "", fields: [], groups: [], can_add: [{ words: "another drive like main", edits: [["a", "b"]] }], can_remove: false };
  vi.stubGlobal("fetch", async (url: string, init?: RequestInit) => {
    if (init?.body) sent.push({ url, body: JSON.parse(init.body as string) });
    return new Response(JSON.stringify(url.startsWith("/api/fields") ? group : stateAfter()), { status: 200 });
  });
  host = document.createElement("div");
  document.body.append(host);
});
afterEach(() => {
  render(null, host);
  host.remove();
  wrong.value = "";
});

test("a step that adds something names where", async () => {
  await act(() => render(<Group path="axis.x.drive" title="X drives" open />, host));
  await act(() => new Promise((done) => setTimeout(done, 5)));
  await act(() => [...host.querySelectorAll("button")].find((b) => b.textContent!.includes("another drive"))!.click());
  expect(sent[0].body).toMatchObject({ label: "X drives: add another drive like main" });
});

test("what is refused is told with its place, unless it stands beside it or says it already", async () => {
  const message = "lacks a drive: an axis needs at least one";
  const refused = new ApiError(message, 422, { problems: [{ path: "axis.x", message }] });
  expect(aboutOf(refused)).toBe(`axis.x: ${message}`);
  expect(aboutOf(refused, "axis.x")).toBe(message);
  const named = new ApiError(`axis.x ${message}`, 422, { problems: [{ path: "axis.x", message: `axis.x ${message}` }] });
  expect(aboutOf(named)).toBe(`axis.x ${message}`);
  expect(aboutOf(new ApiError("there is nothing to undo", 409, {}))).toBe("there is nothing to undo");
  await attempt("Removed X drive", () => Promise.reject(refused));
  expect(wrong.value).toBe(`axis.x: ${message}`);
});

test("a card tells its margin once", async () => {
  const found: Found = { ...boardState().findings[0], margin: "-26 %", sentence: "may not hold: teeth cut: chip 0.1 mm against 0.15 mm, margin -26 %, passes 40 %" };
  await act(() => render(<FindingList findings={[found]} />, host));
  expect(host.querySelector(".finding-open")!.textContent!.split("-26 %")).toHaveLength(2);
  expect(host.querySelector(".sentence")!.textContent).toBe("may not hold: teeth cut: chip 0.1 mm against 0.15 mm, passes 40 %");
});
