/** Where the axes stand: sliders and jogging, and what the machine gives there. */
import { useEffect, useState } from "preact/hooks";
import { newestOnly, get } from "../api";
import type { AtPose, AxisRow, Units } from "../contract";
import { answers, choose, motion, pose, scene } from "../state";
import { length } from "./say";

/** One press of a jog key or button, and one step of a slider, m. */
const STEP: Record<Units, { jog: number; slide: number }> = {
  metric: { jog: 0.01, slide: 0.001 },
  inch: { jog: 0.0127, slide: 0.0254 / 16 },
};
/** The axes rest when nobody has moved them for so long, ms. */
const REST_MS = 130;

export function place(axis: AxisRow, at: number): void {
  motion.value = ""; // a motion belongs to a place of its own
  pose.value = { ...pose.value, [axis.name]: Math.max(0, Math.min(axis.travel, at)) };
}

export function jog(axis: AxisRow, steps: number): void {
  const units = scene.value?.show ?? "metric";
  place(axis, (pose.value[axis.name] ?? axis.drawn) + steps * STEP[units].jog);
}

export function Axes() {
  const shown = scene.value;
  if (!shown) return null;
  const step = STEP[shown.show];
  return (
    <div class="mv-axes">
      <div class="mv-sliders">
        {shown.axes.map((axis) => {
          const at = pose.value[axis.name] ?? axis.drawn;
          const name = axis.name.toUpperCase();
          return (
            <div class="mv-axis" key={axis.name}>
              <label for={`mv-axis-${axis.name}`}>{name}</label>
              <output for={`mv-axis-${axis.name}`}>{length(at, shown.show)}</output>
              <button type="button" onClick={() => jog(axis, -1)} disabled={at <= 0} aria-label={`${name} back by ${length(step.jog, shown.show)}`}>
                −
              </button>
              <input
                type="range"
                id={`mv-axis-${axis.name}`}
                min={0}
                max={Math.ceil(axis.travel / step.slide - 1e-6) * step.slide}
                step={step.slide}
                value={at}
                aria-valuetext={length(at, shown.show)}
                onInput={(e) => place(axis, Number(e.currentTarget.value))}
              />
              <button
                type="button"
                onClick={() => jog(axis, 1)}
                disabled={at >= axis.travel}
                aria-label={`${name} on by ${length(step.jog, shown.show)}`}
              >
                +
              </button>
            </div>
          );
        })}
        <button type="button" class="quiet" onClick={() => (pose.value = {})} disabled={Object.keys(pose.value).length === 0}>
          Back as drawn
        </button>
      </div>
      <Here />
    </div>
  );
}

const ask = newestOnly(async (wanted: { query: string; tell: (told: AtPose | null, trouble: string) => void }) => {
  try {
    wanted.tell(await get<AtPose>(`/api/pose?${wanted.query}`), "");
  } catch (trouble) {
    wanted.tell(null, (trouble as Error).message);
  }
});

/** What the machine gives where the axes stand: asked once they rest. */
function Here() {
  const shown = scene.value;
  const [held, hold] = useState<{ query: string; told: AtPose | null; trouble: string }>({ query: "", told: null, trouble: "" });
  const query = (shown?.axes ?? []).map((a) => `${a.name}=${pose.value[a.name] ?? a.drawn}`).join("&");
  const key = `${query}#${answers.value}`;
  useEffect(() => {
    let gone = false;
    const later = setTimeout(() => {
      void ask({ query, tell: (told, trouble) => gone || hold({ query: key, told, trouble }) });
    }, REST_MS);
    return () => {
      gone = true;
      clearTimeout(later);
    };
  }, [key]);
  if (!shown) return null;
  if (held.trouble) return <p class="bad mv-here">! {held.trouble}</p>;
  if (!held.told) return <p class="hint mv-here">Asking what it gives here …</p>;
  const told = held.told;
  return (
    <div class="mv-here" data-old={held.query !== key ? "" : undefined} aria-live="polite">
      <p>
        Stiffness at the cutter, softest way: <b>{told.stiffness}</b>
      </p>
      <p class="hint">
        Gives{" "}
        {Object.entries(told.give)
          .map(([way, text]) => `${way.toUpperCase()} ${text}`)
          .join(", ") || "unknown"}
      </p>
      {told.off_table && <p class="bad">! The tool is not over the table here.</p>}
      {told.soft.length > 0 && (
        <ul class="mv-soft">
          {told.soft.map((line) => (
            <li key={line}>
              <Soft line={line} />
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

/** A part and its share. Where the part itself is drawn it can be chosen. */
function Soft({ line }: { line: string }) {
  const [path, ...rest] = line.split(":");
  const label = scene.value?.pieces.find((p) => p.part === path)?.label;
  if (!label) return <>{line}</>;
  return (
    <>
      <button type="button" class="link" onClick={() => choose(path)}>
        {label}
      </button>
      :{rest.join(":")}
    </>
  );
}
