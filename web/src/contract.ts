/**
 * What the board program sends and takes. Numbers are SI; every text is ready to be shown in the units of the machine file.
 * The page shows texts, and uses numbers only to place and to colour: it computes no engineering number.
 */

export type Status = "fail" | "broken" | "unknown" | "watch" | "ok";
export type Units = "metric" | "inch";

/** One change of the machine file: dotted path and the text to write; `null` takes the line away. */
export type Edit = [path: string, text: string | null];

export interface Problem {
  place: string;
  line: number | null;
  path: string;
  message: string;
}

export interface TitleBlock {
  title: string;
  document_type: string;
  owner: string;
  identification: string;
  revision: string;
  date_of_issue: string;
  units: string;
  sheet: string;
  verdict: string;
}

export interface VerdictCount {
  fail: number;
  broken: number;
  unknown: number;
  watch: number;
  ok: number;
  words: string;
}

export interface Promised {
  subject: string;
  what: string;
  label: string;
  /** The number with its unit; "unknown" where there is none. */
  text: string;
  band: string;
  /** Whose number it is, and another that it replaces; "" for nothing. */
  beside?: string;
  wanted: string;
  /** The number is as good as what is wanted; null where that cannot be said. */
  reached?: boolean | null;
  /** The finding that judges it says unknown. */
  undecided?: boolean;
  /** Against the kept state, with sign and unit; "" where nothing changed or nothing is kept. */
  change: string;
  changed: "up" | "down" | "";
  better: boolean | null;
  binds: string;
  place: string;
  figure: string;
  /** The band is from an earlier revision, or missing, and is being computed again. */
  stale: boolean;
  value: number | null;
  unit: string;
}

export interface Found {
  key: string;
  id: string;
  subject: string;
  part: string;
  status: Status;
  title: string;
  sentence: string;
  /** Distance to the limit in words, such as "-6 %"; "" where there is none. */
  margin: string;
  settled: boolean;
  pending: boolean;
  /** Id of the one stage where it is listed. */
  stage: string;
}

export interface StageGroup {
  path: string;
  title: string;
}

export interface StageRow {
  id: string;
  title: string;
  words: string;
  count: { fail: number; watch: number; unknown: number };
  groups: StageGroup[];
}

export interface Settled {
  rev: number | null;
  state: "pending" | "done" | "failed";
  words: string;
  /** How many samples the bands are made of; 0 where there are none yet. */
  samples?: number;
  /** Moves with each answer that arrives, the remedies after the spread too. */
  parcels?: number;
  /** "pending" while remedies of these answers are still being tried, "done" once the last ones have come. */
  remedies?: "pending" | "done";
}

export interface Job {
  id: number | string;
  name: string;
  state: "running" | "done" | "cancelled" | "failed";
  fraction: number | null;
  note: string;
}

export interface Keep {
  id: number;
  name: string;
}

export type Disk = "same" | "changed" | "gone" | "unwritable";

export interface State {
  boot: string;
  rev: number;
  file: { name: string; folder: string };
  disk: Disk;
  /** What brought this revision, in words: the label of a step, or "Undone: ..."; "" for nothing yet. */
  made?: string;
  undo: string | null;
  redo: string | null;
  title: TitleBlock;
  units: Units;
  settled: Settled;
  verdict: VerdictCount;
  promises: Promised[];
  findings: Found[];
  stages: StageRow[];
  problems: Problem[];
  answers_rev: number;
  /** The same as the title block counts revisions. */
  answers_revision?: string;
  /** There is an earlier text that made a machine, and the file is not that text. */
  whole?: boolean;
  /** Sentences about the last change. */
  told?: string[];
  /** What the program could not do besides, such as writing its history; "" for nothing. */
  trouble?: string;
  jobs: Job[];
  /** The kept state that changes are told against; null for the machine as it was opened. */
  kept: Keep | null;
  /** All kept states, newest first. */
  keeps: Keep[];
}

export interface Preview {
  ok: boolean;
  problems: Problem[];
  promises: Promised[];
  verdict: VerdictCount | null;
  ms: number;
}

/** One line of `/api/events`: what moved, not the new numbers themselves. */
export interface Announced {
  boot?: string;
  rev: number;
  file?: { name: string; folder: string };
  settled: Settled;
  disk: Disk;
  jobs: Job[];
  kept?: Keep | null;
  keeps?: Keep[];
}

export type FieldKind =
  | "quantity"
  | "choice"
  | "part"
  | "flag"
  | "text"
  | "point"
  | "date"
  | "count"
  | (string & {});

export interface Field {
  path: string;
  label: string;
  help: string;
  kind: FieldKind;
  unit: string;
  /** As written in the file; "" where the file is silent. */
  text: string;
  /** The value in force, in the machine's own units. */
  effective: string;
  /** The same value in the other system of units. */
  other: string;
  origin: string;
  band: string;
  choices: string[];
  part_kind: string;
  editable: boolean;
  why_not: string;
  example: string;
  low: string;
  high: string;
  needed: boolean;
}

export interface Addable {
  words: string;
  edits: Edit[];
}

export interface FieldGroup {
  path: string;
  title: string;
  help: string;
  fields: Field[];
  groups: string[];
  can_add: Addable[];
  can_remove: boolean;
}

export interface PartChoice {
  name: string;
  title?: string;
  numbers: [label: string, text: string][];
  source: string;
}

// Scene: shapes to draw, machine frame, metres.

export type Point = [number, number, number];

export interface Shape {
  id: string;
  kind: "box" | "cylinder" | "extrusion";
  /** Extrusion only: rings of (width, height) in metres, the outer one first, then openings; unit length along x. */
  rings?: [number, number][][];
}

export interface Piece {
  id: number;
  /** Path of the machine file that this piece belongs to: the nearest table that may be edited. */
  part: string;
  /** Name of the solid that it shows. */
  solid: string;
  body: string;
  /** Name of the solid that it is fastened on. */
  on: string;
  kind: string;
  label: string;
  what: string;
  shape: string;
  /** 16 numbers, column by column: unit shape to machine frame as drawn. */
  matrix: number[];
  size: Point;
  mass: number | null;
  owned: "owned" | "buy" | "make" | "unknown";
  material: string;
  section: string;
  detail: [label: string, text: string][];
}

export interface BodyRow {
  name: string;
  words: string;
  on: string;
  axis: string;
  sign: number;
  children: string[];
}

export interface AxisRow {
  name: string;
  direction: Point;
  sign: number;
  /** Positions run from 0 to this, in metres. */
  travel: number;
  /** Position at which the scene is drawn. */
  drawn: number;
  /** How far each body goes for each metre of the axis, by name of the body. */
  moves: Record<string, Point>;
}

export interface Scene {
  name: string;
  show: Units;
  shapes: Shape[];
  pieces: Piece[];
  bodies: BodyRow[];
  axes: AxisRow[];
  /** Least and greatest corner of everything. */
  box: [least: Point, most: Point];
  /** The same of the work area as drawn. */
  work: [least: Point, most: Point];
  zero: Point;
}

export type TintBy = "none" | "give" | "mass" | "owned" | "finding";

export interface Tints {
  by: TintBy;
  pieces: { id: number; value: number | string | null; text: string }[];
  scale: { low: number; high: number; unit: string; kind: "amount" | "signed" | "state" };
  words: string;
}

export interface AtPose {
  give: Record<string, string>;
  stiffness: string;
  soft: string[];
  off_table: boolean;
}

export interface MotionRow {
  name: string;
  title: string;
  kind: "load" | "mode";
  frequency?: string;
  words: string;
}

/** Motion of every piece: for each, stations along its first axis (t from -0.5 to 0.5) with shift (m) and turn (rad). */
export interface Motion {
  name: string;
  unit: string;
  /** Where the axes stand in it, by name, in metres. */
  pose: Record<string, number>;
  greatest: number;
  pieces: [t: number, sx: number, sy: number, sz: number, rx: number, ry: number, rz: number][][];
}

// Opened things

export interface Remedy {
  words: string;
  mends: boolean;
  /** Something else fails, becomes unknown or gets clearly worse by it; the effects say what. */
  harms?: boolean;
  /** It was evaluated; `mends` and `effects` say nothing otherwise. */
  tried?: boolean;
  effects: string[];
  edits: Edit[];
}

export interface FindingOpened {
  key: string;
  subject: string;
  id?: string;
  title?: string;
  why: string;
  source: string;
  note: string;
  remedies: Remedy[];
  remedy?: string;
  missing?: string;
  /** What to find out so that the answer is sure. */
  settle?: string | string[];
  figure: string;
  /** Two parts that meet, and where the axes stand then, m. */
  spot?: Spot | null;
}

export interface Spot {
  parts: [string, string];
  pose: Record<string, number>;
}

export interface FigureInput {
  name: string;
  text: string;
  path: string;
  is: "figure" | "value" | "";
  note: string;
  /** The path is a field of the machine file. */
  field: boolean;
}

export interface FigureOpened {
  path?: string;
  title: string;
  text: string;
  band: string;
  formula: string;
  source: string;
  origin?: string;
  inputs: FigureInput[];
  used_by: (string | { path: string; title: string })[];
  findings: (string | { key: string; title: string; status?: Status })[];
}

export interface FigureRow {
  path: string;
  title: string;
  text: string;
}

export interface DefaultRow {
  path: string;
  label?: string;
  title?: string;
  text: string;
  band?: string;
  origin?: string;
  source?: string;
  /** Like parts that took the same. */
  count?: number;
  paths?: string[];
}

// Pictures

export interface PictureRow {
  id: string;
  title: string;
  stage: string;
  words: string;
  /** Each job has its own: `id:JOB`. */
  of_job?: boolean;
}

export interface Dimension {
  label: string;
  unit: string;
  log: boolean;
}

export interface Series {
  name: string;
  /** Null leaves a gap. */
  points: [x: number, y: number | null][];
  /** Lengths of line and gap, such as "7 4"; "" is solid. */
  dash: string;
  band: [x: number, low: number, high: number][];
  /** "points" for single points instead of a line. */
  mark: string;
  /** Number of its colour; by its place among the lines where there is none. */
  tone?: number | null;
}

export interface Mark {
  x: number;
  y: number;
  text: string;
}

export interface Grid {
  xs: number[];
  ys: number[];
  /** Rows from the least y up. */
  values: (number | null)[][];
  unit: string;
  worst: Mark | null;
  /** Axes of the machine along the map and across it, and metres per unit of their numbers. */
  axes?: string[];
  metres?: number;
  /** SI units per unit of its values. */
  si?: number;
  /** Machine that it is of, where two are held side by side, and the ends of their common scale. */
  name?: string;
  low?: number | null;
  high?: number | null;
}

export interface Bar {
  label: string;
  value: number;
  text: string;
  /** Path of the machine file; "" where it is none. */
  part: string;
  /** The same of the other machine, where two are held side by side. */
  other?: number | null;
  other_text?: string;
}

/** Numbers are in the units that its axes name. */
export interface Picture {
  id: string;
  title: string;
  words: string;
  kind: "lines" | "bars" | "map" | "table";
  key: { label: string; text: string; other?: string }[];
  x: Dimension | null;
  y: Dimension | null;
  series: Series[];
  marks: Mark[];
  map: Grid | null;
  bars: Bar[];
  columns: string[];
  rows: string[][];
  /** Names of two machines, where two are held side by side; then `other` is the map of the second. */
  names?: string[];
  other?: Grid | null;
  /** Job that it is of, where each has its own. */
  of?: string;
  /** Of bars: the least comes first. Their marks are lines across all of them, at x. */
  rising?: boolean;
}

// The cut

/** One thing that a job must not exceed. */
export interface CutLimit {
  id: string;
  words: string;
  /** Part of it that the job uses. */
  used: string;
  exceeded: boolean;
  /** What must be known, where it is unknown. */
  missing: string;
  note: string;
  value: string;
  limit: string;
  /** Removal rate at which it would be met, with its band. */
  ceiling: string;
  figure: string;
}

export interface CutSetting {
  path: string;
  what: string;
  file: string;
  /** "" where nothing is advised. */
  advised: string;
  reason: string;
}

export interface CutJob {
  name: string;
  path: string;
  runs: "runs" | "runs if" | "does not" | "unknown";
  /** Chatter and advice are still to be worked out. */
  pending: boolean;
  verdict: string;
  missing: string;
  removal: { text: string; figure: string } | null;
  binds: CutLimit | null;
  next: CutLimit | null;
  limits: CutLimit[];
  settings: CutSetting[];
  advised_removal: string;
  no_advice: string;
  /** Takes all advised settings; empty where there are none, or the file has them. */
  edits: Edit[];
  walls: { what: string; text: string; way: string; figure: string }[];
  hold: string[];
  chatter: string[];
}

export interface Caution {
  id: string;
  subject: string;
  title: string;
  words: string;
  jobs: string[];
  sources: string[];
}

/** `/api/cuts` */
export interface Cuts {
  /** With the spread; advice of an earlier state otherwise. */
  settled: boolean;
  words: string;
  jobs: CutJob[];
  foreword: string;
  cautions: Caution[];
}

// History and comparing

export interface StepRow {
  id: number | string;
  label: string;
  when: string;
  undone: boolean;
}

export interface KeptRow extends Keep {
  note: string;
  when: string;
}

export interface BackupRow {
  id: number | string;
  when: string;
  label?: string;
  note?: string;
}

export interface History {
  steps: StepRow[];
  kept: KeptRow[];
  backups: BackupRow[];
}

export interface Outside {
  mine: string;
  theirs: string;
}

export interface ComparedPromise {
  label: string;
  a: string;
  b: string;
  change: string;
  better: boolean | null;
}

/** `a` is the status here, `b` that of the other machine. */
export type ComparedFound = Found & { a?: Status | (string & {}); b?: Status | (string & {}); words?: string };

export interface Compared {
  names: [string, string];
  /** What is held against what, such as typical values against typical values. */
  words?: string;
  promises: ComparedPromise[];
  findings: { only_a: Found[]; only_b: Found[]; both_judged: ComparedFound[]; both_moved: ComparedFound[] };
  cost: ComparedPromise | null;
  mass: ComparedPromise | null;
  pictures: string[];
}

// Start

export interface Question {
  key: string;
  label: string;
  kind: "choice" | "quantity" | "flag" | "text" | "count" | (string & {});
  choices: (string | { value: string; label: string })[];
  default: string;
  help: string;
}

export interface Start {
  demos: { id: string; title: string; words: string }[];
  recent: { path: string; name: string; when: string; exists: boolean }[];
  questions: Question[];
  folder: string;
  open?: boolean;
}
