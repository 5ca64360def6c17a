/** Bars as plain page: each chooses its part, so that it can be seen and changed. */
import { useState } from "preact/hooks";
import type { Bar, Picture } from "./contract";
import { barEnds, barPart, barTicks, named, short, type Range } from "./plotting";
import { choose, chosen, openField, scene } from "./state";

const FIRST = 8;

export function Bars({ picture }: { picture: Picture }) {
  const [all, showAll] = useState(false);
  const two = (picture.names?.length ?? 0) > 1;
  const ends = barEnds(picture);
  const lines = picture.marks.map((m) => barPart(m.x, ends));
  return (
    <>
      {two && (
        <p class="bars-names">
          <span class="bar-swatch" aria-hidden="true" /> {picture.names![0]} <span class="bar-swatch bar-other" aria-hidden="true" /> {picture.names![1]}
        </p>
      )}
      {picture.marks.map((m) => (
        <p class="bars-names" key={m.text}>
          <span class="bar-line-key" aria-hidden="true" /> {m.text}
        </p>
      ))}
      <ol class={picture.y?.log ? "bars bars-long" : "bars"}>
        {picture.bars.slice(0, all ? undefined : FIRST).map((bar) => (
          <li key={bar.label}>
            <BarRow bar={bar} ends={ends} lines={lines} names={two ? picture.names! : []} />
          </li>
        ))}
      </ol>
      {picture.y?.log && <Decades ends={ends} of={named(picture.y)} />}
      {picture.bars.length > FIRST && (
        <button type="button" class="quiet" aria-expanded={all} onClick={() => showAll(!all)}>
          {all ? `The first ${FIRST} only` : `All ${picture.bars.length}`}
        </button>
      )}
    </>
  );
}

/** Powers of ten below logarithmic bars. */
function Decades({ ends, of }: { ends: Range; of: string }) {
  return (
    <div class="bars-long bars-scale" aria-hidden="true">
      <div class="bar">
        <span class="bar-label">{of}</span>
        <span class="bar-room">
          {barTicks(ends).map((tick) => (
            <span class="bar-tick" key={tick} style={{ left: percent(barPart(tick, ends)) }}>
              {short(tick)}
            </span>
          ))}
        </span>
      </div>
    </div>
  );
}

const percent = (part: number): string => `${100 * part}%`;

function BarRow({ bar, ends, lines, names }: { bar: Bar; ends: Range; lines: number[]; names: string[] }) {
  const part = drawnPart(bar.part);
  const inside = (
    <>
      <span class="bar-label">{bar.label}</span>
      <span class="bar-room" aria-hidden="true">
        <span class="bar-fill" style={{ width: percent(barPart(bar.value, ends)) }} />
        {names.length > 1 && <span class="bar-fill bar-other" style={{ width: percent(barPart(bar.other ?? 0, ends)) }} />}
        {barTicks(ends).map((tick) => (
          <span class="bar-decade" key={tick} style={{ left: percent(barPart(tick, ends)) }} />
        ))}
        {lines.map((at) => (
          <span class="bar-line" key={at} style={{ left: percent(at) }} />
        ))}
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
