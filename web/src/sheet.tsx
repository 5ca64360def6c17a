/** The sheet of paper: border with zone marks, the strip of tools at the top, the title block in its corner. */
import { useSignal } from "@preact/signals";
import { Tally } from "./findings";
import { HistoryWindow, OutsideLine, UndoButtons, WaysBack } from "./history";
import { Jobs } from "./jobs";
import { KeysWindow, keysShown } from "./keys";
import { Machine, StagePictures } from "./late";
import { page, previewed, restarted } from "./live";
import { ChangedOver } from "./over";
import { Promises } from "./promises";
import { notes, said, wrong } from "./said";
import { StageColumn, StageList } from "./stages";
import { large, setLarge } from "./settings";
import { FieldLink } from "./marks";
import { online, opened, narrowShows, openStage, outdated, stage, state, unanswered } from "./state";
import { Working } from "./working";

const ACROSS = ["1", "2", "3", "4", "5", "6", "7", "8"];
const DOWN = ["A", "B", "C", "D", "E", "F"];

export function Sheet() {
  const aside = opened.value.length > 0;
  const wide = !aside && (stage.value === "findings" || stage.value === "compare");
  return (
    <div class="sheet">
      <a class="skip" href="#beside" onClick={focusOn("beside")}>
        To the fields
      </a>
      <a class="skip" href="#promises-title" onClick={focusOn("promises-title")}>
        To the promises
      </a>
      <Border />
      <div class="drawing">
        <Tools />
        <Lines />
        <div class={wide ? "middle middle-wide" : "middle"}>
          <StageList />
          <main class="work" aria-label="The machine and its fields" data-shows={narrowShows.value}>
            <NarrowSwitch />
            <div class="beside" id="beside" tabIndex={-1}>{aside ? <Working /> : <StageColumn />}</div>
            <div class="machine-side" tabIndex={0} role="group" aria-label="Drawing and pictures">
              <section class="machine" aria-label="The machine">
                <Machine />
              </section>
              <div class="pictures">
                <StagePictures stage={stage.value} />
              </div>
            </div>
          </main>
          <Promises />
        </div>
        <TitleStrip />
      </div>
    </div>
  );
}

/** On a narrow screen the fields and the drawing take turns. */
function NarrowSwitch() {
  return (
    <div class="narrow-switch" role="group" aria-label="Shown below">
      {(["fields", "drawing"] as const).map((what) => (
        <button type="button" key={what} aria-pressed={narrowShows.value === what} onClick={() => (narrowShows.value = what)}>
          {what === "fields" ? "Fields and findings" : "Drawing"}
        </button>
      ))}
    </div>
  );
}

/** A skip link must not change the address: it holds the stage. */
function focusOn(id: string) {
  return (e: Event) => {
    e.preventDefault();
    const target = document.getElementById(id);
    target?.setAttribute("tabindex", "-1");
    target?.focus();
  };
}

/** Frame of the drawing with the zones of a sheet; it carries nothing that is not also said elsewhere. */
export function Border() {
  return (
    <div class="border" aria-hidden="true">
      {(["top", "bottom"] as const).map((side) => (
        <div key={side} class={`zones zones-${side}`}>
          {ACROSS.map((z) => (
            <span key={z}>{z}</span>
          ))}
        </div>
      ))}
      {(["left", "right"] as const).map((side) => (
        <div key={side} class={`zones zones-${side}`}>
          {DOWN.map((z) => (
            <span key={z}>{z}</span>
          ))}
        </div>
      ))}
    </div>
  );
}

function Tools() {
  const history = useSignal(false);
  return (
    <header class="tools" aria-label="Tools">
      <div class="tools-main">
        <UndoButtons />
        <button type="button" onClick={() => (history.value = true)}>
          Keep<span class="longer"> and history</span>
        </button>
      </div>
      <div class="tools-more">
        <a class="button" href="/sheet" target="_blank" rel="noopener">
          Print<span class="longer"> sheet</span>
        </a>
        <button type="button" onClick={() => (page.value = "start")}>
          Open<span class="longer"> another</span>
        </button>
        <button type="button" aria-pressed={large.value} onClick={() => setLarge(!large.value)}>
          Large
        </button>
        <button type="button" onClick={() => (keysShown.value = true)} aria-label="Keys">
          ?
        </button>
      </div>
      {history.value && <HistoryWindow onClose={() => (history.value = false)} />}
      {keysShown.value && <KeysWindow />}
    </header>
  );
}

/** Everything that must be said across the whole sheet. */
export function Lines() {
  const s = state.value;
  return (
    <div class="lines">
      {!online.value && (
        <p class="line-bad" role="alert">
          ! Not connected: the drawing board program does not answer. What you type is kept; trying again each second.
        </p>
      )}
      {restarted.value && online.value && (
        <p class="line-note" role="status">
          The program was started again; what is shown is its state now.
          <button type="button" class="quiet" onClick={() => (restarted.value = false)}>
            Close
          </button>
        </p>
      )}
      {wrong.value && (
        <p class="line-bad" role="alert">
          ! {wrong.value}
          <button type="button" class="quiet" onClick={() => (wrong.value = "")}>
            Close
          </button>
        </p>
      )}
      {s?.trouble && (
        <p class="line-bad" role="alert">
          ! {s.trouble}
        </p>
      )}
      <ChangedOver />
      {s && <OutsideLine />}
      {s && s.problems.length > 0 && (
        <div class={unanswered.value ? "line-bad no-answer" : "line-bad"} role="alert">
          {unanswered.value ? (
            <h2>No answer yet: mend what is listed</h2>
          ) : (
            <p>
              ! The file as written is no whole machine: {s.problems.length} {s.problems.length === 1 ? "problem" : "problems"}. Answers shown are
              those of revision {s.answers_revision}.
            </p>
          )}
          <ul tabIndex={0} aria-label="Problems of the file">
            {s.problems.map((p) => (
              <li key={p.place + p.path + p.message}>
                <strong>
                  {p.place}
                  {p.line !== null && !p.place.endsWith(`:${p.line}`) && `:${p.line}`}
                </strong>{" "}
                {p.path && <FieldLink path={p.path} />} {p.message}
              </li>
            ))}
          </ul>
          <WaysBack />
        </div>
      )}
      <ToldLine />
    </div>
  );
}

/** What the program says of the last change besides its numbers, until it is closed or another change is made. */
function ToldLine() {
  if (notes.value.length === 0) return null;
  return (
    <p class="line-note told" role="status">
      {notes.value.join(" ")}
      <button type="button" class="quiet" onClick={() => (notes.value = [])}>
        Close
      </button>
    </p>
  );
}

/** Left: what happens now. Right: the title block, field names as a technical drawing has them. */
function TitleStrip() {
  const s = state.value!;
  const t = s.title;
  return (
    <footer class="strip">
      <div class="now">
        <p role="status" class="said">
          {said.value}
        </p>
        <Jobs jobs={s.jobs} />
      </div>
      <section class="title-block" aria-label="Title block">
        <div class="cell cell-title">
          <span class="cell-name">Title</span>
          <h1>{t.title}</h1>
        </div>
        <Cell name="Document type" text={t.document_type} />
        <Cell name="Legal owner" text={t.owner} />
        <Cell name="Identification number" text={t.identification} />
        <Cell name="Revision" text={t.revision} />
        <Cell name="Date of issue" text={t.date_of_issue} />
        <Cell name="Units" text={t.units} />
        <Cell name="Sheet" text={t.sheet} />
        <Cell name="File" text={s.file.name} hint={s.file.folder} />
        <div class="cell cell-verdict">
          <span class="cell-name">Verdict</span>
          <Verdict />
        </div>
      </section>
    </footer>
  );
}

/** Counts of the findings; while something is typed those that it would bring, where the program tells them. */
export function Verdict() {
  const s = state.value!;
  if (unanswered.value)
    return (
      <p class="cell-text" role="status">
        No answer yet
      </p>
    );
  const ahead = previewed.value;
  const would = ahead?.told.verdict;
  const [how, words] = outdated.value
    ? ["failed", "! of the last whole machine, not of the file"]
    : would
      ? ["ahead", "as it would be with the typed text, before its spread is worked out"]
      : ahead
        ? ["ahead", "of the file, not of the typed text"]
        : [s.settled.state, `${s.settled.state === "failed" ? "! " : ""}${s.settled.words}`];
  return (
    <>
      <button type="button" class="verdict" data-state={how} onClick={() => openStage("findings")}>
        <span class="unseen">{would ? would.words : s.title.verdict || s.verdict.words}. Open the findings: </span>
        <Tally of={would ?? s.verdict} />
      </button>
      <span class="settled" data-state={how} role="status">
        {words}
      </span>
    </>
  );
}

function Cell({ name, text, hint }: { name: string; text: string; hint?: string }) {
  return (
    <div class="cell" title={hint}>
      <span class="cell-name">{name}</span>
      <span class="cell-text">{text || "–"}</span>
    </div>
  );
}
