/** The chosen part: what it is, and its fields in place. */
import { useEffect, useRef } from "preact/hooks";
import { Group } from "./group";
import { choose, chosen, scene } from "./state";

export function ChosenPart() {
  const part = chosen.value;
  const box = useRef<HTMLElement>(null);
  useEffect(() => box.current?.scrollIntoView({ block: "nearest" }), [part]);
  if (!part) return null;
  const pieces = scene.value?.pieces.filter((p) => p.part === part) ?? [];
  const first = pieces[0];
  return (
    <section class="chosen" aria-labelledby="chosen-title" ref={box}>
      <header>
        <h2 id="chosen-title">{first?.label ?? part}</h2>
        <button type="button" class="quiet" onClick={() => choose("")}>
          Let go
        </button>
      </header>
      {first && (
        <dl class="details">
          {first.detail.map(([label, text]) => (
            <div key={label}>
              <dt>{label}</dt>
              <dd>{text}</dd>
            </div>
          ))}
        </dl>
      )}
      <Group key={part} path={part} title={`Fields of ${part}`} open />
    </section>
  );
}
