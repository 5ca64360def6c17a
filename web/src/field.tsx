/** One value of the machine file, edited in place. */
import { useSignal } from "@preact/signals";
import { useEffect, useId, useMemo, useRef } from "preact/hooks";
import { aboutOf, ApiError, edit } from "./api";
import type { Field } from "./contract";
import { look, lookAway } from "./live";
import { PartTable } from "./parts";
import { act } from "./said";
import { changedOver, fileOf, online, state, wantedField } from "./state";
import { Typing } from "./typing";

/** Text to write: an empty box takes the line out of the file. */
export function textToWrite(text: string): string | null {
  return text.trim() === "" ? null : text.trim();
}

const isNeeded = (field: Field): string => `${field.label} is needed${field.example ? `; write for example ${field.example}` : ""}.`;

function waysOf(current: () => Field, group: string, typing: () => Typing, file: string) {
  return {
    write: async (text: string) => {
      const field = current();
      const value = textToWrite(text);
      if (value === null && field.needed) throw new Error(isNeeded(field));
      const label = `${group}: ${field.label} ${value ?? "left to its default"}`;
      await act(label, () => edit([[field.path, value]], label, file)).catch((trouble: Error) => {
        if (trouble instanceof ApiError) trouble.message = aboutOf(trouble, field.path);
        throw trouble;
      });
    },
    look: (text: string) => {
      const field = current();
      const value = textToWrite(text);
      if (value === null && field.needed) {
        typing().hint.value = isNeeded(field);
        lookAway(field.path);
        return;
      }
      look(
        field.path,
        value,
        () => typing().text.value === text && typing().dirty.value && !typing().sending.value,
        (told) => (typing().hint.value = told.ok ? "" : (told.problems[0]?.message ?? "")),
      );
    },
    lookAway: () => lookAway(current().path),
  };
}

/** A field that is taken off the page is left, too; what was typed for a file that is no longer shown is set aside instead. */
async function left(typing: Typing, file: string, label: string): Promise<void> {
  if (fileOf(state.peek()) === file) return typing.commit().then(() => typing.escape());
  if (!(await typing.unwritten())) return;
  const over = changedOver.peek();
  if (over) changedOver.value = { ...over, unwritten: [...over.unwritten, { file, label, text: typing.text.peek() }] };
}

export function FieldRow({ field, group }: { field: Field; group: string }) {
  const now = useRef(field);
  now.current = field;
  const file = useRef(fileOf(state.value)).current;
  const typing: Typing = useMemo(() => new Typing(field.text, waysOf(() => now.current, group, () => typing, file)), [field.path]);
  useEffect(() => typing.served(field.text), [field, typing]); // each answer counts, even one that equals the answer before
  useEffect(() => () => void left(typing, file, `${group}: ${now.current.label}`), [typing]);
  const id = useId();
  const row = useRef<HTMLDivElement>(null);
  const wanted = wantedField.value === field.path;
  useEffect(() => {
    if (!wanted) return;
    wantedField.value = "";
    row.current?.scrollIntoView({ block: "center" });
    row.current?.querySelector<HTMLElement>("input, select, button")?.focus();
  }, [wanted]);
  // What is wrong with the text in the file itself, until another is typed.
  const written = typing.dirty.value ? "" : (state.value?.problems.find((p) => p.path === field.path)?.message ?? "");
  const trouble = typing.trouble.value || written;
  return (
    <div class="field" data-kind={field.kind} data-dirty={typing.dirty.value ? "" : undefined} data-path={field.path} ref={row}>
      <label for={id}>
        {field.label}
        {field.needed && field.text === "" && <span class="needed"> needed</span>}
      </label>
      <Box field={field} typing={typing} id={id} invalid={trouble !== ""} />
      <p id={`${id}-said`} class={trouble ? "bad" : "hint"} role={trouble ? "alert" : undefined}>
        {trouble ? `! ${trouble}` : typing.dirty.value ? <Underway typing={typing} /> : typing.text.value === field.text && <Told field={field} />}
      </p>
      {field.help && <Help field={field} id={id} />}
    </div>
  );
}

/** While something is typed: what it lacks, or how to end it. */
function Underway({ typing }: { typing: Typing }) {
  if (typing.sending.value) return <>Writing …</>;
  if (!online.value) return <>Not connected: kept here, not written yet</>;
  if (typing.hint.value) return <>Not yet: {typing.hint.value}</>;
  if (typing.lost.value) return <>Not written yet: Enter writes it, Esc gives back {typing.written.value || "the default"}</>;
  return <>Enter writes it, Esc gives back {typing.written.value || "the default"}</>;
}

/** Value in force, the other unit, band, origin: of the text that the program was last heard to have, so never below another one. */
function Told({ field }: { field: Field }) {
  const silent = field.text === "" && field.effective !== "";
  const told = [
    silent ? `takes ${field.effective}` : field.effective !== field.text ? field.effective : "",
    field.other && `= ${field.other}`,
    field.band && `band ${field.band}`,
    field.origin,
    !field.editable && field.why_not,
  ].filter(Boolean);
  return <>{told.join(" · ")}</>;
}

/** What the value means, opened below it by its button. */
function Help({ field, id }: { field: Field; id: string }) {
  const open = useSignal(false);
  const range =
    field.low && field.high ? `${field.low} to ${field.high}` : field.low ? `at least ${field.low}` : field.high ? `at most ${field.high}` : "";
  return (
    <>
      <button type="button" class="help" aria-expanded={open.value} aria-controls={`${id}-help`} onClick={() => (open.value = !open.value)}>
        <span aria-hidden="true">i</span>
        <span class="unseen">What {field.label} means</span>
      </button>
      <p id={`${id}-help`} class="help-text" hidden={!open.value}>
        {field.help}
        {range && ` Allowed: ${range}.`}
        {field.example && ` For example ${field.example}.`}
      </p>
    </>
  );
}

interface BoxProps {
  field: Field;
  typing: Typing;
  id: string;
  invalid: boolean;
}

function Box({ field, typing, id, invalid }: BoxProps) {
  if (!field.editable) {
    return <output id={id}>{field.text || field.effective || "not said"}</output>;
  }
  if (field.kind === "flag") return <Choice typing={typing} id={id} field={field} invalid={invalid} choices={FLAG} />;
  if (field.kind === "choice" && field.choices.length > 0)
    return <Choice typing={typing} id={id} field={field} invalid={invalid} choices={field.choices.map((c) => [c, c])} />;
  return <TextBox field={field} typing={typing} id={id} invalid={invalid} />;
}

const FLAG: [string, string][] = [
  ["true", "yes"],
  ["false", "no"],
];

function TextBox({ field, typing, id, invalid }: BoxProps) {
  const choosing = useSignal(false);
  return (
    <div class="box">
      <input
        id={id}
        value={typing.text.value}
        autocomplete="off"
        autocapitalize="off"
        spellcheck={false}
        inputMode={field.kind === "count" ? "numeric" : undefined}
        placeholder={field.text === "" ? field.effective || (field.needed ? field.example : "") : undefined}
        aria-invalid={invalid ? "true" : undefined}
        aria-describedby={`${id}-said`}
        onInput={(e) => typing.input(e.currentTarget.value)}
        onBlur={() => typing.commit()}
        onKeyDown={(e) => {
          if (e.key === "Enter") typing.commit(true);
          if (e.key === "Escape" && typing.dirty.value) {
            e.stopPropagation();
            typing.escape();
          }
        }}
      />
      {(field.kind === "part" || field.kind === "name") && (
        <button type="button" onClick={() => (choosing.value = true)}>
          Choose
          <span class="unseen">
            {" "}
            {field.label} from {field.kind === "part" ? "the parts tables" : "what the machine has"}
          </span>
        </button>
      )}
      {choosing.value && (
        <PartTable
          field={field}
          onClose={() => (choosing.value = false)}
          onTake={(name) => {
            choosing.value = false;
            typing.input(name);
            void typing.commit();
          }}
        />
      )}
    </div>
  );
}

/** By pointer a choice is a change at once; by keys it is looked at until Enter or leaving, since each arrow key chooses. */
function Choice({ field, typing, id, invalid, choices }: BoxProps & { choices: [string, string][] }) {
  const keyed = useRef(false);
  const text = typing.text.value;
  const known = choices.some(([value]) => value === text);
  return (
    <div class="box">
      <select
        id={id}
        value={text}
        aria-invalid={invalid ? "true" : undefined}
        aria-describedby={`${id}-said`}
        onPointerDown={() => (keyed.current = false)}
        onKeyDown={(e) => {
          keyed.current = true;
          if (e.key === "Enter") void typing.commit(true);
          if (e.key === "Escape" && typing.dirty.value) typing.escape();
        }}
        onChange={(e) => {
          typing.input(e.currentTarget.value);
          if (!keyed.current) void typing.commit();
        }}
        onBlur={() => typing.commit()}
      >
        {!field.needed || text === "" ? <option value="">{inForce(field, choices)}</option> : null}
        {!known && text !== "" && <option value={text}>{text}</option>}
        {choices.map(([value, words]) => (
          <option key={value} value={value}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
}

function inForce(field: Field, choices: [string, string][]): string {
  const words = choices.find(([value]) => value === field.effective)?.[1] ?? field.effective;
  return field.text === "" && words ? `not said (${words})` : "not said";
}
