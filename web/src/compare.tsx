/** The machine against a kept state or another file: promises, findings that differ, cost and mass. */
import { useSignal } from "@preact/signals";
import { get } from "./api";
import { ComparedPictures } from "./compared-pictures";
import type { Compared, ComparedFound, ComparedPromise, History } from "./contract";
import { useFetched } from "./fetched";
import { sentenceOf } from "./findings";
import { KeepForm } from "./history";
import { FieldLink, StatusMark, Waiting } from "./marks";
import { answers, compareWith, keepsKey, online, openFinding, state } from "./state";
import { whenInWords } from "./when";

export function Compare() {
  const s = state.value!;
  const { data, trouble } = useFetched<History>("/api/history", keepsKey.value);
  const file = useSignal("");
  const refused = useSignal("");
  if (!data) return <Waiting trouble={trouble} what="the kept states" />;
  const aStep = stepInWords(compareWith.value, data.steps);
  return (
    <div class="compare">
      <KeepForm />
      <div class="against">
        <label>
          Hold this machine against
          <select value={compareWith.value} onChange={(e) => (compareWith.value = e.currentTarget.value)}>
            <option value="">nothing</option>
            {data.kept.map((k) => (
              <option key={k.id} value={`kept:${k.id}`}>
                {k.name}, kept {whenInWords(k.when)}
              </option>
            ))}
            {aStep && <option value={compareWith.value}>{aStep}</option>}
            {compareWith.value.startsWith("file:") && <option value={compareWith.value}>{compareWith.value.slice(5)}</option>}
          </select>
        </label>
        <form
          onSubmit={async (e) => {
            e.preventDefault();
            const wanted = `file:${file.value.trim()}`;
            if (wanted === "file:") return;
            refused.value = await whyNot(wanted);
            compareWith.value = refused.value ? "" : wanted; // what stood there would be taken for the one that was asked for
          }}
        >
          <label>
            or another machine file in {s.file.folder}
            <input
              value={file.value}
              placeholder="other.toml"
              onInput={(e) => {
                file.value = e.currentTarget.value;
                refused.value = "";
              }}
            />
          </label>
          <button type="submit">Compare</button>
        </form>
        {refused.value && (
          <p class="bad" role="alert">
            ! {refused.value}
          </p>
        )}
      </div>
      {compareWith.value && <Difference />}
    </div>
  );
}

/** The state beside a step of the history; "" where something else is compared with. */
function stepInWords(against: string, steps: History["steps"]): string {
  const [kind, id] = against.split(":");
  const step = kind === "before" || kind === "step" ? steps.find((s) => String(s.id) === id) : undefined;
  return step ? `${kind === "before" ? "before" : "after"}: ${step.label}` : "";
}

const address = (against: string): string => `/api/compare?with=${encodeURIComponent(against)}`;

/** Why a file cannot be held against this machine; "" where it can. What cannot never becomes a choice. */
const whyNot = (against: string): Promise<string> =>
  get(address(against)).then(
    () => "",
    (trouble: Error) => trouble.message,
  );

function Difference() {
  const { data, trouble } = useFetched<Compared>(address(compareWith.value), answers.value);
  // A machine that is gone is no longer held against; while the program is silent the last answer stays.
  if (!data || (trouble && online.value)) return <Waiting trouble={trouble} what="the other machine" />;
  const totals = [data.cost, data.mass].filter((row): row is ComparedPromise => row !== null);
  return (
    <div role="region" aria-label="What differs">
      {data.words && <p class="hint">{data.words}</p>}
      <PromiseTable rows={[...data.promises, ...totals.filter((t) => !data.promises.some((p) => p.label === t.label))]} names={data.names} />
      <Differ title={`Only in ${data.names[0]}`} findings={data.findings.only_a} />
      <Differ title={`Only in ${data.names[1]}`} findings={data.findings.only_b} />
      <Differ title="In both, judged otherwise" findings={data.findings.both_judged} />
      <Differ title="In both, with another number" findings={data.findings.both_moved} />
      <ComparedPictures ids={data.pictures} against={compareWith.value} />
    </div>
  );
}

/** A change breaks before its share in brackets, and nowhere else. */
const inTwo = (change: string): string => change.replace(/ (?!\()/g, "\u00a0");

function PromiseTable({ rows, names }: { rows: ComparedPromise[]; names: [string, string] }) {
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label="Promises side by side">
      <table class="rows side-by-side">
        <caption>What each can promise</caption>
        <thead>
          <tr>
            <th scope="col">promise</th>
            <th scope="col">{names[0]}</th>
            <th scope="col">{names[1]}</th>
            <th scope="col">change</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.label}>
              <th scope="row">{row.label}</th>
              <td>{row.a}</td>
              <td>{row.b}</td>
              <td class={`change ${row.better === true ? "change-better" : row.better === false ? "change-worse" : ""}`}>
                {inTwo(row.change)} {row.change && typeof row.better === "boolean" && <strong>{row.better ? "better" : "worse"}</strong>}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function Differ({ title, findings }: { title: string; findings: ComparedFound[] }) {
  if (findings.length === 0) return null;
  const here = new Set(state.value!.findings.map((f) => f.key));
  return (
    <section class="differ">
      <h3>{title}</h3>
      <ul class="findings compared">
        {findings.map((f) => (
          <li key={f.key} class={`finding finding-${f.status}`}>
            <span class="finding-line">
              <StatusMark status={f.status} />
              {f.margin && <span class="margin">margin {f.margin}</span>}
              <span class="check-id">{f.id}</span>
            </span>
            <span class="sentence">
              {here.has(f.key) ? (
                <button type="button" class="link" onClick={() => openFinding(f.key)}>
                  {sentenceOf(f)}
                </button>
              ) : (
                sentenceOf(f)
              )}
            </span>
            <Turned finding={f} />
            <span class="where">
              <FieldLink path={f.subject} />
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** How its status was in the other machine and is in this one. */
function Turned({ finding: f }: { finding: ComparedFound }) {
  if (f.words) return <span class="was hint">{f.words}</span>;
  if (!f.a || !f.b) return null;
  const [then, now] = compareWith.value.startsWith("file:") ? ["there", "here"] : ["before", "now"];
  return (
    <span class="was hint">
      {then}: {f.b}, {now}: {f.a}
    </span>
  );
}
