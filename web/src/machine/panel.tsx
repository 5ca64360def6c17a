/** The machine on the sheet: the drawing, a row of drawers with what can be done to it, and a line of words beneath. */
import { useEffect, useRef, useState } from "preact/hooks";
import type { Motion, Tints } from "../contract";
import { useFetched } from "../fetched";
import { answers, choose, chosen, chosenToo, motion, narrowShows, pose, scene, state, tint, wantedSpot } from "../state";
import { Axes } from "./axes";
import { ColourDrawer } from "./colour";
import { Foot, inWords } from "./foot";
import { alone, cut, drawer, type Drawer, hidden, larger, lookAnew, still } from "./look";
import { MotionDrawer, timesOf, useMotion } from "./motion";
import { Over } from "./over";
import { Overlay } from "./overlay";
import { Parts } from "./parts";
import { CutDrawer } from "./section";
import { tintColors } from "./tints";
import { MachineView } from "./view";
import { onPaperKey, ViewDrawer } from "./views";
import "./machine.css";

const DRAWERS: [Drawer, string][] = [
  ["view", "View"],
  ["parts", "Parts"],
  ["axes", "Axes"],
  ["cut", "Cut"],
  ["colour", "Colour"],
  ["motion", "Motion"],
];

export function MachinePanel() {
  const canvas = useRef<HTMLCanvasElement>(null);
  const over = useRef<HTMLCanvasElement>(null);
  const [view, setView] = useState<MachineView | null>(null);
  const [missing, setMissing] = useState(false);
  const [lost, setLost] = useState(false);
  const drawOver = useRef<() => void>(() => {});
  const sheet = useRef<Over | null>(null);

  useEffect(() => {
    let made: MachineView;
    try {
      made = new MachineView(canvas.current!, { picked: choose, drawn: () => drawOver.current(), lost: setLost });
    } catch {
      setMissing(true);
      return;
    }
    sheet.current = new Over(new Overlay(over.current!), made);
    setView(made);
    const shown = facade(made);
    window.__board?.views.push(shown);
    return () => {
      const all = window.__board?.views ?? [];
      if (all.includes(shown)) all.splice(all.indexOf(shown), 1);
      sheet.current?.dispose();
      made.dispose();
    };
  }, []);

  const tints = useTints();
  const moving = useMotion();
  useMachine(view, tints, moving.data);

  drawOver.current = () => sheet.current?.draw(tints, moving.data !== null);
  useEffect(() => view?.draw(), [view, tints, chosen.value, moving.data]);

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
          {drawer.value === "view" && <ViewDrawer view={view} />}
          {drawer.value === "parts" && <Parts lookAt={(part) => view?.fit(part)} />}
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
  useEffect(() => view?.choose(chosen.value, chosenToo.value), [view, shown, chosen.value, chosenToo.value]);
  useEffect(() => {
    if (!view || wantedSpot.value.length === 0) return;
    view.spot(wantedSpot.value);
    wantedSpot.value = [];
  }, [view, shown, wantedSpot.value]);
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

/** What tests may look at. */
function facade(view: MachineView) {
  return Object.freeze({
    pieces: () => structuredClone(view.pieces()),
    screenOf: (id: number) => view.screenOf(id),
    partAt: (x: number, y: number) => view.partAt(x, y),
    measure: () => view.measure(),
    toward: () => view.eye.toward().toArray(),
    zoom: () => view.eye.camera.zoom,
    pictures: () => view.pictures,
  });
}
