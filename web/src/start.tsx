/** The page before a machine is open: machines to look at, recent files, and a new machine by a few questions. */
import { useSignal } from "@preact/signals";
import { makeNew, open, type Question, type Start as Told } from "./api";
import { useFetched } from "./fetched";
import { page } from "./live";
import { Waiting } from "./marks";
import { said, wrong } from "./said";
import { Border, Lines } from "./sheet";
import { state } from "./state";
import { whenInWords } from "./when";

async function into(doing: Promise<{ file: { name: string; folder: string } }>): Promise<void> {
  try {
    const next = await doing;
    wrong.value = "";
    said.value = `Opened ${next.file.name} in ${next.file.folder}`;
    page.value = "board";
  } catch (trouble) {
    wrong.value = (trouble as Error).message;
  }
}

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
  const say = (key: string, text: string) => (answers.value = { ...answers.value, [key]: text });
  return (
    <section aria-labelledby="new-title">
      <h2 id="new-title">A new machine</h2>
      <form
        class="questions"
        onSubmit={(e) => {
          e.preventDefault();
          void into(makeNew(answers.value, where.value.trim()));
        }}
      >
        {questions.map((q) => (
          <Asked key={q.key} question={q} text={answers.value[q.key] ?? ""} say={(text) => say(q.key, text)} />
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
            onInput={(e) => (where.value = e.currentTarget.value)}
          />
          <p id="new-folder-help" class="hint">
            A new folder inside {folder}; the machine file goes into it.
          </p>
        </div>
        <button type="submit">Make the machine file</button>
      </form>
    </section>
  );
}

function Asked({ question: q, text, say }: { question: Question; text: string; say: (text: string) => void }) {
  const id = `ask-${q.key}`;
  const choices = (q.choices ?? []).map((c) => (typeof c === "string" ? { value: c, label: c } : c));
  return (
    <div class="field">
      <label for={id}>{q.label}</label>
      {choices.length > 0 ? (
        <select id={id} value={text} aria-describedby={`${id}-help`} onChange={(e) => say(e.currentTarget.value)}>
          {choices.map((c) => (
            <option key={c.value} value={c.value}>
              {c.label}
            </option>
          ))}
        </select>
      ) : (
        <input id={id} value={text} autocomplete="off" spellcheck={false} aria-describedby={`${id}-help`} onInput={(e) => say(e.currentTarget.value)} />
      )}
      <p id={`${id}-help`} class="hint">
        {q.help}
      </p>
    </div>
  );
}
