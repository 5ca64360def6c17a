/** Opened beside the machine: a finding in its long form, or a figure with formula, inputs and source. */
import { useEffect, useRef } from "preact/hooks";
import { edit } from "./api";
import type { FigureInput, FigureOpened, FindingOpened, Remedy } from "./contract";
import { useFetched } from "./fetched";
import { sentenceOf } from "./findings";
import { FieldLink, FigureLink, Path, StatusMark, Waiting } from "./marks";
import { attempt } from "./said";
import { answers, back, closeOpened, openFinding, opened, type Opened, remedied, showSpot, state, trying } from "./state";

export function Working() {
  const all = opened.value;
  const now = all.at(-1);
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => head.current?.focus(), [now?.kind, now?.key]);
  if (!now) return null;
  return (
    <section
      class="working"
      aria-labelledby="working-title"
      onKeyDown={(e) => {
        if (e.key === "Escape" && !e.defaultPrevented) back();
      }}
    >
      <header class="working-head">
        <h2 id="working-title" tabIndex={-1} ref={head}>
          {now.kind === "figure" ? "How it is computed" : "What was found"}
        </h2>
        {all.length > 1 && (
          <button type="button" class="quiet" onClick={back}>
            Back
          </button>
        )}
        <button type="button" class="quiet" onClick={closeOpened}>
          Close
        </button>
      </header>
      {now.kind === "figure" ? <Figure at={now} /> : <Finding at={now} />}
    </section>
  );
}

function Figure({ at }: { at: Opened }) {
  const { data, trouble, old } = useFetched<FigureOpened>(`/api/figure?path=${encodeURIComponent(at.key)}`, answers.value);
  if (!data) return <Waiting trouble={trouble} what={at.key} />;
  return (
    <div aria-busy={old}>
      <h3>{data.title}</h3>
      <p class="path hint">{at.key}</p>
      <p class="figure-text">
        {data.text}
        {data.band && <span class="hint"> {data.band}</span>}
      </p>
      {data.formula && <p class="formula">{data.formula}</p>}
      {data.origin && <p class="hint">From: {data.origin}</p>}
      {data.source && <p class="hint">Source: {data.source}</p>}
      {data.inputs.length > 0 && (
        <table class="rows inputs">
          <caption>Made of</caption>
          <tbody>
            {data.inputs.map((input) => (
              <tr key={input.name + input.path}>
                <th scope="row" class="words">
                  {input.name}
                  {input.path && (
                    <div>
                      <Way input={input} />
                    </div>
                  )}
                </th>
                <td>{input.text}</td>
                <td class="words hint">{input.note}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {data.findings.length > 0 && (
        <>
          <h4>Findings that rest on it</h4>
          <ul class="plain">
            {data.findings.map((f) => {
              const row = typeof f === "string" ? state.value!.findings.find((g) => g.key === f) : f;
              const key = typeof f === "string" ? f : f.key;
              return (
                <li key={key}>
                  {row?.status && <StatusMark status={row.status} />}{" "}
                  <button type="button" class="link" onClick={() => openFinding(key)}>
                    {row?.title ?? key}
                  </button>
                </li>
              );
            })}
          </ul>
        </>
      )}
      {data.used_by.length > 0 && (
        <>
          <h4>Used by</h4>
          <ul class="plain">
            {data.used_by.map((u) => {
              const path = typeof u === "string" ? u : u.path;
              return (
                <li key={path}>
                  <FigureLink path={path}>{typeof u === "string" ? u : u.title || u.path}</FigureLink>
                </li>
              );
            })}
          </ul>
        </>
      )}
    </div>
  );
}

/** From an input to where it comes from: another figure, or the field of the file. */
function Way({ input }: { input: FigureInput }) {
  if (input.is === "figure") return <FigureLink path={input.path}>
        <Path text={input.path} />
      </FigureLink>;
  if (input.field) return <FieldLink path={input.path} />;
  if (input.is === "value") return <FigureLink path={input.path}>
        <Path text={input.path} />
      </FigureLink>;
  return <span class="path hint">{input.path}</span>;
}

function Finding({ at }: { at: Opened }) {
  const short = state.value!.findings.find((f) => f.key === at.key);
  const { data, trouble } = useFetched<FindingOpened>(`/api/finding?key=${encodeURIComponent(at.key)}`, remedied.value);
  return (
    <div>
      {short ? (
        <>
          <p class="finding-line">
            <StatusMark status={short.status} />
            {short.margin && <span class="margin">margin {short.margin}</span>}
            <span class="check-id">{short.id}</span>
          </p>
          <h3>{sentenceOf(short)}</h3>
          <p>
            <FieldLink path={short.subject} />
          </p>
        </>
      ) : (
        <p class="hint">This finding no longer stands: the machine has changed.</p>
      )}
      {!data ? short && <Waiting trouble={trouble} what="the finding" /> : <Long told={data} holds={short?.status === "ok"} />}
    </div>
  );
}

function Long({ told, holds }: { told: FindingOpened; holds: boolean }) {
  const settle = [told.settle ?? []].flat().filter(Boolean);
  return (
    <>
      {told.why && (
        <>
          <h4>Why it matters</h4>
          <p>{told.why}</p>
        </>
      )}
      {told.note && <p>{told.note}</p>}
      {told.spot && (
        <button type="button" onClick={() => showSpot(told.spot!)}>
          Show where they meet
        </button>
      )}
      {told.missing && <p>Missing: {told.missing}</p>}
      {settle.length > 0 && <p>To be sure, find out: {settle.join(", ")}</p>}
      {(told.remedies.length > 0 || told.remedy) && <h4>{holds ? "What would mend it if it did not hold" : "What would mend it"}</h4>}
      {told.remedy && <p>{told.remedy}</p>}
      {told.remedies.length > 0 && (
        <ul class="remedies">
          {told.remedies.map((r) => (
            <RemedyRow key={r.words} remedy={r} subject={told.subject} />
          ))}
        </ul>
      )}
      {told.figure && (
        <p>
          <FigureLink path={told.figure}>How the number is computed</FigureLink>
        </p>
      )}
      {told.source && <p class="hint">Source: {told.source}</p>}
    </>
  );
}

function RemedyRow({ remedy, subject }: { remedy: Remedy; subject: string }) {
  const label = `${remedy.words} (${subject.replace(/ \(.*$/, "")})`; // the same words are tried on several axes
  return (
    <li class="remedy">
      <p>
        <strong>{remedy.words}</strong>{" "}
        {remedy.tried === false ? (trying.value ? "being tried …" : "not tried by the program; Try it shows what it does") : doesOf(remedy)}
      </p>
      {remedy.tried !== false && remedy.effects.length > 0 && (
        <ul class="effects">
          {remedy.effects.map((e) => (
            <li key={e}>{e}</li>
          ))}
        </ul>
      )}
      {remedy.edits.length > 0 && (
        <button type="button" onClick={() => attempt(`Tried: ${label}`, () => edit(remedy.edits, `try: ${label}`))}>
          Try it<span class="unseen">: {remedy.words}</span>
        </button>
      )}
    </li>
  );
}

export const doesOf = ({ mends, harms }: Remedy): string =>
  harms
    ? mends
      ? "✓ mends it, but makes other findings worse"
      : "does not mend it alone, and makes other findings worse"
    : mends
      ? "✓ mends it"
      : "does not mend it alone";
