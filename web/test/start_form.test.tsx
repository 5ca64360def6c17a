import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { page } from "../src/live";
import { wrong } from "../src/said";
import { Start } from "../src/start";
import { state } from "../src/state";
import { boardState } from "./board";

const QUESTIONS = [
  { key: "layout", label: "Layout", kind: "choice", choices: ["moving-gantry", "fixed-gantry"], default: "moving-gantry", help: "What moves." },
  { key: "work_area", label: "Work area", kind: "text", choices: [], default: "600 x 900 x 100 mm", help: "What the tip must reach." },
];
let host: HTMLElement;
let answer: { status: number; body: unknown };

beforeEach(async () => {
  state.value = null;
  page.value = "start";
  vi.stubGlobal("fetch", async (url: string) => {
    const told = url === "/api/start" ? { status: 200, body: { demos: [], recent: [], questions: QUESTIONS, folder: "/shop", open: false } } : answer;
    return new Response(JSON.stringify(told.body), { status: told.status });
  });
  host = document.createElement("div");
  document.body.append(host);
  await act(() => render(h(), host));
  await settle();
});
afterEach(() => {
  render(null, host);
  host.remove();
  wrong.value = "";
});

const h = () => <Start />;
const settle = () => act(() => new Promise<void>((r) => setTimeout(r, 5)));
const box = (id: string) => host.querySelector<HTMLInputElement>(`#${id}`)!;
async function send(status: number, body: unknown) {
  answer = { status, body };
  await act(() => void host.querySelector("form.questions")!.dispatchEvent(new Event("submit", { bubbles: true, cancelable: true })));
  await settle();
}

test("an answer that is refused is told beside its field, which has the focus, until it is changed", async () => {
  await send(422, { detail: "y is 40 in. Write at most 36 in for y.", field: "work_area" });
  expect(host.querySelector("#ask-work_area-help [role=alert]")!.textContent).toContain("at most 36 in");
  expect(box("ask-work_area").getAttribute("aria-invalid")).toBe("true");
  expect(document.activeElement).toBe(box("ask-work_area"));
  expect(host.querySelectorAll("[role=alert]").length).toBe(1);
  expect(wrong.value).toBe("");
  box("ask-work_area").value = "24 x 36 x 4 in";
  await act(() => void box("ask-work_area").dispatchEvent(new Event("input", { bubbles: true })));
  expect(host.querySelector("[role=alert]")).toBeNull();
});

test("a folder that is taken is told beside the folder, anything else beside the button", async () => {
  await send(422, { detail: "machine.toml is there already", field: "folder" });
  expect(host.querySelector("#new-folder-help [role=alert]")!.textContent).toContain("there already");
  await send(507, { detail: "the disk is full" });
  expect(host.querySelector("form.questions > [role=alert]")!.textContent).toContain("the disk is full");
});

test("a machine that is made is shown", async () => {
  await send(200, boardState());
  expect(page.value).toBe("board");
  expect(wrong.value).toBe("");
});
