/** Pictures of this machine and the one that it is held against, on one scale: one at a time, they are many. */
import { useState } from "preact/hooks";
import type { Picture, PictureRow } from "./contract";
import { useFetched } from "./fetched";
import { Waiting } from "./marks";
import { Shown } from "./picture";
import { answers, state } from "./state";

/** `ids` as the comparison lists them; `against` is "kept:ID" or "file:NAME". */
export function ComparedDrawn({ ids, against }: { ids: string[]; against: string }) {
  const { data } = useFetched<PictureRow[]>("/api/pictures", state.value?.boot ?? "");
  const [id, choose] = useState("stiffness-map");
  const rows = ids.flatMap((wanted) => named(data?.find((row) => row.id === wanted.split(":")[0]), wanted));
  const shown = rows.find((row) => row.id === id) ?? rows[0];
  if (!shown) return null;
  return (
    <section class="compared-pictures" aria-labelledby="compared-pictures-title">
      <h3 id="compared-pictures-title">On one scale</h3>
      <div class="buttons" role="group" aria-label="Picture of both">
        {rows.map((row) => (
          <button type="button" key={row.id} aria-pressed={row.id === shown.id} onClick={() => choose(row.id)}>
            {row.title}
          </button>
        ))}
      </div>
      <Both key={shown.id + against} row={shown} against={against} />
    </section>
  );
}

/** A picture that a job has to itself bears the name of that job. */
function named(row: PictureRow | undefined, id: string): PictureRow[] {
  const of = id.slice(id.indexOf(":") + 1);
  return row ? [{ ...row, id, title: of === id ? row.title : `${row.title}: ${of}` }] : [];
}

function Both({ row, against }: { row: PictureRow; against: string }) {
  const query = `?with=${encodeURIComponent(against)}`;
  const url = `/api/compare/picture/${encodeURIComponent(row.id)}`;
  const { data, trouble, old } = useFetched<Picture>(`${url}${query}`, answers.value);
  return (
    <section class="picture" aria-label={row.title} aria-busy={old}>
      {data ? <Shown picture={data} svg={`${url}.svg${query}`} csv={`${url}.csv${query}`} /> : <Waiting trouble={trouble} what={row.words} />}
    </section>
  );
}
