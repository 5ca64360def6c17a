import { expect, test, vi } from "vitest";
import { live, page } from "../src/live";
import { state } from "../src/state";
import { boardState } from "./board";

test("where no machine is open the state is not asked for; once one is, it is", async () => {
  const asked: string[] = [];
  let open = false;
  const streams: { onopen?: () => void; onmessage?: (m: { data: string }) => void }[] = [];
  vi.stubGlobal("EventSource", class { constructor() { streams.push(this as never); } });
  vi.stubGlobal("fetch", async (url: string) => {
    asked.push(url);
    const told: Record<string, unknown> = { "/api/start": { demos: [], recent: [], questions: [], folder: "", open }, "/api/state": boardState() };
    const found = url === "/api/state" && !open ? undefined : told[url];
    return new Response(JSON.stringify(found ?? { detail: "no" }), { status: found ? 200 : 404 });
  });
  const settle = () => new Promise((r) => setTimeout(r, 10));
  live();
  streams[0].onopen!();
  await settle();
  expect(page.value).toBe("start");
  expect(asked).not.toContain("/api/state");
  open = true;
  page.value = "loading";
  const s = boardState();
  streams[0].onmessage!({ data: JSON.stringify({ boot: s.boot, rev: 1, settled: s.settled, disk: "same", jobs: [] }) });
  await settle();
  expect(asked).toContain("/api/state");
  expect(page.value).toBe("board");
  expect(state.value!.rev).toBe(s.rev);
});
