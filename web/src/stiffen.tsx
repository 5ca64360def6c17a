/** What to stiffen first: every change that can be built, tried by the program; long work, so it is asked for. */
import { edit } from "./api";
import type { Edit } from "./contract";
import { JobHere } from "./jobs";
import { attempt } from "./said";
import { longWork, useWork } from "./work";

interface Tried {
  words: string;
  edits: Edit[];
  stiffness: string;
  give: string;
  holds: string;
  mass: string;
  moving: string;
  cost: string;
  notes: string[];
}

interface Told {
  lead: string;
  none: string[];
  warning: string;
  rows: Tried[];
  /** What a cost that is told as "about" is; "" where none is. */
  estimate: string;
  little: number;
  together: Tried | null;
  refused: { words: string; reason: string; share: string }[];
}

export const stiffenWork = longWork<Told>("stiffen", "Nothing was found.");

export function StiffenFirst() {
  const { mine, job, under, old } = useWork(stiffenWork);
  return (
    <section class="stiffen" aria-labelledby="stiffen-title">
      <h3 id="stiffen-title">What to stiffen first</h3>
      {!mine?.told && <p class="hint">Tries every change that can be built, one by one, and tells what it gains, weighs and costs.</p>}
      <button type="button" disabled={under} onClick={stiffenWork.ask}>
        {under ? "Being tried …" : mine?.told ? "Try again" : "Try all changes"}
      </button>
      <JobHere job={job} />
      {mine?.trouble && (
        <p class="bad" role="alert">
          ! {mine.trouble}
        </p>
      )}
      {mine?.told && <Answer told={mine.told} old={old} />}
    </section>
  );
}

function Answer({ told, old }: { told: Told; old: boolean }) {
  return (
    <div role="region" aria-label="Changes that were tried">
      {old && <p class="bad">! The machine has changed since: these numbers are of the one before.</p>}
      {told.warning && <p class="bad">! {told.warning}</p>}
      {told.none.map((words) => (
        <p key={words}>{words}</p>
      ))}
      {told.lead && <p>{told.lead}</p>}
      {told.together && (
        <>
          <h4>Together</h4>
          <ul class="plain">
            <Change tried={told.together} />
          </ul>
        </>
      )}
      {told.rows.length > 0 && (
        <>
          <h4>One by one, the greatest gain first</h4>
          <ol class="plain">
            {told.rows.map((row) => (
              <Change key={row.words} tried={row} />
            ))}
          </ol>
        </>
      )}
      {told.little > 0 && <p class="hint">{told.little} more change next to nothing.</p>}
      {told.refused.map((r) => (
        <p class="hint" key={r.words}>
          Not tried (holds {r.share} of the give): {r.words}: {r.reason}
        </p>
      ))}
      {told.estimate && <p class="hint">{told.estimate}</p>}
      {told.rows.length > 0 && (
        <p class="hint">Typical values, tried at the same place; only the structure is looked at. The checks speak once a change is made.</p>
      )}
    </div>
  );
}

function Change({ tried }: { tried: Tried }) {
  return (
    <li class="remedy">
      <p>
        <strong>{tried.words}</strong>
      </p>
      <p class="hint">
        {tried.stiffness}, give {tried.give} · mass {tried.mass}
        {tried.moving !== tried.mass && ` (${tried.moving} of it moving)`} · cost {tried.cost} · holds {tried.holds} of the give now
      </p>
      {tried.notes.map((note) => (
        <p class="hint" key={note}>
          {note}
        </p>
      ))}
      <button type="button" onClick={() => attempt(`Tried: ${tried.words}`, () => edit(tried.edits, `try: ${tried.words}`))}>
        Try it<span class="unseen">: {tried.words}</span>
      </button>
    </li>
  );
}
