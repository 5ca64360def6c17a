/** The stages of the work in the order that a builder meets them, and the fields of the one that is open. */
import { useEffect, useRef } from "preact/hooks";
import { ChosenPart } from "./chosen";
import { Compare } from "./compare";
import { STATE } from "./color";
import type { StageRow } from "./contract";
import { Cut } from "./cut";
import { Findings, FindingsHere } from "./findings";
import { Groups } from "./group";
import { StiffenFirst } from "./stiffen";
import { openStage, setAside, stage, stages, state, takeUp } from "./state";

export function StageList() {
  const open = stage.value;
  const bar = useRef<HTMLElement>(null);
  useEffect(() => {
    bar.current?.querySelector("[aria-current]")?.scrollIntoView({ block: "nearest", inline: "nearest" });
  }, [open]);
  return (
    <nav class="stages" ref={bar} aria-label="Stages of the work">
      <ol>
        {stages.value.map((s, i) => (
          <li key={s.id}>
            <a
              href={`#${s.id}`}
              aria-current={s.id === open ? "step" : undefined}
              onClick={(e) => {
                e.preventDefault();
                openStage(s.id);
              }}
            >
              <span class="balloon" aria-hidden="true">
                {i + 1}
              </span>
              <span class="stage-title">{s.title}</span>
              <Counts of={s} />
            </a>
          </li>
        ))}
      </ol>
    </nav>
  );
}

function Counts({ of }: { of: StageRow }) {
  const rows = (["fail", "unknown", "watch"] as const).filter((kind) => of.count[kind] > 0);
  if (rows.length === 0) return null;
  return (
    <span class="counts" title={of.id === "findings" ? "All findings, each once" : "Findings that are listed at this stage; each is counted at one stage only"}>
      {rows.map((kind) => (
        <span key={kind} class={`count count-${kind}`}>
          <span aria-hidden="true">{STATE[kind].sign}</span>
          {of.count[kind]}
          <span class="unseen"> {kind === "fail" ? "fail" : STATE[kind].word},</span>
        </span>
      ))}
    </span>
  );
}

/** The column beside the machine: the chosen part, then what the open stage holds. */
export function StageColumn() {
  const s = stages.value.find((row) => row.id === stage.value);
  useEffect(() => {
    const first = stages.value[0];
    if (!s && first) openStage(first.id);
  }, [s, stages.value.length]);
  if (!s || !state.value) return null;
  return (
    <section class="column" aria-labelledby="stage-title">
      {setAside.value.length > 0 && (
        <button type="button" class="quiet" onClick={takeUp}>
          ← Back to the {setAside.value.at(-1)!.kind}
        </button>
      )}
      <ChosenPart />
      <h2 id="stage-title">{s.title}</h2>
      {s.words && <p class="hint">{s.words}</p>}
      {s.id === "findings" && <Findings />}
      {s.id === "compare" && <Compare />}
      {s.id === "stiffness" && <StiffenFirst />}
      {s.id === "cut" && <Cut />}
      <Groups groups={s.groups} />
      {s.id !== "findings" && s.id !== "compare" && <FindingsHere stage={s.id} />}
    </section>
  );
}
