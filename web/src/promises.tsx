/** What the machine can promise: always in view, with band, wish, and what changed since the kept state. */
import { useSignal } from "@preact/signals";
import type { Promised } from "./contract";
import { previewed } from "./live";
import { attempt, keyOf, moved } from "./said";
import { tellAgainst, undo } from "./api";
import { openFigure, outdated, state, unanswered } from "./state";

const RANKS = ["machine", "job"];

/** How early something is told: what is in no list comes last. */
function rank(subject: string): number {
  const at = RANKS.indexOf(subject.split(".")[0]);
  return at < 0 ? RANKS.length : at;
}

/** Machine first, then its jobs, then axis by axis, in the order in which the program tells them. */
export function bySubject(promises: Promised[]): [subject: string, promises: Promised[]][] {
  const groups = new Map<string, Promised[]>();
  for (const p of promises) groups.set(p.subject, [...(groups.get(p.subject) ?? []), p]);
  return [...groups].sort(([a], [b]) => rank(a) - rank(b));
}

const axisOf = (subject: string): string => (subject.startsWith("axis.") ? subject.slice("axis.".length).toUpperCase() : "");

/** Where no heading stands above it. */
const whose = (subject: string): string => axisOf(subject) || subject.split(".").slice(1).join(".");

function titleOf(subject: string): string {
  if (subject === "machine") return "Whole machine";
  return axisOf(subject) ? `${axisOf(subject)} axis` : subject.replace(/^(\w+)\./, (_, kind: string) => `${kind[0].toUpperCase()}${kind.slice(1)} `);
}

export function Promises() {
  const binds = useSignal(false);
  const s = state.value!;
  const ahead = previewed.value;
  const would = new Map((ahead?.told.promises ?? []).map((p) => [keyOf(p), p]));
  if (unanswered.value)
    return (
      <aside class="promises" aria-labelledby="promises-title">
        <div class="promises-head">
          <h2 id="promises-title">Promises</h2>
        </div>
        <p class="hint promises-note">None yet: the file makes no machine.</p>
      </aside>
    );
  return (
    <aside class="promises" aria-labelledby="promises-title" data-outdated={outdated.value ? "" : undefined}>
      <div class="promises-head">
        <h2 id="promises-title">Promises</h2>
        <label class="switch">
          <input type="checkbox" checked={binds.value} onChange={(e) => (binds.value = e.currentTarget.checked)} />
          what binds
        </label>
      </div>
      <Against />
      <p class="hint promises-note" data-kind={ahead ? "ahead" : ""}>
        {ahead ? "As it would be with the typed text" : outdated.value ? "Of the last whole machine, not of the file" : ""}
      </p>
      <div class="promises-all" tabIndex={0} role="group" aria-label="Promises, axis by axis">
        {bySubject(s.promises).map(([subject, promises]) => (
          <section key={subject} class="promise-group" aria-label={titleOf(subject)}>
            <h3>{titleOf(subject)}</h3>
            <ul>
              {promises.map((p) => (
                <Row key={keyOf(p)} now={p} would={would.get(keyOf(p))} binds={binds.value} subject={subject} />
              ))}
            </ul>
          </section>
        ))}
      </div>
      <LastChange />
    </aside>
  );
}

/** What the changes are told against, to be chosen among the kept states; nothing to choose from while none is kept. */
function Against() {
  const { kept, keeps, promises } = state.value!;
  if (keeps.length === 0)
    return promises.some((p) => p.change) ? <p class="hint promises-against">Changes since it was opened</p> : null;
  const choose = (id: number): void => {
    const name = keeps.find((k) => k.id === id)?.name;
    void attempt(name ? `Changes are told since “${name}”` : "Changes are told since it was opened", () => tellAgainst(id));
  };
  return (
    <label class="hint promises-against">
      Changes since
      <select value={String(kept?.id ?? 0)} onChange={(e) => choose(Number(e.currentTarget.value))}>
        {keeps.map((k) => (
          <option key={k.id} value={String(k.id)}>
            {k.name}
          </option>
        ))}
        <option value="0">it was opened</option>
      </select>
    </label>
  );
}

function Row({ now, would, binds, subject }: { now: Promised; would?: Promised; binds: boolean; subject: string }) {
  const differs = would !== undefined && would.text !== now.text;
  const shown = differs ? would : now;
  const aim = would ?? now; // what is wanted may be what is typed, while the number stays
  const last = moved.value?.rows.find((r) => r.key === keyOf(now));
  const kind = differs ? "ahead" : now.text === "unknown" ? "unknown" : "";
  const body = (
    <>
      <span class="p-label">
        <span class="p-axis">{whose(subject)} </span>
        {now.what}
      </span>
      <span class="p-text">
        {differs && <span class="unseen">would be </span>}
        {shown.text}
      </span>
      <span class="p-more">
        {differs ? <span>now {now.text}</span> : last && !now.change && <span>was {last.was}</span>}
        {!differs && now.change && <Change now={now} />}
        {aim.wanted && (
          <span class={aim.reached === false ? "short" : ""}>
            {aim.reached === false && "✕ not the "}wanted {aim.wanted}
            {aim.undecided && ", not known whether reached"}
          </span>
        )}
        {shown.beside && !differs && <span>{shown.beside}</span>}
        {(shown.band || (shown.stale && shown.unit)) && !differs && (
          <span>
            {shown.band || "band"}
            {shown.stale && <Pending known={shown.band !== ""} />}
          </span>
        )}
      </span>
      {binds && shown.binds && <span class="p-binds">held by {shown.binds}</span>}
      {binds && shown.place && <span class="p-binds">{shown.place}</span>}
    </>
  );
  return (
    <li class="promise" data-kind={kind}>
      {now.figure ? (
        <button type="button" onClick={() => openFigure(now.figure)} title="Open how it is computed">
          {body}
        </button>
      ) : (
        <div class="p-still">{body}</div>
      )}
    </li>
  );
}

function Pending({ known }: { known: boolean }) {
  return (
    <>
      <span aria-hidden="true"> …</span>
      <span class="unseen">{known ? " (of an earlier answer, being computed again)" : " (being computed)"}</span>
    </>
  );
}

function Change({ now }: { now: Promised }) {
  const way = now.changed === "up" ? "▲" : now.changed === "down" ? "▼" : "";
  const word = now.better === true ? "better" : now.better === false ? "worse" : "";
  return (
    <span class={`change change-${word || "neither"}`}>
      <span aria-hidden="true">{way} </span>
      {now.change}
      {word && ` ${word}`}
    </span>
  );
}

/** The last change and what it moved, with the way back beside it. */
function LastChange() {
  const m = moved.value;
  const s = state.value!;
  if (!m) return null;
  const what =
    m.rows.length === 0
      ? "moved no promise"
      : `moved ${m.rows.length} ${m.rows.length === 1 ? "promise" : "promises"}: ${m.rows
          .slice(0, 3)
          .map((r) => r.label)
          .join(", ")}${m.rows.length > 3 ? ` and ${m.rows.length - 3} more` : ""}`;
  return (
    <div class="last-change">
      <p>
        <strong>{m.label}</strong> {what}
        {m.verdict && `; ${m.verdict.was} → ${m.verdict.now}`}.
      </p>
      {m.last && (
        <button type="button" class="quiet" onClick={() => attempt(`Undone: ${s.undo}`, undo)}>
          Undo
        </button>
      )}
    </div>
  );
}
