/** Bodies to hide and show, and every part in a list: what the pointer does on the drawing, for the keyboard. */
import type { BodyRow, Scene } from "../contract";
import { choose, chosen, scene } from "../state";
import { alone, hidden, hide } from "./look";

export function Parts({ lookAt }: { lookAt: (part: string) => void }) {
  const shown = scene.value;
  if (!shown) return null;
  const roots = shown.bodies.filter((b) => !shown.bodies.some((other) => other.name === b.on));
  const only = (): void => {
    alone.value = alone.value ? "" : chosen.value;
  };
  return (
    <div class="mv-parts">
      <fieldset class="mv-bodies">
        <legend>Bodies shown</legend>
        <ul>
          {roots.map((b) => (
            <Body key={b.name} body={b} of={shown} />
          ))}
        </ul>
      </fieldset>
      <div class="mv-list">
        <label for="mv-part">Parts</label>
        <select id="mv-part" size={5} value={chosen.value} onChange={(e) => choose(e.currentTarget.value)}>
          {shown.bodies.map((b) => (
            <optgroup key={b.name} label={b.words}>
              {partsOf(shown, b.name).map(([part, label]) => (
                <option key={part} value={part} selected={part === chosen.value}>
                  {label}
                </option>
              ))}
            </optgroup>
          ))}
        </select>
        <div class="mv-choice">
          <button type="button" onClick={only} aria-pressed={alone.value !== ""} disabled={!chosen.value && !alone.value}>
            Show it alone
          </button>
          <button type="button" onClick={() => lookAt(chosen.value)} disabled={!chosen.value}>
            Look at it
          </button>
          <button type="button" onClick={() => choose("")} disabled={!chosen.value}>
            Let go
          </button>
        </div>
      </div>
    </div>
  );
}

function Body({ body, of }: { body: BodyRow; of: Scene }) {
  const below = of.bodies.filter((b) => b.on === body.name);
  const others = of.bodies.filter((b) => b.name !== body.name);
  const only = !hidden.value.has(body.name) && others.length > 0 && others.every((b) => hidden.value.has(b.name));
  return (
    <li>
      <span class="mv-body">
        <label class="switch">
          <input type="checkbox" checked={!hidden.value.has(body.name)} onChange={(e) => hide(body.name, !e.currentTarget.checked)} />
          {body.words}
        </label>
        <button
          type="button"
          class="quiet"
          aria-pressed={only}
          onClick={() => (hidden.value = new Set(only ? [] : others.map((b) => b.name)))}
        >
          only<span class="unseen"> {body.words}</span>
        </button>
      </span>
      {below.length > 0 && (
        <ul>
          {below.map((b) => (
            <Body key={b.name} body={b} of={of} />
          ))}
        </ul>
      )}
    </li>
  );
}

/** Parts of a body in the order of the file, each once, under the name of its first piece. */
export function partsOf(of: Scene, body: string): [part: string, label: string][] {
  const found = new Map<string, string>();
  for (const p of of.pieces) if (p.body === body && !found.has(p.part)) found.set(p.part, p.label);
  return [...found];
}
