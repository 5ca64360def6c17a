import { beforeEach, expect, test, vi } from "vitest";
import { ApiError, change, edit, isNewer, newestOnly, receive, request, type State } from "../src/api";
import { online, state } from "../src/state";
import { boardState } from "./board";

const made = (rev: number, more: Partial<State> = {}): State => boardState({ rev, answers_rev: rev, settled: { rev: null, state: "pending", words: "" }, ...more });

/** Requests that wait until a test answers them. */
function heldFetch() {
  const calls: { url: string; body: unknown; answer: (status: number, told: unknown) => void; fail: () => void }[] = [];
  vi.stubGlobal("fetch", (url: string, init: RequestInit) => {
    return new Promise<Response>((resolve, reject) => {
      calls.push({
        url,
        body: init.body ? JSON.parse(init.body as string) : undefined,
        answer: (status, told) => resolve(new Response(JSON.stringify(told), { status })),
        fail: () => reject(new TypeError("no connection")),
      });
    });
  });
  return calls;
}

const settle = () => new Promise((r) => setTimeout(r));

beforeEach(() => {
  state.value = null;
  online.value = true;
});

test("changes go out one after another, in the order in which they were made", async () => {
  const calls = heldFetch();
  const first = change("/api/edit", { n: 1 });
  const second = change("/api/edit", { n: 2 });
  await settle();
  expect(calls.map((c) => c.body)).toEqual([{ n: 1 }]);
  calls[0].answer(200, made(1));
  await first;
  await settle();
  expect(calls.map((c) => c.body)).toEqual([{ n: 1 }, { n: 2 }]);
  calls[1].answer(200, made(2));
  await second;
  expect(state.value!.rev).toBe(2);
});

test("a refused change does not stop the one behind it, and says the program's own sentence", async () => {
  const calls = heldFetch();
  const first = change("/api/edit", { n: 1 });
  const second = change("/api/edit", { n: 2 });
  await settle();
  calls[0].answer(422, { detail: "rapid: 3 parsecs is no speed" });
  await expect(first).rejects.toThrow("rapid: 3 parsecs is no speed");
  await settle();
  calls[1].answer(200, made(5));
  expect((await second).rev).toBe(5);
});

test("a refusal that comes as an answer is a refusal with its code, and brings the state that it tells", async () => {
  state.value = made(1);
  const calls = heldFetch();
  const refused = request("POST", "/api/edit", {});
  calls[0].answer(200, { detail: "the value has moved", state: made(4), refused_with: 409 });
  await expect(refused).rejects.toMatchObject({ message: "the value has moved", status: 409 });
  expect(state.value!.rev).toBe(4);
  const taken = request("GET", "/api/jobs/1");
  calls[1].answer(200, { result: { refused: [] } });
  await expect(taken).resolves.toEqual({ result: { refused: [] } });
});

test("an edit carries the revision of the moment it is sent", async () => {
  state.value = made(1);
  const calls = heldFetch();
  const first = edit([["a", "1"]], "one");
  const second = edit([["b", null]], "two");
  await settle();
  calls[0].answer(200, made(2));
  await first;
  await settle();
  expect(calls.map((c) => c.body)).toEqual([
    { edits: [["a", "1"]], label: "one", rev: 1 },
    { edits: [["b", null]], label: "two", rev: 2 },
  ]);
  calls[1].answer(200, made(3));
  await second;
});

test("a conflict shows the state of the program", async () => {
  state.value = made(1);
  const calls = heldFetch();
  const mine = change("/api/edit", {});
  await settle();
  calls[0].answer(409, { detail: "this was changed meanwhile", state: made(7) });
  await expect(mine).rejects.toThrow("changed meanwhile");
  expect(state.value!.rev).toBe(7);
});

test("a late answer never hides a newer one; a new process always counts, another file by its revision", () => {
  receive(made(4));
  receive(made(3));
  expect(state.value!.rev).toBe(4);
  receive(made(0, { boot: "another" }));
  expect(state.value!.rev).toBe(0);
  const other = (rev: number) => made(rev, { file: { name: "other.toml", folder: "/" } });
  expect(isNewer(made(9), other(10))).toBe(true); // revisions go on from file to file
  expect(isNewer(made(9), other(8))).toBe(false);
});

test("at one revision, answers with a spread are not taken back by answers without", () => {
  const quick = made(4);
  const whole = made(4, { settled: { rev: 4, state: "done", words: "" } });
  expect(isNewer(quick, whole)).toBe(true);
  expect(isNewer(whole, quick)).toBe(false);
});

test("a program that does not answer is told as such, and the page knows", async () => {
  const calls = heldFetch();
  const asked = request("GET", "/api/state");
  calls[0].fail();
  await expect(asked).rejects.toMatchObject({ status: 0 });
  expect(online.value).toBe(false);
  const again = request("GET", "/api/state");
  calls[1].answer(200, {});
  await again;
  expect(online.value).toBe(true);
});

test("a refusal without a sentence still says something", async () => {
  vi.stubGlobal("fetch", async () => new Response("<html>", { status: 500 }));
  await expect(request("GET", "/x")).rejects.toThrow(ApiError);
  await expect(request("GET", "/x")).rejects.toThrow("500");
});

test("of the values that wait only the newest is sent", async () => {
  const sent: number[] = [];
  const gates: (() => void)[] = [];
  const send = newestOnly((n: number) => {
    sent.push(n);
    return new Promise<void>((r) => gates.push(r));
  });
  const done = send(1);
  void send(2);
  void send(3);
  void send(4);
  expect(sent).toEqual([1]);
  gates[0]();
  await settle();
  expect(sent).toEqual([1, 4]);
  gates[1]();
  await done;
});

test("a value that fails does not hold up the one that waits", async () => {
  const sent: number[] = [];
  let fail = () => {};
  const send = newestOnly((n: number) => {
    sent.push(n);
    return n === 1 ? new Promise<void>((_, no) => (fail = () => no(new Error("no")))) : Promise.resolve();
  });
  const done = send(1);
  void send(2);
  fail();
  await done;
  expect(sent).toEqual([1, 2]);
  const alone = newestOnly(() => Promise.reject(new Error("last")));
  await expect(alone(1)).rejects.toThrow("last");
});
