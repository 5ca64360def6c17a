/** The section: across which axis, where, and which side stays. */
import { scene } from "../state";
import type { Cut } from "./cut";
import { cut } from "./look";
import { length } from "./say";

const AXES = ["x", "y", "z"] as const;

export function CutDrawer({ facing }: { facing: (axis: Cut["axis"]) => Cut["keeps"] }) {
  const shown = scene.value;
  if (!shown) return null;
  const now = cut.value;
  const ends = (axis: Cut["axis"]): [number, number] => [shown.box[0][AXES.indexOf(axis)], shown.box[1][AXES.indexOf(axis)]];
  const begin = (axis: Cut["axis"]): void => {
    const [low, high] = ends(axis);
    cut.value = { axis, at: Math.round(500 * (low + high)) / 1000, keeps: facing(axis) };
  };
  return (
    <div class="mv-cut">
      <div class="mv-choice" role="group" aria-label="Cut across">
        <button type="button" aria-pressed={!now} onClick={() => (cut.value = null)}>
          No cut
        </button>
        {AXES.map((axis) => (
          <button type="button" key={axis} aria-pressed={now?.axis === axis} onClick={() => begin(axis)}>
            <span class="unseen">Across </span>
            {axis.toUpperCase()}
          </button>
        ))}
        <button type="button" disabled={!now} onClick={() => now && (cut.value = { ...now, keeps: now.keeps === 1 ? -1 : 1 })}>
          Other side
        </button>
      </div>
      {now && (
        <div class="mv-axis">
          <label for="mv-cut-at">At</label>
          <output for="mv-cut-at">
            {now.axis.toUpperCase()} {length(now.at, shown.show)}
          </output>
          <input
            type="range"
            id="mv-cut-at"
            min={ends(now.axis)[0]}
            max={ends(now.axis)[1]}
            step={0.001}
            value={now.at}
            aria-valuetext={`${now.axis.toUpperCase()} ${length(now.at, shown.show)}`}
            onInput={(e) => (cut.value = { ...now, at: Number(e.currentTarget.value) })}
          />
        </div>
      )}
    </div>
  );
}
