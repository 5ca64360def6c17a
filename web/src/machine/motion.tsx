/** Motions: how the machine gives under a load, how it rings; how large that is drawn. */
import { useEffect, useRef } from "preact/hooks";
import type { Motion, MotionRow, Scene } from "../contract";
import { useFetched } from "../fetched";
import { answers, motion, scene } from "../state";
import { drawer, larger, still } from "./look";
import { enlarged, enlargedWords } from "./say";

export interface Moving {
  rows: MotionRow[] | null;
  data: Motion | null;
  trouble: string;
}

/** The list of motions, while it is needed, and the one that is shown. */
export function useMotion(): Moving {
  const name = motion.value;
  const list = useFetched<MotionRow[]>(name || drawer.value === "motion" ? "/api/motions" : null, answers.value);
  const known = list.data?.some((row) => row.name === name) ?? false;
  // a name may have changed with the answers: nothing is asked by it until the list has come
  const fresh = useRef("");
  if (list.data && !list.old) fresh.current = answers.value;
  useEffect(() => {
    if (name && list.data && !list.old && !known) motion.value = sameMode(name, list.data);
  }, [name, known, list.data, list.old]);
  const told = useFetched<Motion>(name && known ? `/api/motion?name=${encodeURIComponent(name)}` : null, fresh.current);
  return { rows: list.data, data: told.data, trouble: list.trouble || told.trouble };
}

/** After an edit a mode has another frequency and so another name: its number is followed. "" where there is none. */
export function sameMode(name: string, rows: readonly MotionRow[]): string {
  const number = /^mode \d+,/.exec(name)?.[0];
  return (number && rows.find((row) => row.name.startsWith(number))?.name) || "";
}

/** How many times larger a motion is drawn now. */
export function timesOf(moving: Motion, shown: Scene): number {
  const { steps, usual } = enlarged(moving, shown);
  return steps[Math.max(0, Math.min(steps.length - 1, usual + larger.value))];
}

const SORTS = [
  ["load", "Under a load"],
  ["mode", "Ringing"],
] as const;

export function MotionDrawer({ moving }: { moving: Moving }) {
  const shown = scene.value;
  const row = moving.rows?.find((r) => r.name === motion.value);
  const scale = moving.data && shown ? enlarged(moving.data, shown) : null;
  const at = scale ? Math.max(0, Math.min(scale.steps.length - 1, scale.usual + larger.value)) : 0;
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  const said = moving.data && scale && shown ? enlargedWords(moving.data, scale.steps[at], shown.show) : "";
  return (
    <div class="mv-motion">
      <div class="mv-choose">
        <label for="mv-motion">Motion</label>
        <select
          id="mv-motion"
          value={motion.value}
          onChange={(e) => {
            larger.value = 0;
            motion.value = e.currentTarget.value;
          }}
        >
          <option value="">None</option>
          {SORTS.map(([kind, label]) => (
            <optgroup key={kind} label={label}>
              {(moving.rows ?? [])
                .filter((r) => r.kind === kind)
                .map((r) => (
                  <option key={r.name} value={r.name}>
                    {r.frequency ? `${r.frequency}: ${r.title}` : capital(r.title)}
                  </option>
                ))}
            </optgroup>
          ))}
        </select>
        <button type="button" aria-pressed={still.value || calm} disabled={!motion.value || calm} onClick={() => (still.value = !still.value)}>
          Hold still
        </button>
      </div>
      {moving.trouble && <p class="bad">! {moving.trouble}</p>}
      {moving.rows?.length === 0 && <p class="hint">The structure of this machine is not known well enough to bend it.</p>}
      {scale && scale.steps.length > 1 && (
        <div class="mv-axis">
          <label for="mv-larger">Drawn larger</label>
          <input
            type="range"
            id="mv-larger"
            min={0}
            max={scale.steps.length - 1}
            step={1}
            value={at}
            aria-valuetext={said}
            onInput={(e) => (larger.value = Number(e.currentTarget.value) - scale.usual)}
          />
        </div>
      )}
      {said && (
        <p class="hint">
          {capital(said)}. {row?.kind === "mode" && row.words && `Bends: ${row.words}.`}
          {calm && " Held still where it is largest, as this device asks for little motion."}
        </p>
      )}
    </div>
  );
}

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);
