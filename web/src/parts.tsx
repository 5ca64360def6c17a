/** Rows of the parts tables that fit a field, with their own numbers; or what the machine has that the field may name. */
import { useSignal } from "@preact/signals";
import type { Field, PartChoice } from "./contract";
import { Dialog } from "./dialog";
import { useFetched } from "./fetched";
import { Waiting } from "./marks";
import { state } from "./state";
import "./parts.css";

interface Props {
  field: Field;
  onTake: (name: string) => void;
  onClose: () => void;
}

export function PartTable({ field, onTake, onClose }: Props) {
  const sought = useSignal("");
  const s = state.value!;
  const { data, trouble } = useFetched<PartChoice[]>(`/api/choices?path=${encodeURIComponent(field.path)}`, `${s.boot}/${s.rev}`);
  const rows = (data ?? []).filter((row) => fits(row, sought.value));
  const named = field.kind === "name";
  const columns = [...new Set((data ?? []).flatMap((row) => row.numbers.map(([label]) => label)))];
  const sources = [...new Set((data ?? []).map((row) => row.source))];
  const sourced = !named && sources.length > 1;
  return (
    <Dialog title={named ? `${field.label}: what the machine has` : `${field.label}: rows that fit`} onClose={onClose} wide="most">
      <label class="seek">
        Find <input type="search" value={sought.value} onInput={(e) => (sought.value = e.currentTarget.value)} />
      </label>
      {!data ? (
        <Waiting trouble={trouble} what={named ? "names" : "the parts tables"} />
      ) : (
        <div class="scroll parts" tabIndex={0} role="region" aria-label={named ? "Names in this machine" : "Rows of the parts tables"}>
          <table class="rows">
            <caption>
              {rows.length} of {data.length} {named ? "names" : "rows"}
              {!named && sources.length === 1 && `; source of all: ${sources[0]}`}
            </caption>
            <thead>
              <tr>
                <th scope="col">{named ? "name" : "row"}</th>
                {columns.map((c) => (
                  <th scope="col" key={c}>
                    {c}
                  </th>
                ))}
                {sourced && (
                  <th scope="col" class="words">
                    source
                  </th>
                )}
              </tr>
            </thead>
            <tbody>
              {rows.map((row) => {
                const numbers = new Map(row.numbers);
                return (
                  <tr key={row.name} aria-current={row.name === field.text ? "true" : undefined}>
                    <th scope="row">
                      <button type="button" class="link" onClick={() => onTake(row.name)}>
                        {row.name}
                      </button>
                      {row.name === field.text && <span class="hint"> in the file</span>}
                      {row.title && <div class="hint">{row.title}</div>}
                    </th>
                    {columns.map((c) => (
                      <td key={c} data-label={c}>
                        {numbers.get(c) ?? ""}
                      </td>
                    ))}
                    {sourced && (
                      <td class="words" data-label="source">
                        {row.source}
                      </td>
                    )}
                  </tr>
                );
              })}
            </tbody>
          </table>
        </div>
      )}
    </Dialog>
  );
}

/** Every word sought is in the name, the title or one of the numbers. */
export function fits(row: PartChoice, sought: string): boolean {
  const text = [row.name, row.title ?? "", ...row.numbers.map(([, t]) => t)].join(" ").toLowerCase();
  return sought
    .toLowerCase()
    .split(/\s+/)
    .every((word) => text.includes(word));
}
