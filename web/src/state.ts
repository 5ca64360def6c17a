/** What the page knows and what it looks at. Nothing here asks the program for anything: `api.ts` and `live.ts` do. */
import { batch, computed, effect, signal } from "@preact/signals";
import type { Found, Scene, Spot, State, TintBy } from "./contract";

/** The machine as the program last told it; null before a machine is open. */
export const state = signal<State | null>(null);
/** The file that is shown, as requests name it; "" before one is open. */
export const fileOf = (s: State | null): string => (s ? `${s.file.folder}/${s.file.name}` : "");
export const sameFile = (a: State, b: State): boolean => fileOf(a) === fileOf(b);

/** A text that was typed for a file and is in none. */
export interface Unwritten {
  file: string;
  label: string;
  text: string;
}
/** Another window opened another file: which one was shown here, and what was typed for it. */
export const changedOver = signal<{ from: State["file"]; unwritten: Unwritten[] } | null>(null);

/** Shapes of the machine of `state.answers_rev`; null until fetched. */
export const scene = signal<Scene | null>(null);
/** True while requests are answered. */
export const online = signal(true);

/** Path of the chosen part in the machine file; "" for none. */
export const chosen = signal("");
/** The part that an opened finding names besides, as in "A (against B)"; "" for none. */
export const chosenToo = signal("");
/** Parts that the drawing should turn to and bring near; none once done. */
export const wantedSpot = signal<readonly string[]>([]);
/** Where the axes stand, in metres, by axis name; an axis that is not named stands as drawn. */
export const pose = signal<Record<string, number>>({});
/** What the machine is coloured by. */
export const tint = signal<TintBy>("none");
/** Name of the motion that is shown (a load or a mode); "" for none. */
export const motion = signal("");
/** Stage of the work that is open. */
export const stage = signal("");
/** Job whose pictures are drawn; the first one where there is none of that name. */
export const wantedJob = signal("");
/** Job whose card is to be brought into view; "" once it was. */
export const wantedCard = signal("");
/** "kept:ID" or "file:NAME": what the machine is held against; "" for nothing. */
export const compareWith = signal("");

/** A finding or a figure opened beside the sheet; the last one is in view, the others are the way back. */
export interface Opened {
  kind: "finding" | "figure";
  key: string;
}
export const opened = signal<readonly Opened[]>([]);
/** What was open when somebody turned to a field, a stage or a part: it can be taken up again. */
export const setAside = signal<readonly Opened[]>([]);

/** Path of a field or group that the stage column should bring into view and mark; "" once done. */
export const wantedField = signal("");

/** Which of the two a narrow screen shows. */
export const narrowShows = signal<"fields" | "drawing">("fields");

/** Changes with every answer of the program that could alter a picture, a tint or a motion. */
export const answers = computed(() => {
  const s = state.value;
  if (!s) return "";
  const { rev, state: how, parcels, samples } = s.settled;
  // A first spread of few samples gives way to one of all. What comes after that are remedies only: no picture is drawn anew for them.
  return `${s.boot}/${s.answers_rev}/${rev ?? ""}/${how}/${how === "done" ? (samples ?? "") : (parcels ?? "")}`;
});

/** Changes with those, and with the remedies that come after them. */
export const remedied = computed(() => `${answers.value}/${state.value?.settled.parcels ?? ""}`);

/** Remedies of what is shown are still being tried; a program that has given up tries none. */
export const trying = computed(() => {
  const how = state.value?.settled;
  return how !== undefined && how.state !== "failed" && how.remedies !== "done";
});

/** Changes with the history: its steps and its kept states. */
export const keepsKey = computed(() => {
  const s = state.value;
  return s ? `${s.boot}/${s.rev}/${s.keeps.map((k) => `${k.id} ${k.name}`).join()}` : "";
});

/** A kept state that was forgotten, here or in another window, is compared with no more. */
effect(() => {
  const against = compareWith.value;
  const keeps = state.value?.keeps;
  if (keeps && against.startsWith("kept:") && !keeps.some((k) => against === `kept:${k.id}`)) compareWith.value = "";
});

/** The file as written makes no machine: the answers shown are those of the last one that did. */
export const outdated = computed(() => (state.value?.problems.length ?? 0) > 0);

/** The file never made a machine: there is no answer at all, not even an old one. */
export const unanswered = computed(() => outdated.value && state.value!.answers_rev < 0);

export const stages = computed(() => state.value?.stages ?? []);

/** The jobs of the file, as the stage of the cut lists them. */
export const jobs = computed(() => {
  const paths = stages.value.find((s) => s.id === "cut")?.groups.map((g) => g.path) ?? [];
  return paths.filter((path) => path.startsWith("job.") && path !== "job.each").map((path) => path.slice("job.".length));
});

/** The job whose pictures are drawn; "" where the file names none. */
export const job = computed(() => (jobs.value.includes(wantedJob.value) ? wantedJob.value : (jobs.value[0] ?? "")));

/** Choose a part by its path in the machine file; the same path again, or "", lets go. */
export function choose(part: string): void {
  chosen.value = part;
  chosenToo.value = "";
  if (part) putAside();
}

/** Choose the part of a finding, and the other one where it speaks of two. */
export function chooseOf(subject: string, part = partOf(subject)): void {
  choose(part);
  chosenToo.value = partOf(otherOf(subject));
}

/** Drive the axes to where two parts meet, and look at that place; what is open stays open. */
export function showSpot(spot: Spot): void {
  batch(() => {
    motion.value = "";
    pose.value = spot.pose;
    [chosen.value, chosenToo.value] = spot.parts.map(partOf);
    wantedSpot.value = spot.parts.map(partOf);
    narrowShows.value = "drawing";
  });
}

/** Open a stage of the work. Its id stands in the address, so that the way back of the browser works. */
export function openStage(id: string): void {
  putAside();
  stage.value = id;
  narrowShows.value = "fields";
  if (typeof location !== "undefined" && location.hash !== `#${id}`) location.hash = id;
}

/** Open the long form of a finding; the parts that it speaks of are chosen in the drawing. */
export function openFinding(key: string): void {
  push({ kind: "finding", key });
  const found = state.value?.findings.find((f) => f.key === key);
  if (!found) return;
  chosen.value = partOf(found.subject);
  chosenToo.value = partOf(otherOf(found.subject));
}

/** Open a figure: its formula, inputs and source. */
export function openFigure(path: string): void {
  push({ kind: "figure", key: path });
}

/** One step back among the opened things. */
export function back(): void {
  opened.value = opened.value.slice(0, -1);
}

/** Close all opened things. */
export function closeOpened(): void {
  opened.value = [];
  setAside.value = [];
}

function putAside(): void {
  if (opened.value.length === 0) return;
  setAside.value = opened.value;
  opened.value = [];
}

/** Open again what was put aside. */
export function takeUp(): void {
  opened.value = setAside.value;
  setAside.value = [];
}

function push(thing: Opened): void {
  const now = opened.value;
  const at = now.findIndex((o) => o.kind === thing.kind && o.key === thing.key);
  narrowShows.value = "fields";
  setAside.value = [];
  opened.value = at >= 0 ? now.slice(0, at + 1) : [...now, thing];
}

/** Path of a finding's subject: what stands in brackets behind it names a case. */
export const pathOf = (subject: string): string => subject.replace(/ \(.*$/, "");

/** The other path of a subject such as "A (against B)"; "" where it names one only. */
export const otherOf = (subject: string): string => /\(against ([^)]+)\)/.exec(subject)?.[1] ?? "";

/** The part of the scene that a path of the machine file belongs to, or lies in it; "" where nothing of it is drawn. */
export function partOf(subject: string): string {
  const path = pathOf(subject);
  const parts = scene.value?.pieces.map((p) => p.part) ?? [];
  for (let at = path; at; at = at.includes(".") ? at.slice(0, at.lastIndexOf(".")) : "") {
    const found = parts.find((p) => p === at) ?? parts.find((p) => p.startsWith(`${at}.`));
    if (found && at.includes(".")) return found;
    if (found && at === path) return found;
  }
  return "";
}

/** Stage whose groups hold this path or its nearest table above, the open one before others; undefined when none does. */
export function stageOf(subject: string): string | undefined {
  const path = pathOf(subject);
  const ordered = [...stages.value].sort((a, b) => Number(b.id === stage.value) - Number(a.id === stage.value));
  for (let at = path; at; at = at.includes(".") ? at.slice(0, at.lastIndexOf(".")) : "") {
    const found = ordered.find((s) => s.groups.some((g) => g.path === at));
    if (found) return found.id;
  }
  return stages.value.find((s) => s.groups.some((g) => g.path.startsWith(`${path}.`)))?.id;
}

/** Findings that do not hold, each at the one stage where it is listed. */
export const listedAt = computed(() => {
  const at = new Map<string, Found[]>();
  for (const f of state.value?.findings ?? []) {
    if (f.status !== "ok") at.set(f.stage, [...(at.get(f.stage) ?? []), f]);
  }
  return at;
});

/** Bring the field or table at a path of the machine file into view; of a table that no stage shows, the first one below it. */
export function openField(subject: string): void {
  const path = pathOf(subject);
  const id = stageOf(path);
  if (!id) return;
  openStage(id);
  const groups = stages.value.find((s) => s.id === id)!.groups.map((g) => g.path);
  const held = groups.some((g) => path === g || path.startsWith(`${g}.`));
  wantedField.value = held ? path : (groups.find((g) => g.startsWith(`${path}.`)) ?? path);
}
