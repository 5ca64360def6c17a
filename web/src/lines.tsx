/** A chart on the page: read by pointer and by keys, its lines named with what they have at the place that is read. */
import { useEffect, useRef, useState } from "preact/hooks";
import { Chart, styleOf } from "./chart";
import type { Picture } from "./contract";
import { readAt, short, told } from "./plotting";

export function Lines({ picture }: { picture: Picture }) {
  const host = useRef<HTMLDivElement>(null);
  const chart = useRef<Chart | null>(null);
  const [at, stand] = useState<number | null>(null);
  useEffect(() => {
    chart.current = new Chart(host.current!, picture, stand);
    return () => chart.current?.destroy();
  }, []);
  useEffect(() => chart.current?.show(picture), [picture]);
  const xs = picture.series.flatMap((s) => s.points.map(([x]) => x));
  const read = at === null ? [] : readAt(picture.series, at, picture.x?.log ?? false);
  const unit = (text: string | undefined) => (text ? ` ${text}` : "");
  return (
    <div class="lines-chart">
      <div
        class="chart"
        ref={host}
        role="slider"
        tabIndex={0}
        aria-label={`${picture.title}, read along ${picture.x?.label ?? "the axis"}`}
        aria-valuemin={Math.min(...xs)}
        aria-valuemax={Math.max(...xs)}
        aria-valuenow={at ?? Math.min(...xs)}
        aria-valuetext={at === null ? "nothing read yet; the arrow keys read along, the page keys go from mark to mark" : told(picture, at)}
        onKeyDown={(e) => {
          if (!chart.current) return;
          const next = moved(e.key, e.shiftKey, at, chart.current.places, picture);
          if (next === undefined) return;
          e.preventDefault();
          e.stopPropagation();
          chart.current.stand(next);
          stand(next);
        }}
      />
      <ul class="legend">
        <li class="legend-at">{at === null ? <span class="hint">point at the chart, or read it with the arrow keys</span> : `at ${short(at)}${unit(picture.x?.unit)}`}</li>
        {picture.series.map((s, number) => {
          const style = styleOf(s, number);
          return (
            <li key={s.name}>
              <svg width="30" height="10" aria-hidden="true">
                {s.mark === "points" ? (
                  <circle cx="15" cy="5" r="4" fill={style.color} />
                ) : (
                  <line x1="0" x2="30" y1="5" y2="5" stroke={style.color} stroke-width={style.width} stroke-dasharray={style.dash.join(" ") || undefined} />
                )}
              </svg>
              {s.name}
              {at !== null && <b>{read[number] ? `${short(read[number][1])}${unit(picture.y?.unit)}` : "–"}</b>}
            </li>
          );
        })}
        {picture.series.some((s) => s.band.length > 0) && (
          <li>
            <svg width="30" height="12" aria-hidden="true">
              <rect width="30" height="12" fill="#285b8e" opacity="0.16" />
            </svg>
            5 % to 95 %
          </li>
        )}
      </ul>
    </div>
  );
}

/** The place that a key leads to; null leaves the chart, undefined means that the key is not for it. */
export function moved(key: string, fine: boolean, at: number | null, places: readonly number[], picture: Picture): number | null | undefined {
  if (places.length === 0) return undefined;
  const last = places.length - 1;
  const now = at === null ? -1 : near(places, at);
  const step = fine ? 1 : Math.max(1, Math.round(places.length / 60));
  const marks = [...new Set(picture.marks.map((m) => places[near(places, m.x)]))].sort((a, b) => a - b);
  switch (key) {
    case "ArrowRight":
    case "ArrowUp":
      return places[Math.min(last, now < 0 ? 0 : now + step)];
    case "ArrowLeft":
    case "ArrowDown":
      return places[now < 0 ? last : Math.max(0, now - step)];
    case "PageUp":
      return marks.find((x) => at === null || x > at) ?? marks.at(-1) ?? places[last];
    case "PageDown":
      return marks.findLast((x) => at === null || x < at) ?? marks[0] ?? places[0];
    case "Home":
      return places[0];
    case "End":
      return places[last];
    case "Escape":
      return at === null ? undefined : null;
    default:
      return undefined;
  }
}

function near(places: readonly number[], x: number): number {
  return places.reduce((best, place, i) => (Math.abs(place - x) < Math.abs(places[best] - x) ? i : best), 0);
}
