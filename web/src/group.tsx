/** One table of the machine file as a form: its fields, the tables below it, what can be added, whether it can go. */
import { useEffect, useRef, useState } from "preact/hooks";
import { edit } from "./api";
import type { Edit, Field, FieldGroup, StageGroup } from "./contract";
import { useFetched } from "./fetched";
import { FieldRow } from "./field";
import { Waiting } from "./marks";
import { attempt } from "./said";
import { openField, state, wantedField } from "./state";

/** The groups of a stage; the first that is no mere heading stands open, and so does one that somebody asked for. */
export function Groups({ groups }: { groups: StageGroup[] }) {
  const listed = new Set(groups.map((g) => g.path));
  // A table that only heads the next one has little to say itself.
  const first = groups.findIndex((g, i) => !groups[i + 1]?.path.startsWith(`${g.path}.`));
  return (
    <div class="groups">
      {groups.map((g, i) => (
        <Group key={g.path} path={g.path} title={g.title} open={i === first} listed={listed} />
      ))}
    </div>
  );
}

const holds = (group: string, path: string): boolean => path === group || path.startsWith(`${group}.`);

interface Props {
  path: string;
  title: string;
  open?: boolean;
  depth?: number;
  /** Tables that stand in the stage by themselves: they are not shown again below another. */
  listed?: ReadonlySet<string>;
}

const NONE: ReadonlySet<string> = new Set();

export function Group({ path, title, open = false, depth = 0, listed = NONE }: Props) {
  const [shown, show] = useState(open);
  const box = useRef<HTMLDetailsElement>(null);
  const wanted = wantedField.value;
  useEffect(() => {
    if (wanted && holds(path, wanted)) show(true);
    if (wanted === path) {
      box.current?.scrollIntoView({ block: "nearest" });
      box.current?.querySelector("summary")?.focus();
      wantedField.value = "";
    }
  }, [wanted]);
  return (
    <details class={`group depth-${Math.min(depth, 3)}`} open={shown} ref={box} onToggle={(e) => show(e.currentTarget.open)}>
      <summary>
        <span class="group-name">
          <span class="group-title">{title}</span> {title !== path && !title.includes(path) && <span class="path hint">{path}</span>}
        </span>
      </summary>
      {shown && <Inside path={path} title={title} depth={depth} listed={listed} />}
    </details>
  );
}

function Inside({ path, title, depth, listed }: Required<Omit<Props, "open">>) {
  const s = state.value!;
  const { data, trouble, old } = useFetched<FieldGroup>(`/api/fields?path=${encodeURIComponent(path)}`, `${s.boot}/${s.rev}`);
  const wanted = wantedField.value;
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    // an answer of before the last change does not have what the change added
    if (!data || old || !wanted || !holds(path, wanted) || wanted === path) return;
    if (data.fields.some((f) => f.path === wanted) || data.groups.some((g) => holds(g, wanted))) return;
    wantedField.value = ""; // nothing nearer is shown than this table
    box.current?.scrollIntoView({ block: "nearest" });
  }, [data, old, wanted]);
  if (!data) return <Waiting trouble={trouble} what="fields" />;
  return (
    <div class="group-in" aria-busy={old} ref={box}>
      {data.help && <p class="hint">{data.help}</p>}
      {trouble && <p class="bad">! {trouble}</p>}
      <Fields fields={data.fields} group={data.title || title} />
      {data.groups
        .filter((below) => !listed.has(below))
        .map((below) => (
          <Group key={below} path={below} title={titleBelow(below, path)} depth={depth + 1} listed={listed} />
        ))}
      <Changes group={data} />
    </div>
  );
}

const FEW = 6;

/** What the file says, and what it needs; where there is much more, what is left to defaults is folded. */
export function isSaid(field: Field): boolean {
  return field.text !== "" || field.needed;
}

function Fields({ fields, group }: { fields: Field[]; group: string }) {
  // A field keeps its place while it is on the page: an emptied one must not jump away from under the hand.
  const folded = useRef<Set<string> | null>(null);
  folded.current ??= new Set(fields.length > FEW ? fields.filter((f) => !isSaid(f)).map((f) => f.path) : []);
  const [shown, show] = useState(false);
  const wanted = wantedField.value;
  useEffect(() => {
    if (folded.current!.has(wanted)) show(true);
  }, [wanted]);
  const inFold = (f: Field) => folded.current!.has(f.path);
  const rest = fields.filter(inFold);
  return (
    <>
      {fields
        .filter((f) => !inFold(f))
        .map((f) => (
          <FieldRow key={f.path} field={f} group={group} />
        ))}
      {rest.length > 0 && (
        <details class="group silent" open={shown} onToggle={(e) => show(e.currentTarget.open)}>
          <summary>
            {rest.length} more, left to {rest.length === 1 ? "its default" : "their defaults"}
          </summary>
          {shown && rest.map((f) => <FieldRow key={f.path} field={f} group={group} />)}
        </details>
      )}
    </>
  );
}

/** What the path adds below the table above it: "left" below "axis.y.rail". */
export function titleBelow(path: string, above: string): string {
  const rest = holds(above, path) ? path.slice(above.length + 1) : path;
  return rest.replace(/[-_]/g, " ").split(".").join(", ");
}

/** Where an addition is: the first thing that it writes in the table that most of it is written in, the later one of two alike. */
export function leadOf(edits: readonly Edit[]): string {
  const tables = new Map<string, string[]>();
  for (const [path, text] of edits) {
    if (text === null) continue;
    const table = path.slice(0, path.lastIndexOf("."));
    tables.set(table, [...(tables.get(table) ?? []), path]);
  }
  return [...tables.values()].reduce<string[]>((most, paths) => (paths.length >= most.length ? paths : most), [])[0] ?? "";
}

async function add(group: FieldGroup, { words, edits }: FieldGroup["can_add"][number]): Promise<void> {
  if (await attempt(`Added ${words}`, () => edit(edits, `${group.title || group.path}: add ${words}`))) openField(leadOf(edits));
}

function Changes({ group }: { group: FieldGroup }) {
  if (group.can_add.length === 0 && !group.can_remove) return null;
  return (
    <div class="buttons">
      {group.can_add.map((a) => (
        <button type="button" key={a.words} onClick={() => add(group, a)}>
          + {a.words}
        </button>
      ))}
      {group.can_remove && (
        <button
          type="button"
          onClick={() => attempt(`Removed ${group.title || group.path}`, () => edit([[group.path, null]], `remove ${group.title || group.path}`))}
        >
          − Remove {group.title || group.path}
        </button>
      )}
    </div>
  );
}
