/** Bars as plain page: each chooses its part, so that it can be seen and changed. */
import { useState } from "preact/hooks";
import type { Bar, Picture } from "./contract";
import { choose, chosen, openField, scene } from "./state";

const FIRST = 8;

export function Bars({ picture }: { picture: Picture }) {
  const [all, showAll] = useState(false);
  const two = (picture.names?.length ?? 0) > 1;
  const most = picture.bars.reduce((m, b) => Math.max(m, Math.abs(b.value), Math.abs(b.other ?? 0)), 0) || 1;
  return (
    <>
      {two && (
        <p class="bars-names">
          <span class="bar-swatch" aria-hidden="true" /> {picture.names![0]} <span class="bar-swatch bar-other" aria-hidden="true" /> {picture.names![1]}
        </p>
      )}
      <ol class="bars">
        {picture.bars.slice(0, all ? undefined : FIRST).map((bar) => (
          <li key={bar.label}>
            <BarRow bar={bar} most={most} names={two ? picture.names! : []} />
          </li>
        ))}
      </ol>
      {picture.bars.length > FIRST && (
        <button type="button" class="quiet" aria-expanded={all} onClick={() => showAll(!all)}>
          {all ? `The first ${FIRST} only` : `All ${picture.bars.length}`}
        </button>
      )}
    </>
  );
}

function BarRow({ bar, most, names }: { bar: Bar; most: number; names: string[] }) {
  const part = drawnPart(bar.part);
  const inside = (
    <>
      <span class="bar-label">{bar.label}</span>
      <span class="bar-room" aria-hidden="true">
        <span class="bar-fill" style={{ width: `${(100 * Math.abs(bar.value)) / most}%` }} />
        {names.length > 1 && <span class="bar-fill bar-other" style={{ width: `${(100 * Math.abs(bar.other ?? 0)) / most}%` }} />}
      </span>
      <span class="bar-text">
        {bar.text}
        {names.length > 1 && <span class="bar-text-other"> {bar.other_text}</span>}
      </span>
    </>
  );
  if (!bar.part) return <div class="bar">{inside}</div>;
  return (
    <button type="button" class="bar" aria-pressed={part ? chosen.value === part : undefined} onClick={() => (part ? choose(chosen.value === part ? "" : part) : openField(bar.part))}>
      {inside}
    </button>
  );
}

/** The drawn part that a bar stands for: itself, what lies below it, else what it belongs to; "" where nothing of it is drawn. */
export function drawnPart(path: string): string {
  const parts = scene.value?.pieces.map((p) => p.part) ?? [];
  const below = path ? parts.find((p) => p === path || p.startsWith(`${path}.`)) : "";
  if (below) return below;
  for (let at = path; at.includes("."); ) {
    at = at.slice(0, at.lastIndexOf("."));
    if (parts.includes(at)) return at;
  }
  return "";
}
