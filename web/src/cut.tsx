/** The stage of the cut: for each job whether it runs, what binds, which settings the machine can hold, how true the wall comes. */
import { Fragment } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { edit } from "./api";
import { STATE } from "./color";
import type { Caution, CutJob, CutLimit, Cuts, Status } from "./contract";
import { useFetched } from "./fetched";
import { FigureLink, Waiting } from "./marks";
import { attempt } from "./said";
import { answers, job, narrowShows, openField, state, wantedCard, wantedJob } from "./state";
import "./cut.css";

/** A verdict is a status like that of a finding; its own word stands beside the sign. */
const STATUS: Record<CutJob["runs"], Status> = { runs: "ok", "runs if": "watch", "does not": "fail", unknown: "unknown" };
const SHARE = "The part of deflection and run-out alone: squareness, leads and holes are not in it.";

export function Cut() {
  const { data, trouble, old } = useFetched<Cuts>("/api/cuts", answers.value);
  if (!data) return <Waiting trouble={trouble} what="what the jobs come to" />;
  const waits = !data.settled && state.value?.settled.state === "pending";
  return (
    <div class="cuts" aria-busy={old}>
      {data.words && <p>{data.words}</p>}
      {data.jobs.map((told) => (
        <JobPanel key={told.path} told={told} waits={waits} />
      ))}
      {data.cautions.length > 0 && <Cautions cautions={data.cautions} foreword={data.foreword} />}
    </div>
  );
}

function JobPanel({ told, waits }: { told: CutJob; waits: boolean }) {
  const status = STATUS[told.runs];
  const id = `cut-${told.name}`;
  const card = useRef<HTMLElement>(null);
  const wanted = wantedCard.value === told.name;
  useEffect(() => {
    if (!wanted) return;
    wantedCard.value = "";
    card.current?.scrollIntoView({ block: "start" });
  }, [wanted]);
  return (
    <section class={`cut finding finding-${status}`} aria-labelledby={id} ref={card}>
      <h3 id={id}>
        <span class="cut-name">{told.name}</span>
        <span class={`mark mark-${status}`}>
          <span class="sign" aria-hidden="true">
            {STATE[status].sign}
          </span>
          {told.runs}
        </span>
      </h3>
      <p>{told.verdict}.</p>
      {waits && !told.pending && <p class="hint">Being worked out again: chatter and settings are those of before …</p>}
      <dl class="details">
        {told.removal && (
          <Detail name="removes">
            <FigureLink path={told.removal.figure}>{told.removal.text}</FigureLink>
          </Detail>
        )}
        {told.binds && <Detail name={told.limits.some((limit) => limit.missing) ? "binds, of what is known" : "binds"}><LimitLink limit={told.binds} /></Detail>}
        {told.next && <Detail name="next"><LimitLink limit={told.next} /></Detail>}
      </dl>
      {told.settings.length > 0 && <Settings told={told} waits={waits} />}
      {told.walls.length > 0 && (
        <>
          <h4>Wall and bottom, as in the file</h4>
          <dl class="details cut-walls">
            {told.walls.map((wall) => (
              <Detail key={wall.what} name={wall.what}>
                {wall.figure ? <FigureLink path={wall.figure}>{wall.text}</FigureLink> : wall.text}
                <span class="hint">{wall.way}</span>
              </Detail>
            ))}
          </dl>
          <p class="hint">{SHARE}</p>
        </>
      )}
      <Said title="Hold-down" lines={told.hold} />
      <Said title="Chatter" lines={told.chatter} />
      {told.limits.length > 0 && <Limits limits={told.limits} name={told.name} />}
      <button type="button" aria-pressed={job.value === told.name} onClick={() => show(told.name)}>
        Pictures of {told.name}
      </button>
    </section>
  );
}

function show(name: string): void {
  wantedJob.value = name;
  narrowShows.value = "drawing";
}

function Detail({ name, children }: { name: string; children: preact.ComponentChildren }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}

function LimitLink({ limit }: { limit: CutLimit }) {
  const words = `${limit.words}, ${limit.used} used`;
  return limit.figure ? <FigureLink path={limit.figure}>{words}</FigureLink> : <>{words}</>;
}

function Said({ title, lines }: { title: string; lines: string[] }) {
  if (lines.length === 0) return null;
  return (
    <>
      <h4>{title}</h4>
      {lines.map((line) => (
        <p class="cut-said" key={line}>
          {line}
        </p>
      ))}
    </>
  );
}

/** What the file says beside what is advised, each number with its reason; all of them are taken in one step. */
function Settings({ told, waits }: { told: CutJob; waits: boolean }) {
  const advised = told.settings.some((row) => row.advised);
  return (
    <>
      <h4>Settings</h4>
      <table class="rows cut-settings">
        <caption class="unseen">Settings of {told.name}</caption>
        <thead>
          <tr>
            <th scope="col">setting</th>
            <th scope="col">file</th>
            {advised && <th scope="col">advised</th>}
          </tr>
        </thead>
        <tbody>
          {told.settings.map((row) => (
            <Fragment key={row.path}>
              <tr class={row.reason ? "cut-reasoned" : ""}>
                <th scope="row">
                  <button type="button" class="link" onClick={() => openField(row.path)}>
                    {row.what}
                  </button>
                </th>
                <td>{row.file}</td>
                {advised && <td class={row.advised === row.file ? "" : "cut-other"}>{row.advised}</td>}
              </tr>
              {row.reason && (
                <tr>
                  <td class="words hint" colSpan={3}>
                    {row.reason}
                  </td>
                </tr>
              )}
            </Fragment>
          ))}
        </tbody>
      </table>
      {told.no_advice && <p class="hint">No settings were found: {told.no_advice}.</p>}
      {advised && told.advised_removal && <p class="hint">As advised it removes {told.advised_removal}.</p>}
      {advised && told.edits.length === 0 && <p class="hint">The file has these settings already.</p>}
      {told.edits.length > 0 && (
        <button type="button" disabled={waits} onClick={() => take(told)}>
          Take these settings<span class="unseen"> for {told.name}</span>
        </button>
      )}
    </>
  );
}

const take = (told: CutJob): Promise<boolean> =>
  attempt(`Took the advised settings for ${told.name}`, () => edit(told.edits, `${told.name}: advised settings`));

function Limits({ limits, name }: { limits: CutLimit[]; name: string }) {
  return (
    <details class="group">
      <summary>
        All {limits.length} limits<span class="unseen"> of {name}</span>
      </summary>
      <ul class="plain cut-limits">
        {limits.map((limit) => (
          <li key={limit.id}>
            <span>
              {limit.exceeded && <span class="mark mark-fail">✕ </span>}
              {limit.figure ? <FigureLink path={limit.figure}>{limit.words}</FigureLink> : limit.words}
            </span>
            {limit.missing ? (
              <span class="hint">? unknown: it takes {limit.missing}</span>
            ) : (
              <span class="hint">
                {limit.value} of {limit.limit}, {limit.used}; up to {limit.ceiling}
                {limit.note && `. ${limit.note}`}
              </span>
            )}
          </li>
        ))}
      </ul>
    </details>
  );
}

function Cautions({ cautions, foreword }: { cautions: Caution[]; foreword: string }) {
  return (
    <details class="finding-group">
      <summary>
        Cautions <span class="count-of">{cautions.length}</span>
      </summary>
      <p class="hint">{foreword}</p>
      <ul class="plain cut-cautions">
        {cautions.map((told) => (
          <li key={told.id}>
            <strong>{told.title}</strong> <span class="hint">{told.subject}: {told.jobs.join(", ")}</span>
            <p>{told.words}</p>
            <p class="hint">{told.sources.join("; ")}</p>
          </li>
        ))}
      </ul>
    </details>
  );
}
