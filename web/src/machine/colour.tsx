/** What the parts are coloured by, and the key of it. */
import { AMOUNT, SIGNED } from "../color";
import type { Piece, TintBy, Tints } from "../contract";
import { tint } from "../state";
import { partCounts, tintCounts, tintEnds } from "./tints";

const BY: [TintBy, string][] = [
  ["none", "Material"],
  ["give", "Give"],
  ["mass", "Mass"],
  ["owned", "Owned"],
  ["finding", "Findings"],
];

export function ColourDrawer({ tints }: { tints: Tints | null }) {
  return (
    <div class="mv-colour">
      <div class="mv-choice" role="group" aria-label="Colour by">
        {BY.map(([by, label]) => (
          <button type="button" key={by} aria-pressed={tint.value === by} onClick={() => (tint.value = by)}>
            {label}
          </button>
        ))}
      </div>
      <p class="hint">
        {tint.value === "none" ? "Paper tones by material: nothing is told by them." : tints ? tints.words : "Fetching what the colours say …"}
      </p>
    </div>
  );
}

/** A ramp with its two ends, or the states with their signs. */
export function TintKey({ tints, pieces }: { tints: Tints; pieces: readonly Piece[] }) {
  if (tints.scale.kind === "state") {
    const { all, mixed } = partCounts(tints, pieces);
    return (
      <ul class="mv-key">
        {tintCounts(tints, pieces).map((row) => (
          <li key={row.value}>
            <span class="mv-swatch" style={{ background: row.color }} aria-hidden="true">
              {row.sign}
            </span>
            {row.count} {row.count === 1 ? "part" : "parts"} {row.word}
          </li>
        ))}
        <li>
          of {all} {all === 1 ? "part" : "parts"}
          {pieces.some((p) => p.kind === "joint") && ", joints not counted"}
          {mixed > 0 && "; one with pieces of several kinds is counted in each"}
        </li>
      </ul>
    );
  }
  const [low, high] = tintEnds(tints);
  const stops = tints.scale.kind === "signed" ? SIGNED : AMOUNT;
  return (
    <p class="mv-key">
      <span>{low}</span>
      <span class="mv-ramp" style={{ background: `linear-gradient(to right, ${stops.join(", ")})` }} aria-hidden="true" />
      <span>
        <span class="unseen">to </span>
        {high}
      </span>
      <span class="mv-swatch mv-unknown" aria-hidden="true" /> not told
    </p>
  );
}
