/** The page before a machine is open: machines to look at, recent files, and a new machine by a few questions. */
import { useSignal } from "@preact/signals";
import { ApiError, makeNew, open, type Question, type Start as Told } from "./api";
import { useFetched } from "./fetched";
import { page } from "./live";
import { Waiting } from "./marks";
import { said, wrong } from "./said";
import { Border, Lines } from "./sheet";
import { state } from "./state";
import { whenInWords } from "./when";

type Opening = Promise<{ file: { name: string; folder: string } }>;

async function shown(doing: Opening): Promise<void> {
  const next = await doing;
  wrong.value = "";
  said.value = `Opened ${next.file.name} in ${next.file.folder}`;
  page.value = "board";
}

const into = (doing: Opening): Promise<void> => shown(doing).catch((trouble: Error) => void (wrong.value = trouble.message));

export function Start() {
  const { data, trouble } = useFetched<Told>("/api/start", "");
  const path = useSignal("");
  return (
    <div class="sheet start">
      <Border />
      <main class="drawing start-in">
        <h1>Drawing board</h1>
        <p class="hint">
          A machine stands in one text file. Open one, look at a demo, or answer a few questions; every change is written to the file and can be
          undone.
        </p>
        <Lines />
        {state.value && (
          <p>
            <button type="button" onClick={() => (page.value = "board")}>
              Back to {state.value.title.title}
            </button>
          </p>
        )}
        {!data ? (
          <Waiting trouble={trouble} what="what can be opened" />
        ) : (
          <>
            <section aria-labelledby="demos-title">
              <h2 id="demos-title">Machines to look at</h2>
              <ul class="cards">
                {data.demos.map((d) => (
                  <li key={d.id}>
                    <button type="button" class="card" onClick={() => into(open({ demo: d.id }))}>
                      <strong>{d.title}</strong>
                      <span>{d.words}</span>
                    </button>
                  </li>
                ))}
              </ul>
            </section>
            <section aria-labelledby="recent-title">
              <h2 id="recent-title">Your machine files</h2>
              {data.recent.length > 0 && (
                <ul class="cards">
                  {data.recent.map((r) => (
                    <li key={r.path}>
                      <button type="button" class="card" disabled={!r.exists} onClick={() => into(open({ path: r.path }))}>
                        <strong>{r.name}</strong>
                        <span class="path">{r.path}</span>
                        <span class="hint">{r.exists ? whenInWords(r.when) : "no longer there"}</span>
                      </button>
                    </li>
                  ))}
                </ul>
              )}
              <form
                class="open-path"
                onSubmit={(e) => {
                  e.preventDefault();
                  void into(open({ path: path.value.trim() }));
                }}
              >
                <label>
                  Path of a machine file
                  <input required value={path.value} autocomplete="off" spellcheck={false} onInput={(e) => (path.value = e.currentTarget.value)} />
                </label>
                <button type="submit">Open</button>
              </form>
            </section>
            <NewMachine questions={data.questions} folder={data.folder} />
          </>
        )}
      </main>
    </div>
  );
}

function NewMachine({ questions, folder }: { questions: Question[]; folder: string }) {
  const answers = useSignal<Record<string, string>>(Object.fromEntries(questions.map((q) => [q.key, q.default])));
  const where = useSignal("");
  const refused = useSignal<Refused>(null);
  const why = (key: string) => (refused.value?.key === key ? refused.value.words : "");
  const say = (key: string, text: string) => {
    answers.value = { ...answers.value, [key]: text };
    refused.value = null;
  };
  return (
    <section aria-labelledby="new-title">
      <h2 id="new-title">A new machine</h2>
      <form
        class="questions"
        onSubmit={async (e) => {
          e.preventDefault();
          const form = e.currentTarget;
          refused.value = await shown(makeNew(answers.value, where.value.trim())).then(() => null, refusal);
          if (refused.value) form.querySelector<HTMLElement>(`#${idOf(refused.value.key)}`)?.focus();
        }}
      >
        {questions.map((q) => (
          <Asked key={q.key} question={q} text={answers.value[q.key] ?? ""} trouble={why(q.key)} say={(text) => say(q.key, text)} />
        ))}
        <div class="field">
          <label for="new-folder">New folder</label>
          <input
            id="new-folder"
            required
            value={where.value}
            placeholder="my-router"
            spellcheck={false}
            autocomplete="off"
            aria-describedby="new-folder-help"
            aria-invalid={why("folder") ? "true" : undefined}
            onInput={(e) => {
              where.value = e.currentTarget.value;
              refused.value = null;
            }}
          />
          <Said id="new-folder-help" trouble={why("folder")} help={`A new folder inside ${folder}; the machine file goes into it.`} />
        </div>
        {why("") && (
          <p class="bad" role="alert">
            ! {why("")}
          </p>
        )}
        <button type="submit">Make the machine file</button>
      </form>
    </section>
  );
}

/** Which answer was refused and why; no key where it was none of them. */
type Refused = { key: string; words: string } | null;

const refusal = (trouble: Error): Refused => {
  const told = trouble instanceof ApiError ? (trouble.body as { field?: string } | null) : null;
  return { key: told?.field ?? "", words: trouble.message };
};

const idOf = (key: string): string => (key === "folder" ? "new-folder" : `ask-${key}`);

/** What a field is for, and what is wrong with what stands in it. */
function Said({ id, trouble, help }: { id: string; trouble: string; help: string }) {
  return (
    <p id={id} class="hint">
      {trouble && (
        <span class="bad" role="alert">
          ! {trouble}{" "}
        </span>
      )}
      {help}
    </p>
  );
}

interface AskedProps {
  question: Question;
  text: string;
  trouble: string;
  say: (text: string) => void;
}

function Asked({ question: q, text, trouble, say }: AskedProps) {
  const id = idOf(q.key);
  const invalid = trouble ? "true" : undefined;
  const choices = (q.choices ?? []).map((c) => (typeof c === "string" ? { value: c, label: c } : c));
  return (
    <div class="field">
      <label for={id}>{q.label}</label>
      {choices.length > 0 ? (
        <select id={id} value={text} aria-describedby={`${id}-help`} aria-invalid={invalid} onChange={(e) => say(e.currentTarget.value)}>
          {choices.map((c) => (
            <option key={c.value} value={c.value}>
              {c.label}
            </option>
          ))}
        </select>
      ) : (
        <input
          id={id}
          value={text}
          autocomplete="off"
          spellcheck={false}
          aria-describedby={`${id}-help`}
          aria-invalid={invalid}
          onInput={(e) => say(e.currentTarget.value)}
        />
      )}
      <Said id={`${id}-help`} trouble={trouble} help={q.help} />
    </div>
  );
}
