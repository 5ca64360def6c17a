/** What was added is led to. */
import { render } from "preact";
import { act } from "preact/test-utils";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import type { FieldGroup } from "../src/contract";
import { Groups, leadOf } from "../src/group";
import { state, wantedField } from "../src/state";
import { boardState, stateAfter } from "./board";

const STAGES = [{ id: "frame", title: "Frame", words: "", count: { fail: 0, watch: 0, unknown: 0 }, groups: [{ path: "bed", title: "Bed" }, { path: "gantry", title: "Gantry" }] }];
const bar = ["bed.member.new-bar.from", "bed.member.new-bar.to", "bed.member.new-bar.section"];
let host: HTMLElement;
let added: boolean;

const group = (path: string, more: Partial<FieldGroup>): FieldGroup => ({ path, title: path, help: "", fields: [], groups: [], can_add: [], can_remove: false, ...more });
const field = (path: string) => ({ path, label: path, help: "", kind: "text", text: "x", effective: "x", other: "", band: "", origin: "", low: "", high: "", example: "", needed: true, editable: true, why_not: "", choices: [] });

beforeEach(() => {
  added = false;
  state.value = boardState({ stages: STAGES } as never);
  Element.prototype.scrollIntoView = vi.fn();
  vi.stubGlobal("fetch", async (url: string, init?: RequestInit) => {
    const asked = decodeURIComponent(url.split("path=")[1] ?? "");
    if (init?.body) added = true;
    const groups: Record<string, FieldGroup> = {
      bed: group("bed", { groups: added ? ["bed.member.new-bar"] : [] }),
      gantry: group("gantry", { can_add: [{ words: "a bar", edits: bar.map((p) => [p, "1"]) }] }),
      "bed.member.new-bar": group("bed.member.new-bar", { fields: bar.map(field) as never }),
    };
    return new Response(JSON.stringify(init?.body ? stateAfter({ stages: STAGES } as never) : groups[asked]), { status: 200 });
  });
  host = document.createElement("div");
  document.body.append(host);
});
afterEach(() => {
  render(null, host);
  host.remove();
  wantedField.value = "";
});
const settle = () => act(() => new Promise<void>((r) => setTimeout(r, 15)));

test("an addition opens where it stands, with the hand in its first field", async () => {
  await act(() => render(<Groups groups={STAGES[0].groups} />, host));
  await settle();
  await act(() => host.querySelectorAll("summary")[1].click()); // the table that adds
  host.querySelectorAll("details")[1].open = true;
  await act(() => void host.querySelectorAll("details")[1].dispatchEvent(new Event("toggle")));
  await settle();
  await act(() => [...host.querySelectorAll("button")].find((b) => b.textContent!.includes("a bar"))!.click());
  await settle();
  await settle();
  await settle();
  expect(document.activeElement).toBe(host.querySelector(`[data-path='${bar[0]}'] input`));
  expect(Element.prototype.scrollIntoView).toHaveBeenCalled();
  expect(wantedField.value).toBe("");
});

test("where an addition writes in several places, the one that is new is led to", () => {
  expect(leadOf([["part.own-nut.kind", "nut"], ["part.own-nut.title", "A nut"], ["axis.x.drive.main.nut", "own-nut"]])).toBe("part.own-nut.kind");
  expect(leadOf([["axis.z.drive.main.offset.x", "-40 mm"], ["axis.z.drive.new-drive.mirror", "main"]])).toBe("axis.z.drive.new-drive.mirror");
  expect(leadOf([["axis.z.rail", null], ["axis.z.slide.part", "x"]])).toBe("axis.z.slide.part");
});
