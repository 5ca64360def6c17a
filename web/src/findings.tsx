/** What the checks say, worst first. */
import { useSignal } from "@preact/signals";
import { STATE, WORST_FIRST } from "./color";
import type { DefaultRow, FigureRow, Found, Status, VerdictCount } from "./contract";
import { useFetched } from "./fetched";
import { FieldLink, FigureLink, StatusMark, Waiting } from "./marks";
import { answers, chooseOf, listedAt, openFinding, partOf, state } from "./state";

export function Findings() {
  const all = state.value!.findings;
  return (
    <>
      {WORST_FIRST.map((status) => (
        <OfStatus key={status} status={status} findings={all.filter((f) => f.status === status)} />
      ))}
      <Defaults />
      <Figures />
    </>
  );
}

function OfStatus({ status, findings }: { status: Status; findings: Found[] }) {
  const open = useSignal(status !== "ok");
  if (findings.length === 0) return null;
  return (
    <details class="finding-group" open={open.value} onToggle={(e) => (open.value = e.currentTarget.open)}>
      <summary>
        <StatusMark status={status} /> <span class="count-of">{findings.length}</span>
      </summary>
      {open.value && <FindingList findings={findings} />}
    </details>
  );
}

/** The sentence without the margin that stands above it. */
export const sentenceOf = (f: Found): string => (f.margin ? f.sentence.replace(`, margin ${f.margin}`, "") : f.sentence);

export function FindingList({ findings }: { findings: Found[] }) {
  return (
    <ul class="findings">
      {findings.map((f) => (
        <li key={f.key} class={`finding finding-${f.status}`} data-pending={f.pending ? "" : undefined}>
          <button type="button" class="finding-open" onClick={() => openFinding(f.key)}>
            <span class="finding-line">
              <StatusMark status={f.status} />
              {f.margin && <span class="margin">margin {f.margin}</span>}
              <span class="check-id">{f.id}</span>
            </span>
            <span class="sentence">{sentenceOf(f)}</span>
            {f.pending && <span class="hint">being computed again …</span>}
          </button>
          <span class="where">
            <FieldLink path={f.subject} />
            <ShowPart of={f} />
          </span>
        </li>
      ))}
    </ul>
  );
}

function ShowPart({ of }: { of: Found }) {
  const part = partOf(of.part || of.subject);
  if (!part) return null;
  return (
    <button type="button" class="link" onClick={() => chooseOf(of.subject, part)}>
      show it<span class="unseen"> in the drawing: {part}</span>
    </button>
  );
}

/** Findings whose subject belongs to a stage; what holds is not repeated here. */
export function FindingsHere({ stage }: { stage: string }) {
  const here = listedAt.value.get(stage) ?? [];
  if (here.length === 0) return null;
  return (
    <section class="here" aria-labelledby="here-title">
      <h3 id="here-title">Findings of this stage</h3>
      <FindingList findings={here} />
    </section>
  );
}

function Defaults() {
  const open = useSignal(false);
  return (
    <details class="finding-group" onToggle={(e) => (open.value = e.currentTarget.open)}>
      <summary>Taken where the file is silent</summary>
      {open.value && <DefaultRows />}
    </details>
  );
}

function DefaultRows() {
  const { data, trouble } = useFetched<DefaultRow[]>("/api/defaults", answers.value);
  if (!data) return <Waiting trouble={trouble} what="the defaults" />;
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label="Defaults taken">
      <table class="rows">
        <thead>
          <tr>
            <th scope="col">value</th>
            <th scope="col" class="words">
              taken
            </th>
            <th scope="col" class="words">
              source
            </th>
          </tr>
        </thead>
        <tbody>
          {data.map((row) => (
            <tr key={row.path + row.text}>
              <th scope="row" class="words">
                {row.path.includes("*") ? <span class="path">{row.path}</span> : <FieldLink path={row.path} />}
                {(row.count ?? 1) > 1 && <span class="hint"> {row.count} times</span>}
                {(row.label ?? row.title) && <div class="hint">{row.label ?? row.title}</div>}
              </th>
              <td class="words">
                {row.text}
                {row.band && <div class="hint">{row.band}</div>}
              </td>
              <td class="words">{row.source ?? row.origin ?? ""}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

const MANY = 60;

function Figures() {
  const open = useSignal(false);
  return (
    <details class="finding-group" onToggle={(e) => (open.value = e.currentTarget.open)}>
      <summary>All figures</summary>
      {open.value && <FigureRows />}
    </details>
  );
}

function FigureRows() {
  const sought = useSignal("");
  const { data, trouble } = useFetched<FigureRow[]>("/api/figures", answers.value);
  if (!data) return <Waiting trouble={trouble} what="the figures" />;
  const words = sought.value.toLowerCase().split(/\s+/);
  const rows = data.filter((f) => words.every((w) => `${f.path} ${f.title}`.toLowerCase().includes(w)));
  return (
    <>
      <label class="seek">
        Find <input type="search" value={sought.value} onInput={(e) => (sought.value = e.currentTarget.value)} />
      </label>
      <p class="hint" role="status">
        {rows.length} of {data.length} figures{rows.length > MANY && `, the first ${MANY} shown`}
      </p>
      <ul class="figures">
        {rows.slice(0, MANY).map((f) => (
          <li key={f.path}>
            <FigureLink path={f.path}>{f.title || f.path}</FigureLink>
            <span class="num">{f.text}</span>
            <span class="path hint">{f.path}</span>
          </li>
        ))}
      </ul>
    </>
  );
}

/** How the findings stand, in signs and words. */
export function Tally({ of: v }: { of: VerdictCount }) {
  return (
    <span class="tally">
      {WORST_FIRST.filter((s) => v[s] > 0).map((s) => (
        <span key={s} class={`mark mark-${s}`}>
          <span class="sign" aria-hidden="true">
            {STATE[s].sign}
          </span>
          {v[s]} {STATE[s].word}
        </span>
      ))}
    </span>
  );
}
