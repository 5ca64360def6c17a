/** Words under the drawing. */
import type { Motion, Tints } from "../contract";
import { chosen, chosenToo, motion, pose, scene } from "../state";
import { TintKey } from "./colour";
import { WAYS } from "./eye";
import { alone, cut, hidden, way } from "./look";
import { timesOf } from "./motion";
import { enlargedShort, length, poseWords } from "./say";
import { isPart, tintOf } from "./tints";

/** What the drawing shows, for those who do not see it. */
export function inWords(tints: Tints | null, moving: Motion | null): string {
  const shown = scene.value;
  if (!shown) return "No machine is drawn.";
  const parts = new Set(shown.pieces.filter(isPart).map((p) => p.part)).size;
  const bodies = shown.bodies.map((b) => b.words.toLowerCase()).join(", ");
  const from = way.value ? `Seen ${WAYS[way.value].words.startsWith("from") ? WAYS[way.value].words : `from the ${way.value}`}` : "Seen from a free direction";
  const said = [`${shown.name}: ${parts} parts in ${shown.bodies.length} bodies (${bodies}).`, `${from}; axes stand at ${poseWords(shown, moving?.pose ?? pose.value)}.`];
  const first = shown.pieces.find((p) => p.part === chosen.value);
  const too = shown.pieces.find((p) => p.part === chosenToo.value);
  if (first) said.push(`Chosen: ${first.label}, ${first.detail.map(([label, text]) => `${label} ${text}`).join(", ")}.`);
  if (too) said.push(`Chosen besides: ${too.label}.`);
  if (tints) said.push(`Colours: ${tints.words}`);
  if (moving) said.push(`Moving: ${moving.name}, ${enlargedShort(moving, timesOf(moving, shown), shown.show)}.`);
  said.push("Every part is listed under Parts.");
  return said.join(" ");
}

/** Words under the drawing: from where, what the colours say, what is hidden, cut and moving, each with the way back. */
export function Foot({ tints, moving }: { tints: Tints | null; moving: Motion | null }) {
  const shown = scene.value;
  if (!shown) return null;
  const away = shown.bodies.filter((b) => hidden.value.has(b.name)).map((b) => b.words.toLowerCase());
  const first = shown.pieces.find((p) => p.part === alone.value);
  const told = tints && chosen.value ? tintOf(tints, shown.pieces, chosen.value) : "";
  const named = shown.pieces.find((p) => p.part === chosen.value)?.label;
  return (
    <div class="mv-foot">
      <p>
        {way.value ? `${WAYS[way.value].label === "Iso" ? "Isometric" : WAYS[way.value].label}: ${WAYS[way.value].words}.` : "Turned freely."}{" "}
        {!moving && `At ${poseWords(shown, pose.value)}.`}
      </p>
      {tints && <TintKey tints={tints} pieces={shown.pieces} />}
      {told && (
        <p>
          <b>{named}</b>: {told}
        </p>
      )}
      {moving && (
        <p class="mv-line">
          <span>
            {moving.name}: <b>{enlargedShort(moving, timesOf(moving, shown), shown.show)}</b>, at {poseWords(shown, moving.pose)}
          </span>
          <button type="button" class="quiet" onClick={() => (motion.value = "")}>
            End<span class="unseen"> the motion</span>
          </button>
        </p>
      )}
      {cut.value && (
        <p class="mv-line">
          <span>
            Cut at {cut.value.axis.toUpperCase()} {length(cut.value.at, shown.show)}
          </span>
          <button type="button" class="quiet" onClick={() => (cut.value = null)}>
            Close<span class="unseen"> the cut</span>
          </button>
        </p>
      )}
      {(away.length > 0 || first) && (
        <p class="mv-line">
          <span>{first ? `Shown alone: ${first.label}` : `Not shown: ${away.join(", ")}`}</span>
          <button
            type="button"
            class="quiet"
            onClick={() => {
              hidden.value = new Set();
              alone.value = "";
            }}
          >
            Show all
          </button>
        </p>
      )}
    </div>
  );
}
