/** Standard views, and the keys of the drawing. */
import { useEffect, useRef } from "preact/hooks";
import { scene } from "../state";
import { jog } from "./axes";
import { type Way, WAYS } from "./eye";
import { way } from "./look";
import type { MachineView } from "./view";

/** A turn by one press of an arrow key, radians; a push, px; nearer by. */
const TURN = Math.PI / 24;
const PUSH = 40;
const NEARER = 1.2;

/** A browser leaves a button alone that has the focus and is half in view. */
const bring = (button: Element | null | undefined): void => button?.scrollIntoView({ block: "nearest", inline: "nearest" });

export function ViewDrawer({ view }: { view: MachineView | null }) {
  const ways = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const room = new ResizeObserver(() => bring(ways.current?.querySelector("[aria-pressed=true]")));
    room.observe(ways.current!);
    return () => room.disconnect();
  }, [way.value]);
  return (
    <div class="mv-views" role="group" aria-label="Views">
      <div class="mv-ways" ref={ways} onFocusIn={(e) => bring(e.target as Element)}>
        {(Object.keys(WAYS) as Way[]).map((name) => (
          <button type="button" key={name} aria-pressed={way.value === name} title={WAYS[name].words} onClick={() => view?.look(name)}>
            {WAYS[name].label}
            <span class="unseen">, {WAYS[name].words}</span>
          </button>
        ))}
      </div>
      <div class="mv-near">
        <button type="button" onClick={() => view?.eye.nearer(1 / NEARER)} aria-label="Farther">
          −
        </button>
        <button type="button" onClick={() => view?.eye.nearer(NEARER)} aria-label="Nearer">
          +
        </button>
        <button type="button" onClick={() => view?.fit()}>
          Fit<span class="unseen"> all that is shown</span>
        </button>
      </div>
    </div>
  );
}

const BY_KEY: Record<string, Way> = { f: "front", b: "back", l: "left", r: "right", t: "top", i: "isometric" };
const ARROWS: Record<string, [right: number, down: number]> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/** Keys while the drawing has the focus. */
export function onPaperKey(e: KeyboardEvent, view: MachineView): void {
  if (e.ctrlKey || e.metaKey || e.altKey) return;
  const key = e.key.length === 1 ? e.key.toLowerCase() : e.key;
  const arrow = ARROWS[key];
  const axis = scene.value?.axes.find((a) => a.name === key);
  if (arrow) {
    if (e.shiftKey) view.eye.push(PUSH * arrow[0], PUSH * arrow[1]);
    else view.eye.turn(-TURN * arrow[0], TURN * -arrow[1]);
  } else if (key === "+" || key === "=") view.eye.nearer(NEARER);
  else if (key === "-" || key === "_") view.eye.nearer(1 / NEARER);
  else if (key === "Home") view.fit();
  else if (axis) jog(axis, e.shiftKey ? -1 : 1);
  else if (BY_KEY[key]) view.look(BY_KEY[key]);
  else return;
  e.preventDefault();
}
