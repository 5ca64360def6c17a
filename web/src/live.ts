/** Keeps the page in step with the program: first state, announcements, scene, lost and found connection. */
import { effect, signal } from "@preact/signals";
import { ApiError, type Announced, changing, fetchStart, get, newestOnly, type Preview, preview, type Scene, receive, settledChanges, type State } from "./api";
import { fileOf, online, scene, state } from "./state";

/** "start" where no machine is open, "failed" where the program would not tell why. */
export const page = signal<"loading" | "start" | "board" | "failed">("loading");
/** Why the page is "failed". */
export const failed = signal("");
/** The program was started again while this page was open. */
export const restarted = signal(false);

/** What the text in hand would give; null where nothing is being typed. */
export const previewed = signal<{ path: string; text: string; told: Preview } | null>(null);

const AGAIN_MS = 1000;
let waiting = 0;

/** No machine is open: there is no state to ask for. A program that does not tell is asked for the state itself. */
const nothingOpen = (): Promise<boolean> =>
  fetchStart().then(
    (told) => told.open === false,
    () => false,
  );

/** Fetch the state; whether it came. */
const refresh = newestOnly(async (_: null) => {
  try {
    if (!state.value && (await nothingOpen())) return void (page.value = "start");
    take(await get<State>("/api/state"));
  } catch (trouble) {
    const status = (trouble as ApiError).status;
    if (status === 404 || status === 409) page.value = "start";
    else if (page.value === "loading" && status !== 0) {
      failed.value = (trouble as Error).message;
      page.value = "failed";
    }
  }
});

function take(next: State): void {
  const before = state.value;
  if (before && before.boot !== next.boot) restarted.value = true;
  receive(next);
  // Somebody who looks for another machine is not called away by news of this one.
  if (!before || page.value !== "start") page.value = "board";
}

let drawnScene = "";

/** Most changes move nothing that is drawn: the same scene is left standing as it is. */
const fetchScene = newestOnly(async (_: string) => {
  const file = fileOf(state.value);
  try {
    const next = await get<Scene>("/api/scene");
    if (fileOf(state.value) !== file) return; // another machine was opened meanwhile: its own shapes are asked for next
    const text = JSON.stringify(next);
    if (scene.value && text === drawnScene) return;
    drawnScene = text;
    scene.value = next;
  } catch (trouble) {
    // A machine that cannot be placed has no scene; its problems are listed. Otherwise the next answer asks again.
    if ((trouble as ApiError).status >= 500) scene.value = null;
  }
});

const keepsOf = (s: Pick<Announced, "kept" | "keeps">): string => JSON.stringify([s.kept?.id, s.keeps]);

/** What was announced says that the state in hand is old. */
export function isOld(now: State | null, told: Announced): boolean {
  if (!now) return true;
  if (told.boot !== undefined && told.boot !== now.boot) return true;
  if (told.file !== undefined && (told.file.name !== now.file.name || told.file.folder !== now.file.folder)) return true;
  return (
    told.rev !== now.rev || told.disk !== now.disk || told.settled.rev !== now.settled.rev || told.settled.state !== now.settled.state ||
    told.settled.parcels !== now.settled.parcels || (told.keeps !== undefined && keepsOf(told) !== keepsOf(now))
  );
}

function heard(message: MessageEvent<string>): void {
  const told = JSON.parse(message.data) as Announced;
  const now = state.value;
  if (changing()) {
    void settledChanges().then(() => {
      if (isOld(state.value, told)) void refresh(null);
    });
  }
  else if (isOld(now, told)) void refresh(null);
  else if (now && JSON.stringify(told.jobs ?? []) !== JSON.stringify(now.jobs)) state.value = { ...now, jobs: told.jobs ?? [] };
}

function listen(): void {
  const stream = new EventSource("/api/events");
  stream.onopen = () => {
    online.value = true;
    void refresh(null);
  };
  stream.onmessage = heard;
  stream.onerror = () => {
    online.value = false;
    // A stream that the program refused stays closed; one that broke comes back by itself.
    if (stream.readyState === EventSource.CLOSED) setTimeout(listen, AGAIN_MS);
  };
}

/** While requests fail: ask once a second. */
function askAgain(): void {
  clearTimeout(waiting);
  if (!online.value) waiting = window.setTimeout(() => void refresh(null).then(askAgain, askAgain), AGAIN_MS);
}

/** Answers of what is typed, newest only; an answer that comes after the text was let go is dropped. */
const ask = newestOnly(async (wanted: { path: string; text: string | null; still: () => boolean; tell: (told: Preview) => void }) => {
  if (!wanted.still()) return;
  const told = await preview([[wanted.path, wanted.text]]);
  if (!wanted.still()) return;
  wanted.tell(told);
  previewed.value = told.ok ? { path: wanted.path, text: wanted.text ?? "", told } : null;
});

/** Events that come as one (a suggestion taken) are one preview; strokes that come faster than answers wait for each other in `ask`. */
export const PAUSE_MS = 0;
let pause: ReturnType<typeof setTimeout> | undefined;

/** Ask what a text would give; `tell` hears the answer while `still` says that the text is still in hand. */
export function look(path: string, text: string | null, still: () => boolean, tell: (told: Preview) => void): void {
  clearTimeout(pause);
  pause = setTimeout(() => {
    ask({ path, text, still, tell }).catch(() => {}); // a preview that fails is no trouble: the change itself will say so
  }, PAUSE_MS);
}

/** Nothing is being typed any more. */
export function lookAway(path: string): void {
  if (previewed.value?.path === path) previewed.value = null;
}

/** Start; called once. */
export function live(): void {
  void refresh(null);
  listen();
  effect(() => {
    if (!online.value) askAgain();
  });
  let drawn = "";
  effect(() => {
    const s = state.value;
    const wanted = s ? `${s.boot}/${s.answers_rev}` : "";
    if (wanted && wanted !== drawn) void fetchScene((drawn = wanted));
  });
}
