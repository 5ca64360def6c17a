/** What to stiffen first: every change that can be built, tried by the program; long work, so it is asked for. */
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { edit, get, type Job, request } from "./api";
import type { Edit } from "./contract";
import { attempt } from "./said";
import { state } from "./state";

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
  little: number;
  together: Tried | null;
  refused: { words: string; reason: string; share: string }[];
}

/** The work under way or done, and the answers that it is about. */
const asked = signal<{ job: Job["id"]; boot: string; answers: number; told: Told | null; trouble: string } | null>(null);

async function ask(): Promise<void> {
  const s = state.value!;
  const blank = { job: "", boot: s.boot, answers: s.answers_rev, told: null };
  asked.value = { ...blank, trouble: "" };
  try {
    const job = await request<Job>("POST", "/api/jobs", { kind: "stiffen" });
    asked.value = { ...blank, job: job.id, trouble: "" };
  } catch (trouble) {
    asked.value = { ...blank, trouble: (trouble as Error).message };
  }
}

/** The job has ended: fetch what it found, or say why there is nothing. */
async function collect(id: Job["id"]): Promise<void> {
  const mine = asked.value;
  if (!mine || mine.job !== id || mine.told || mine.trouble) return;
  try {
    const job = await get<Job & { result: Told | null }>(`/api/jobs/${id}`);
    if (job.state === "done" && job.result) asked.value = { ...mine, told: job.result };
    else if (job.state !== "running") asked.value = { ...mine, trouble: job.state === "cancelled" ? "It was stopped." : job.note };
  } catch (trouble) {
    asked.value = { ...mine, trouble: (trouble as Error).message };
  }
}

export function StiffenFirst() {
  const s = state.value!;
  const mine = asked.value?.boot === s.boot ? asked.value : null;
  const job = mine && s.jobs.find((j) => j.id === mine.job);
  const ended = job && job.state !== "running";
  useEffect(() => {
    if (mine && ended) void collect(mine.job);
  }, [mine?.job, ended]);
  const under = mine && !mine.told && !mine.trouble;
  return (
    <section class="stiffen" aria-labelledby="stiffen-title">
      <h3 id="stiffen-title">What to stiffen first</h3>
      {!mine?.told && <p class="hint">Tries every change that can be built, one by one, and tells what it gains, weighs and costs.</p>}
      <button type="button" disabled={Boolean(under)} onClick={ask}>
        {under ? "Being tried …" : mine?.told ? "Try again" : "Try all changes"}
      </button>
      {mine?.trouble && (
        <p class="bad" role="alert">
          ! {mine.trouble}
        </p>
      )}
      {mine?.told && <Answer told={mine.told} old={mine.answers !== s.answers_rev} />}
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
