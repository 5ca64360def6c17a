import { beforeEach, expect, test, vi } from "vitest";
import { ApiError } from "../src/api";
import { Typing } from "../src/typing";

let write: ReturnType<typeof vi.fn<(text: string) => Promise<unknown>>>;
let look: ReturnType<typeof vi.fn<(text: string) => void>>;
let lookAway: ReturnType<typeof vi.fn<() => void>>;
let box: Typing;

beforeEach(() => {
  write = vi.fn(async () => {});
  look = vi.fn();
  lookAway = vi.fn();
  box = new Typing("8 m/min", { write, look, lookAway });
});

test("typing only looks; nothing is written before Enter or leaving", () => {
  for (const text of ["1", "10", "10 m", "10 m/min"]) box.input(text);
  expect(look.mock.calls.map(([t]) => t)).toEqual(["1", "10", "10 m", "10 m/min"]);
  expect(write).not.toHaveBeenCalled();
});

test("Enter and then leaving make one change", async () => {
  box.input("10 m/min");
  const entered = box.commit();
  const left = box.commit();
  await Promise.all([entered, left]);
  await box.commit();
  expect(write.mock.calls).toEqual([["10 m/min"]]);
  expect(box.dirty.value).toBe(false);
  expect(lookAway).toHaveBeenCalled();
});

test("leaving a box in which nothing changed writes nothing", async () => {
  await box.commit();
  box.input("9");
  box.input("8 m/min");
  await box.commit();
  expect(write).not.toHaveBeenCalled();
  expect(lookAway).toHaveBeenCalledTimes(1);
});

test("a refusal keeps the text, says why, and is not sent again by leaving", async () => {
  write.mockRejectedValueOnce(new ApiError("8 parsecs is no speed", 422));
  box.input("8 parsecs");
  await box.commit();
  expect(box.text.value).toBe("8 parsecs");
  expect(box.trouble.value).toBe("8 parsecs is no speed");
  await box.commit();
  expect(write).toHaveBeenCalledTimes(1);
  box.input("8 m/s");
  expect(box.trouble.value).toBe("");
  await box.commit();
  expect(write.mock.calls.at(-1)).toEqual(["8 m/s"]);
});

test("where no answer came, the same text may be sent again", async () => {
  write.mockRejectedValueOnce(new ApiError("not answering", 0));
  box.input("9 m/min");
  await box.commit();
  expect([box.lost.value, box.trouble.value]).toEqual([true, ""]);
  await box.commit();
  expect(write).toHaveBeenCalledTimes(2);
  expect(box.lost.value).toBe(false);
  expect(box.dirty.value).toBe(false);
});

test("Escape gives the written text back", async () => {
  write.mockRejectedValueOnce(new ApiError("no", 422));
  box.input("nonsense");
  await box.commit();
  box.escape();
  expect(box.text.value).toBe("8 m/min");
  expect(box.trouble.value).toBe("");
  expect(box.dirty.value).toBe(false);
});

test("an answer to something else never overwrites what is being typed", () => {
  box.input("12 m");
  box.served("9 m/min");
  expect(box.text.value).toBe("12 m");
  box.escape();
  expect(box.text.value).toBe("9 m/min");
  box.served("11 m/min");
  expect(box.text.value).toBe("11 m/min");
});

test("what is typed while a change is under way stays in hand", async () => {
  let answer = () => {};
  write.mockImplementationOnce(() => new Promise<void>((r) => (answer = r)));
  box.input("10 m/min");
  const sent = box.commit();
  box.input("10.5 m/min");
  answer();
  await sent;
  expect(box.text.value).toBe("10.5 m/min");
  expect(box.dirty.value).toBe(true);
  await box.commit();
  expect(write.mock.calls).toEqual([["10 m/min"], ["10.5 m/min"]]);
});

test("Enter sends a refused text again, since what stood in its way may be gone; leaving does not", async () => {
  const write = vi.fn().mockRejectedValueOnce(new Error("the file is gone")).mockResolvedValue(null);
  const typing = new Typing("1 mm", { write, look: () => {}, lookAway: () => {} });
  typing.input("2 mm");
  await typing.commit(true);
  expect(typing.trouble.value).toBe("the file is gone");
  await typing.commit();
  expect(write).toHaveBeenCalledTimes(1);
  await typing.commit(true);
  expect(write).toHaveBeenCalledTimes(2);
  expect([typing.trouble.value, typing.dirty.value]).toEqual(["", false]);
});
