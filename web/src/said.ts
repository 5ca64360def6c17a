/** The line that says what happened, and what the last change moved. Texts are compared, no number is computed. */
import { computed, effect, signal } from "@preact/signals";
import { aboutOf, type ApiError } from "./api";
import type { Promised, State } from "./contract";
import { sameFile, state } from "./state";

/** The last thing that happened, for the eye and for a screen reader. */
export const said = signal("");
/** The last thing that went wrong outside of a field; "" once closed. */
export const wrong = signal("");

/** What the line says of a change, as long as nothing else has been said since. */
const told = signal<{ label: string; boot: string; rev: number; text: string } | null>(null);

/** What the program says of the last change besides its numbers. It says so once, with the answer to the change; here it stays. */
export const notes = signal<string[]>([]);

/** Answers as they stood before the last change, and the revision that it brought. */
const before = signal<{ label: string; rev: number; state: State } | null>(null);

/** Each new revision is a change, whoever made it: here, in another window, or another program. Another file begins anew. */
let seen: State | null = null;
effect(() => {
  const now = state.value;
  const was = seen;
  seen = now;
  const same = was !== null && now !== null && was.boot === now.boot && was.rev === now.rev && sameFile(was, now);
  if (now?.told?.length || !same) notes.value = now?.told ?? [];
  if (!now || !was || was.boot !== now.boot) return void (before.value = null);
  if (!sameFile(was, now)) {
    before.value = told.value = null;
    said.value = "";
  } else if (was.rev !== now.rev) before.value = { label: now.made ?? "", rev: now.rev, state: was };
});

export interface Moved {
  label: string;
  /** The step that undo takes back is this change. */
  last: boolean;
  rows: { key: string; label: string; was: string; now: string }[];
  verdict: { was: string; now: string } | null;
}

export const keyOf = (p: Promised): string => `${p.subject}/${p.what}`;

/** What the last change moved; null before the first one. */
export const moved = computed<Moved | null>(() => {
  const was = before.value;
  const now = state.value;
  if (!was || !now) return null;
  const old = new Map(was.state.promises.map((p) => [keyOf(p), p.text]));
  const rows = now.promises
    .filter((p) => old.has(keyOf(p)) && old.get(keyOf(p)) !== p.text)
    .map((p) => ({ key: keyOf(p), label: p.label, was: old.get(keyOf(p)) ?? "", now: p.text }));
  // Counts with the spread and counts without it are two things: only like is held against like.
  const alike = was.state.settled.state === now.settled.state;
  const [then, since] = [was.state.verdict.words, now.verdict.words];
  const verdict = alike && then !== since ? { was: then, now: since } : null;
  return { label: was.label, last: now.undo !== null && now.undo === (now.made ?? now.undo), rows, verdict };
});

/** What was done, in words; where only the answer tells them, from the answer. */
type Label = string | ((next: State) => string);

/** Do something to the machine and say what was done, in the words of this page. Throws what was thrown. */
export async function act(words: Label, doing: () => Promise<State>): Promise<void> {
  const next = await doing();
  const label = typeof words === "string" ? words : words(next);
  if (before.value?.rev === next.rev) before.value = { ...before.value, label };
  wrong.value = "";
  told.value = { label, boot: next.boot, rev: next.rev, text: (said.value = sayOf(label, next)) };
}

function sayOf(label: string, s: State): string {
  const pending = s.settled.state === "pending" ? ", so far" : "";
  return s.problems.length > 0 ? `${label}. The file makes no machine now` : `${label}. ${s.verdict.words}${pending}`;
}

// The verdict stands beside the line: once it settles the line must not go on with the count of before.
effect(() => {
  const s = state.value;
  const last = told.peek();
  if (!s || !last || said.peek() !== last.text || s.boot !== last.boot) return;
  const text = s.rev === last.rev ? sayOf(last.label, s) : last.label;
  if (text === last.text) return;
  told.value = { ...last, text };
  said.value = text;
});

/** The same for a button: what goes wrong is told in the line for it. */
export function attempt(label: Label, doing: () => Promise<State>): Promise<boolean> {
  return act(label, doing).then(
    () => true,
    (trouble: ApiError) => {
      if (trouble.status !== 0) wrong.value = aboutOf(trouble); // the line for a lost connection stands already
      return false;
    },
  );
}
