/** A heat map on the page: read by pointer and by arrow keys; the machine can be stood at the place that is read. */
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import { AMOUNT } from "./color";
import type { Grid, Picture } from "./contract";
import { cellAt, cellOf, layout, paint, scaleOf, type Layout, type Scale } from "./map";
import { short, toldCell } from "./plotting";
import { pose } from "./state";

const HIGHEST = 420;
const LEAST = 200;

export function Heat({ picture, grid, scale = scaleOf(grid), canStand = true }: { picture: Picture; grid: Grid; scale?: Scale; canStand?: boolean }) {
  const host = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const laid = useRef<Layout | null>(null);
  const [wide, fit] = useState(0);
  const [read, stand] = useState<[number, number] | null>(null);
  useEffect(() => {
    const watch = new ResizeObserver(() => fit(host.current?.clientWidth ?? 0));
    watch.observe(host.current!);
    return () => watch.disconnect();
  }, []);
  const held = read && read[0] < grid.xs.length && read[1] < grid.ys.length ? read : null;
  useLayoutEffect(() => {
    laid.current = layout(grid, Math.max(LEAST, wide || host.current!.clientWidth), HIGHEST);
    paint(canvas.current!, picture, grid, scale, laid.current, held);
  }, [picture, grid, scale.low, scale.high, wide, held?.[0], held?.[1]]);
  const goThere = (at: [number, number] | null): void => {
    if (at && canStand) pose.value = { ...pose.value, ...poseAt(grid, ...at) };
  };
  const words = held ? toldCell(picture, grid, ...held) : "point at the map, or read it with the arrow keys";
  return (
    <div class="heat">
      <div
        class="heat-map"
        ref={host}
        role="application"
        aria-roledescription="map"
        tabIndex={0}
        aria-label={`${grid.name ? `${grid.name}: ` : ""}${picture.title}, read by arrow keys`}
        onKeyDown={(e) => {
          const next = movedCell(e.key, held, grid);
          if (next) stand(next);
          else if (e.key === "Enter") goThere(held);
          else if (e.key === "Escape" && held) stand(null);
          else return;
          e.preventDefault();
          e.stopPropagation();
        }}
      >
        <canvas
          ref={canvas}
          aria-hidden="true"
          onPointerMove={(e) => {
            const at = laid.current && cellAt(laid.current, e.offsetX, e.offsetY);
            if (at && (at[0] !== held?.[0] || at[1] !== held?.[1])) stand(at);
          }}
          onClick={(e) => stand(laid.current && cellAt(laid.current, e.offsetX, e.offsetY))}
        />
      </div>
      <p class="heat-scale">
        <span>
          {short(scale.low)} {grid.unit}
        </span>
        <span class="ramp" style={{ background: `linear-gradient(to right, ${AMOUNT.join(", ")})` }} aria-hidden="true" />
        <span>
          {short(scale.high)} {grid.unit}
        </span>
        {grid.worst && <span class="ring-key">{grid.worst.text}</span>}
      </p>
      <div class="heat-read">
        <p aria-live="polite" class={held ? "" : "hint"}>
          {words}
        </p>
        {canStand && (grid.axes?.length ?? 0) === 2 && (
          <button type="button" disabled={!held} onClick={() => goThere(held)}>
            Stand the machine there
          </button>
        )}
      </div>
    </div>
  );
}

/** Where the axes stand for a cell, in metres. */
export function poseAt(grid: Grid, i: number, j: number): Record<string, number> {
  const [x, y] = grid.axes ?? [];
  if (!x || !y) return {};
  return { [x]: grid.xs[i] * (grid.metres ?? 1), [y]: grid.ys[j] * (grid.metres ?? 1) };
}

/** The cell that a key leads to; null where the key is for something else. The first key begins at the weak place. */
export function movedCell(key: string, at: [number, number] | null, grid: Grid): [number, number] | null {
  const [right, top] = [grid.xs.length - 1, grid.ys.length - 1];
  const steps: Record<string, [number, number]> = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1], Home: [-right, 0], End: [right, 0], PageUp: [0, top], PageDown: [0, -top] };
  const step = steps[key];
  if (!step) return null;
  if (!at) return grid.worst ? cellOf(grid, grid.worst.x, grid.worst.y) : [0, 0];
  return [Math.min(right, Math.max(0, at[0] + step[0])), Math.min(top, Math.max(0, at[1] + step[1]))];
}
