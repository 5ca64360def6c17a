/** Talking to the board program: one request, changes in their order, sliders by their newest value. */
import { batch } from "@preact/signals";
import type { Edit, Preview, Start, State } from "./contract";
import { changedOver, chosen, closeOpened, compareWith, fileOf, motion, online, pose, sameFile, scene, state } from "./state";

export * from "./contract";

/** The program refused, in its own words, or did not answer. */
export class ApiError extends Error {
  constructor(
    message: string,
    readonly status: number,
    readonly body: unknown = null,
  ) {
    super(message);
    this.name = "ApiError";
  }
}

/**
 * True where `next` may be shown in place of `now`: another process, a later revision (they go on from file to file), or the
 * same revision with answers that are settled no less. So an answer that comes late never hides a newer one.
 */
export function isNewer(now: State | null, next: State): boolean {
  if (!now || next.boot !== now.boot || next.rev > now.rev) return true;
  return next.rev === now.rev && (next.settled.rev ?? -1) >= (now.settled.rev ?? -1);
}

/**
 * Take an answer for the truth, unless a later one is already shown. Where another window opened another file this one shows it
 * too, says so, and keeps in view what was typed for the one before.
 */
export function receive(next: State): void {
  const was = state.value;
  if (!isNewer(was, next)) return;
  if (!was || sameFile(was, next)) return void (state.value = next);
  const unwritten = changedOver.value?.unwritten ?? [];
  batch(() => {
    replaceBy(next);
    changedOver.value = { from: was.file, unwritten };
  });
}

/** Another machine was opened: whatever was shown of the one before is over, whatever its revision. */
export function replaceBy(next: State): void {
  batch(() => {
    changedOver.value = null;
    state.value = next;
    scene.value = null;
    chosen.value = "";
    pose.value = {};
    motion.value = "";
    compareWith.value = "";
    closeOpened();
  });
}

/** Asked for the machine that is open, whichever it is; everything else names its file, and is refused where another one is open. */
const FOR_ANY = ["/api/state", "/api/start", "/api/open", "/api/new"];

/** What is refused in words comes as an answer with its code in it: a browser would log any other as a fault. */
const IN_WORDS: Record<string, string> = { "x-refusals": "answered" };
const refusedWith = (told: unknown): number | undefined => (told as { refused_with?: number } | null)?.refused_with;

const SILENT = "The drawing board program is not answering. What you typed is kept.";

/**
 * One request; the answer's JSON.
 *
 * @param file The machine file that it is meant for; the one that is shown where none is given.
 */
export async function request<T>(method: string, url: string, body?: unknown, abort?: AbortSignal, file = fileOf(state.value)): Promise<T> {
  let answer: Response;
  const named: Record<string, string> = file && !FOR_ANY.includes(url) ? { "x-machine-file": encodeURIComponent(file), ...IN_WORDS } : IN_WORDS;
  try {
    answer = await fetch(url, {
      method,
      headers: body === undefined ? named : { ...named, "content-type": "application/json" },
      body: body === undefined ? undefined : JSON.stringify(body),
      signal: abort,
    });
  } catch (trouble) {
    if (abort?.aborted) throw trouble;
    online.value = false;
    throw new ApiError(SILENT, 0);
  }
  online.value = true;
  const told: unknown = await answer.json().catch(() => null);
  const status = refusedWith(told) ?? (answer.ok ? 0 : answer.status);
  if (status === 0) return told as T;
  const there = status === 409 ? (told as { state?: State } | null)?.state : undefined;
  if (there) receive(there);
  throw new ApiError(sentence(told, status), status, told);
}

/** What went wrong, with the place that it speaks of where that is not the one it stands beside. */
export function aboutOf(trouble: Error, beside = ""): string {
  const told = trouble instanceof ApiError ? (trouble.body as { problems?: { path?: string; message?: string }[] } | null)?.problems?.[0] : undefined;
  const named = told?.path && told.message === trouble.message && told.path !== beside && !trouble.message.includes(told.path);
  return named ? `${told.path}: ${trouble.message}` : trouble.message;
}

export const get = <T>(url: string, abort?: AbortSignal): Promise<T> => request<T>("GET", url, undefined, abort);

/** The program's sentence; lists of field troubles, as a web framework sends them, are joined. */
function sentence(told: unknown, status: number): string {
  const detail = (told as { detail?: unknown } | null)?.detail;
  if (typeof detail === "string") return detail;
  if (Array.isArray(detail)) return detail.map((d: { msg?: string }) => d.msg ?? String(d)).join("; ");
  return `The program refused this (${status}) and gave no reason.`;
}

let tail: Promise<unknown> = Promise.resolve();
let waiting = 0;

/** A change is under way: its own answer brings the new state. */
export const changing = (): boolean => waiting > 0;

/** When the changes that are under way have their answers. */
export const settledChanges = (): Promise<unknown> => tail;

/** One after another: two changes sent at once could arrive in the other order. */
export function inOrder<T>(act: () => Promise<T>): Promise<T> {
  waiting++;
  const mine = tail.then(act).finally(() => waiting--);
  tail = mine.catch(() => {});
  return mine;
}

/** A change of the machine that is shown now: waits for the changes before it, and takes the new state in. */
export function change(url: string, body?: unknown | (() => unknown), take = receive, file = fileOf(state.value)): Promise<State> {
  return inOrder(async () => {
    const next = await request<State>("POST", url, typeof body === "function" ? (body as () => unknown)() : (body ?? {}), undefined, file);
    take(next);
    return next;
  });
}

/** Write edits into the machine file as one undoable step. The revision is read when its turn comes, not when it was typed. */
export function edit(edits: Edit[], label?: string, file = fileOf(state.value)): Promise<State> {
  return change("/api/edit", () => ({ edits, label, rev: state.value?.rev ?? 0 }), receive, file);
}

/** What edits would give; changes nothing. */
export function preview(edits: Edit[], abort?: AbortSignal): Promise<Preview> {
  return request<Preview>("POST", "/api/preview", { edits }, abort);
}

export const undo = (): Promise<State> => change("/api/undo");
export const redo = (): Promise<State> => change("/api/redo");
export const keep = (name: string, note: string): Promise<State> => change("/api/keep", { name, note });
/** Tell changes against a kept state; 0 for the machine as it was opened. */
export const tellAgainst = (id: number): Promise<State> => change("/api/against", { id });
export const rename = (id: number, name: string): Promise<State> => change("/api/rename", { id, name });
export const forget = (id: number): Promise<State> => change("/api/forget", { id });
export const restore = (id: number | string): Promise<State> => change("/api/restore", { id });
/** `whole` is the last text that made a machine. */
export const decideOutside = (choose: "theirs" | "mine" | "whole"): Promise<State> => change("/api/outside", { choose });
export const open = (what: { path: string } | { demo: string }): Promise<State> => change("/api/open", what, replaceBy);
export const makeNew = (answers: Record<string, string>, folder: string): Promise<State> =>
  change("/api/new", { answers, folder }, replaceBy);
export const fetchStart = (): Promise<Start> => get<Start>("/api/start");

/**
 * For typing, sliders and drags: at most one request under way, and of the values that wait only the newest is sent.
 * A refused value does not stop the one that waits behind it; what went wrong with the last one is thrown.
 */
export function newestOnly<T>(send: (value: T) => Promise<unknown>): (value: T) => Promise<void> {
  let busy = false;
  let next: { value: T } | null = null;
  return async (value: T) => {
    next = { value };
    if (busy) return;
    busy = true;
    try {
      while (next) {
        const now: { value: T } = next;
        next = null;
        try {
          await send(now.value);
        } catch (trouble) {
          if (!next) throw trouble;
        }
      }
    } finally {
      busy = false;
    }
  };
}
