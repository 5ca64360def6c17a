/** The machine on the sheet: the drawing, a row of drawers with what can be done to it, and a line of words beneath. */
import { useEffect, useRef, useState } from "preact/hooks";
import { STATE } from "../color";
import type { Motion, Scene, Status, Tints } from "../contract";
import { useFetched } from "../fetched";
import { answers, choose, chosen, motion, narrowShows, pose, scene, state, tint } from "../state";
import { Axes, jog } from "./axes";
import { type Way, WAYS } from "./eye";
import { ColourDrawer, TintKey } from "./colour";
import { CutDrawer } from "./section";
import { alone, cut, drawer, type Drawer, hidden, larger, lookAnew, still, way } from "./look";
import { MotionDrawer, useMotion } from "./motion";
import { apart, dimensionLines, Overlay } from "./overlay";
import { Parts } from "./parts";
import { enlarged, enlargedShort, length, poseWords, sizeText } from "./say";
import { tintColors, tintOf, tintSigns } from "./tints";
import { belongs, MachineView } from "./view";
import "./machine.css";

const DRAWERS: [Drawer, string][] = [
  ["view", "View"],
  ["parts", "Parts"],
  ["axes", "Axes"],
  ["cut", "Cut"],
  ["colour", "Colour"],
  ["motion", "Motion"],
];

/** A turn by one press of an arrow key, radians; a push, px; nearer by. */
const TURN = Math.PI / 24;
const PUSH = 40;
const NEARER = 1.2;

export function MachinePanel() {
  const canvas = useRef<HTMLCanvasElement>(null);
  const over = useRef<HTMLCanvasElement>(null);
  const [view, setView] = useState<MachineView | null>(null);
  const [missing, setMissing] = useState(false);
  const [lost, setLost] = useState(false);
  const drawOver = useRef<() => void>(() => {});

  useEffect(() => {
    let made: MachineView;
    try {
      made = new MachineView(canvas.current!, { picked: choose, drawn: () => drawOver.current(), lost: setLost });
    } catch {
      setMissing(true);
      return;
    }
    setView(made);
    const shown = facade(made);
    window.__board?.views.push(shown);
    return () => {
      const all = window.__board?.views ?? [];
      if (all.includes(shown)) all.splice(all.indexOf(shown), 1);
      made.dispose();
    };
  }, []);

  const tints = useTints();
  const moving = useMotion();
  useMachine(view, tints, moving.data);

  drawOver.current = () => view && over.current && drawSheet(new Overlay(over.current), view, tints, moving.data !== null);
  useEffect(() => view?.draw(), [view, tints, chosen.value, moving.data]);

  const look = (to: Way): void => view?.look(to);
  return (
    <div class="mv">
      <div class="mv-tabs" role="group" aria-label="What to do with the drawing">
        {DRAWERS.map(([id, label]) => (
          <button
            type="button"
            key={id}
            aria-expanded={drawer.value === id}
            aria-controls="mv-drawer"
            data-on={isOn(id) ? "" : undefined}
            onClick={() => (drawer.value = drawer.value === id ? "" : id)}
          >
            {label}
            {isOn(id) && <span class="unseen">, in use</span>}
          </button>
        ))}
      </div>
      <div class="mv-both" data-drawer={drawer.value}>
      <div id="mv-drawer" class="mv-drawer" hidden={drawer.value === ""}>
        {drawer.value === "view" && <ViewDrawer view={view} look={look} />}
        {drawer.value === "parts" && <Parts />}
        {drawer.value === "axes" && <Axes />}
        {drawer.value === "cut" && <CutDrawer facing={(axis) => view?.facing(axis) ?? 1} />}
        {drawer.value === "colour" && <ColourDrawer tints={tints} />}
        {drawer.value === "motion" && <MotionDrawer moving={moving} />}
      </div>
      <div
        class="mv-paper"
        tabIndex={0}
        role="group"
        aria-label="Drawing. Arrow keys turn it, with Shift they push it; plus and minus bring it nearer; X, Y and Z move an axis."
        onKeyDown={(e) => view && onPaperKey(e, view)}
      >
        <canvas ref={canvas} class="mv-canvas" role="img" aria-label={inWords(tints, moving.data)} />
        <canvas ref={over} class="mv-over" aria-hidden="true" />
        {missing && (
          <p class="mv-instead" role="status">
            This browser cannot draw in three dimensions: WebGL is missing or switched off. All parts are listed under Parts and can be chosen there;
            the printed sheet holds views of the machine, drawn by the program.
          </p>
        )}
        {lost && (
          <p class="mv-instead" role="status">
            The browser took the drawing away; it comes back by itself.
          </p>
        )}
        {!scene.value && !missing && <p class="mv-instead">{state.value?.problems.length ? "The file as written is no whole machine." : "Fetching the machine …"}</p>}
      </div>
      </div>
      <Foot tints={tints} moving={moving.data} />
    </div>
  );
}

/** Something of this drawer alters what is seen, whether it is open or not. */
function isOn(id: Drawer): boolean {
  if (id === "parts") return hidden.value.size > 0 || alone.value !== "";
  if (id === "cut") return cut.value !== null;
  if (id === "colour") return tint.value !== "none";
  if (id === "axes") return Object.keys(pose.value).length > 0;
  return id === "motion" && motion.value !== "";
}

function useTints(): Tints | null {
  const { data } = useFetched<Tints>(tint.value === "none" ? null : `/api/tints?by=${tint.value}`, answers.value);
  return data;
}

/** Keeps the view in step with what the page knows. */
function useMachine(view: MachineView | null, tints: Tints | null, moving: Motion | null): void {
  const s = state.value;
  const file = s ? `${s.file.folder}/${s.file.name}` : "";
  const known = useRef(file);
  useEffect(() => {
    if (known.current && known.current !== file) {
      lookAnew();
      view?.forgetLook();
    }
    known.current = file;
  }, [file]);
  const shown = scene.value;
  useEffect(() => void (view && shown && view.setScene(shown)), [view, shown]);
  useEffect(() => {
    const colors = tints && tintColors(tints);
    view?.color((piece) => colors?.get(piece.id) ?? null);
  }, [view, shown, tints]);
  useEffect(() => view?.setPose(moving?.pose ?? pose.value), [view, shown, pose.value, moving]);
  useEffect(() => view?.show(hidden.value, alone.value), [view, shown, hidden.value, alone.value]);
  useEffect(() => view?.section(cut.value), [view, cut.value]);
  useEffect(() => view?.choose(chosen.value), [view, shown, chosen.value]);
  const calm = still.value;
  const step = larger.value;
  useEffect(() => {
    if (!view || !shown) return;
    if (!moving || moving.pieces.length !== shown.pieces.length) return view.move(null, 0, true);
    view.move(moving, timesOf(moving, shown), calm || matchMedia("(prefers-reduced-motion: reduce)").matches);
  }, [view, shown, moving, calm, step]);
  // a drawing that was away has no size until it is shown
  useEffect(() => view?.draw(), [view, narrowShows.value]);
}

/** How many times larger a motion is drawn now. */
export function timesOf(moving: Motion, shown: Scene): number {
  const { steps, usual } = enlarged(moving, shown);
  return steps[Math.max(0, Math.min(steps.length - 1, usual + larger.value))];
}

/** What tests may look at. */
function facade(view: MachineView) {
  return Object.freeze({
    pieces: () => structuredClone(view.pieces()),
    screenOf: (id: number) => view.screenOf(id),
    partAt: (x: number, y: number) => view.partAt(x, y),
    measure: () => view.measure(pose.value),
    toward: () => view.eye.toward().toArray(),
    zoom: () => view.eye.camera.zoom,
    pictures: () => view.pictures,
  });
}

function drawSheet(sheet: Overlay, view: MachineView, tints: Tints | null, moving: boolean): void {
  if (way.peek() !== view.eye.way) way.value = view.eye.way;
  const shown = scene.peek();
  sheet.begin();
  if (!shown) return;
  sheet.triad(view.eye.axes());
  if (tints) {
    const signs = tintSigns(tints, shown.pieces).flatMap((s) => {
      const at = view.middle(s.id);
      return at ? [{ ...s, ...at }] : [];
    });
    for (const s of apart(signs, 15)) sheet.sign(s, s.sign, STATE[s.value as Status]?.color ?? "#23292b");
  }
  if (!moving && chosen.peek()) drawSizes(sheet, view, shown);
}

/** The three sizes of the largest piece of the chosen part. */
function drawSizes(sheet: Overlay, view: MachineView, shown: Scene): void {
  const mine = shown.pieces.filter((p) => belongs(p, chosen.peek()) && view.middle(p.id));
  const own = mine.filter((p) => p.part === chosen.peek());
  const bulk = (size: readonly number[]): number => size[0] * size[1] * size[2];
  const piece = (own.length ? own : mine).reduce<(typeof mine)[number] | null>((a, b) => (a && bulk(a.size) >= bulk(b.size) ? a : b), null);
  if (!piece) return;
  const texts = piece.size.map((size) => sizeText(size, piece.detail, shown.show));
  if (shown.shapes.find((s) => s.id === piece.shape)?.kind === "cylinder") {
    texts[1] = `⌀ ${texts[1]}`;
    texts[2] = "";
  }
  const corners = view.corners(piece.id).map((c) => view.eye.project(c));
  for (const line of dimensionLines(corners, texts)) if (line.text) sheet.dimension(line);
}

/** What the drawing shows, for those who do not see it. */
function inWords(tints: Tints | null, moving: Motion | null): string {
  const shown = scene.value;
  if (!shown) return "No machine is drawn.";
  const parts = new Set(shown.pieces.map((p) => p.part)).size;
  const bodies = shown.bodies.map((b) => b.words.toLowerCase()).join(", ");
  const from = way.value ? `Seen ${WAYS[way.value].words.startsWith("from") ? WAYS[way.value].words : `from the ${way.value}`}` : "Seen from a free direction";
  const said = [`${shown.name}: ${parts} parts in ${shown.bodies.length} bodies (${bodies}).`, `${from}; axes stand at ${poseWords(shown, moving?.pose ?? pose.value)}.`];
  const first = shown.pieces.find((p) => p.part === chosen.value);
  if (first) said.push(`Chosen: ${first.label}, ${first.detail.map(([label, text]) => `${label} ${text}`).join(", ")}.`);
  if (tints) said.push(`Colours: ${tints.words}`);
  if (moving) said.push(`Moving: ${moving.name}, ${enlargedShort(moving, timesOf(moving, shown), shown.show)}.`);
  said.push("Every part is listed under Parts.");
  return said.join(" ");
}

function ViewDrawer({ view, look }: { view: MachineView | null; look: (way: Way) => void }) {
  return (
    <div class="mv-views" role="group" aria-label="Views">
      {(Object.keys(WAYS) as Way[]).map((name) => (
        <button type="button" key={name} aria-pressed={way.value === name} title={WAYS[name].words} onClick={() => look(name)}>
          {WAYS[name].label}
          <span class="unseen">, {WAYS[name].words}</span>
        </button>
      ))}
      <button type="button" onClick={() => view?.eye.nearer(1 / NEARER)} aria-label="Farther">
        −
      </button>
      <button type="button" onClick={() => view?.eye.nearer(NEARER)} aria-label="Nearer">
        +
      </button>
      <button type="button" onClick={() => view?.fit()}>
        Fit<span class="unseen"> all that is shown</span>
      </button>
    </div>
  );
}

/** Words under the drawing: from where, what the colours say, what is hidden, cut and moving, each with the way back. */
function Foot({ tints, moving }: { tints: Tints | null; moving: Motion | null }) {
  const shown = scene.value;
  if (!shown) return null;
  const away = shown.bodies.filter((b) => hidden.value.has(b.name)).map((b) => b.words.toLowerCase());
  const first = shown.pieces.find((p) => p.part === alone.value);
  const told = tints && chosen.value ? tintOf(tints, shown.pieces, chosen.value) : "";
  const named = shown.pieces.find((p) => p.part === chosen.value)?.label;
  return (
    <div class="mv-foot">
      <p>
        {way.value ? `${WAYS[way.value].label === "Iso" ? "Isometric" : WAYS[way.value].label}: ${WAYS[way.value].words}.` : "Turned freely."}{" "}
        {!moving && `At ${poseWords(shown, pose.value)}.`}
      </p>
      {tints && <TintKey tints={tints} pieces={shown.pieces} />}
      {told && (
        <p>
          <b>{named}</b>: {told}
        </p>
      )}
      {moving && (
        <p class="mv-line">
          <span>
            {moving.name}: <b>{enlargedShort(moving, timesOf(moving, shown), shown.show)}</b>, at {poseWords(shown, moving.pose)}
          </span>
          <button type="button" class="quiet" onClick={() => (motion.value = "")}>
            End<span class="unseen"> the motion</span>
          </button>
        </p>
      )}
      {cut.value && (
        <p class="mv-line">
          <span>
            Cut at {cut.value.axis.toUpperCase()} {length(cut.value.at, shown.show)}
          </span>
          <button type="button" class="quiet" onClick={() => (cut.value = null)}>
            Close<span class="unseen"> the cut</span>
          </button>
        </p>
      )}
      {(away.length > 0 || first) && (
        <p class="mv-line">
          <span>{first ? `Shown alone: ${first.label}` : `Not shown: ${away.join(", ")}`}</span>
          <button
            type="button"
            class="quiet"
            onClick={() => {
              hidden.value = new Set();
              alone.value = "";
            }}
          >
            Show all
          </button>
        </p>
      )}
    </div>
  );
}

const BY_KEY: Record<string, Way> = { f: "front", b: "back", l: "left", r: "right", t: "top", i: "isometric" };
const ARROWS: Record<string, [right: number, down: number]> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/** Keys while the drawing has the focus. */
function onPaperKey(e: KeyboardEvent, view: MachineView): void {
  if (e.ctrlKey || e.metaKey || e.altKey) return;
  const key = e.key.length === 1 ? e.key.toLowerCase() : e.key;
  const arrow = ARROWS[key];
  const axis = scene.value?.axes.find((a) => a.name === key);
  if (arrow) {
    if (e.shiftKey) view.eye.push(PUSH * arrow[0], PUSH * arrow[1]);
    else view.eye.turn(-TURN * arrow[0], TURN * -arrow[1]);
  } else if (key === "+" || key === "=") view.eye.nearer(NEARER);
  else if (key === "-" || key === "_") view.eye.nearer(1 / NEARER);
  else if (key === "Home") view.fit();
  else if (axis) jog(axis, e.shiftKey ? -1 : 1);
  else if (BY_KEY[key]) view.look(BY_KEY[key]);
  else return;
  e.preventDefault();
}
