/** The stiffness over the table on a finer grid: long work, so it is asked for; typical values. */
import { useState } from "preact/hooks";
import type { Grid, Picture } from "./contract";
import { Heat } from "./heat";
import { JobHere } from "./jobs";
import { short } from "./plotting";
import { longWork, useWork } from "./work";

type Nested<T> = T | Nested<T>[];

export interface FineTold {
  /** Names of the axes, in the order in which the lists are nested. */
  axes: string[];
  /** Places of each axis, m. */
  places: number[][];
  /** N/m */
  least: Nested<number | null>;
  /** The place is over the table. */
  over: Nested<boolean>;
}

export const fineWork = longWork<FineTold>("fine-map", "There is nothing to draw: the structure of this machine is not known well enough.");

/** `picture` is the coarse map: its axes, units and words hold for the fine one. */
export function FineMap({ picture }: { picture: Picture }) {
  const { mine, job, under, old } = useWork(fineWork);
  const [height, stand] = useState(-1);
  const coarse = picture.map;
  if (!coarse || coarse.axes?.length !== 2) return null;
  const told = mine?.told ?? null;
  const other = told ? otherAxis(told, coarse) : -1;
  const grid = told && fineGrid(told, coarse, height);
  return (
    <section class="fine-map" aria-labelledby="fine-map-title">
      <h4 id="fine-map-title">On a finer grid</h4>
      <button type="button" disabled={under} onClick={fineWork.ask}>
        {under ? "Being worked out …" : told ? "Work it out again" : "Work it out finely"}
      </button>
      <JobHere job={job} />
      {mine?.trouble && (
        <p class="bad" role="alert">
          ! {mine.trouble}
        </p>
      )}
      {told && old && <p class="bad">! The machine has changed since: this map is of the one before.</p>}
      {told && other >= 0 && (
        <label class="seek">
          Height
          <select value={height} onChange={(e) => stand(Number(e.currentTarget.value))}>
            <option value={-1}>where it is softest</option>
            {told.places[other].map((place, k) => (
              <option key={place} value={k}>
                {told.axes[other].toUpperCase()} {short(place / (coarse.metres ?? 1))} {picture.x?.unit ?? ""}
              </option>
            ))}
          </select>
        </label>
      )}
      {grid && (
        <>
          <p class="hint">
            Typical values, {grid.xs.length} by {grid.ys.length} places.
          </p>
          <Heat picture={{ ...picture, title: `${picture.title}, finely` }} grid={grid} />
        </>
      )}
    </section>
  );
}

const otherAxis = (told: FineTold, coarse: Grid): number => told.axes.findIndex((name) => !coarse.axes!.includes(name));

/** A grid to draw, in the units of the coarse one: at one place of the third axis, or (-1) the least over all of its places. */
export function fineGrid(told: FineTold, coarse: Grid, height: number): Grid | null {
  const [across, up] = coarse.axes!.map((name) => told.axes.indexOf(name));
  if (across === undefined || up === undefined || across < 0 || up < 0) return null;
  const other = otherAxis(told, coarse);
  const values = told.places[up].map((): (number | null)[] => told.places[across].map(() => null));
  for (const at of allPlaces(told.places.map((p) => p.length))) {
    if (height >= 0 && other >= 0 && at[other] !== height) continue;
    const value = reach(told.least, at);
    if (value === null || !reach(told.over, at)) continue;
    const [i, j] = [at[across], at[up]];
    const shown = value / (coarse.si ?? 1);
    values[j][i] = Math.min(values[j][i] ?? Infinity, shown);
  }
  const [xs, ys] = [across, up].map((k) => told.places[k].map((place) => place / (coarse.metres ?? 1)));
  const grid: Grid = { xs, ys, values, unit: coarse.unit, axes: coarse.axes, metres: coarse.metres, si: coarse.si, worst: null };
  return { ...grid, worst: softest(grid) };
}

function softest(grid: Grid): Grid["worst"] {
  let worst: Grid["worst"] = null;
  let least = Infinity;
  grid.values.forEach((row, j) =>
    row.forEach((value, i) => {
      if (value === null || value >= least) return;
      least = value;
      worst = { x: grid.xs[i], y: grid.ys[j], text: `softest ${short(value)} ${grid.unit}, typical` };
    }),
  );
  return worst;
}

const reach = <T,>(nested: Nested<T>, at: number[]): T => at.reduce<Nested<T>>((list, k) => (list as Nested<T>[])[k], nested) as T;

function* allPlaces(lengths: number[]): Generator<number[]> {
  if (lengths.length === 0) return yield [];
  for (const rest of allPlaces(lengths.slice(0, -1))) for (let k = 0; k < lengths[lengths.length - 1]; k++) yield [...rest, k];
}
