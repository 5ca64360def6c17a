/** The pictures of a stage: each drawn, in words with its key numbers, as a table, and to be saved. */
import { useRef, useState } from "preact/hooks";
import { Bars } from "./bars";
import type { Picture, PictureRow } from "./contract";
import { useFetched } from "./fetched";
import { FineMap } from "./fine";
import { Heat } from "./heat";
import { Lines } from "./lines";
import { scaleOf } from "./map";
import { Waiting } from "./marks";
import { isEmpty, maps, tableOf } from "./plotting";
import { SecondOpinion } from "./second";
import { answers, job, jobs, state, wantedCard, wantedJob } from "./state";
import "./picture.css";

export function Pictures({ stage }: { stage: string }) {
  const { data, trouble } = useFetched<PictureRow[]>("/api/pictures", state.value?.boot ?? "");
  const rows = data?.filter((row) => row.stage === stage) ?? [];
  if (trouble && !data) return <Waiting trouble={trouble} what="the pictures" />;
  return (
    <>
      {rows.some((row) => row.of_job) && <JobChoice />}
      {rows.map((row) => (
        <OnePicture key={row.id} row={row} of={row.of_job ? job.value : ""} />
      ))}
    </>
  );
}

/** Whose pictures are drawn, where the file names several jobs. */
function JobChoice() {
  if (jobs.value.length < 2) return null;
  return (
    <div class="buttons picture-jobs" role="group" aria-label="Job whose pictures are drawn">
      {jobs.value.map((name) => (
        <button type="button" key={name} aria-pressed={name === job.value} onClick={() => (wantedJob.value = wantedCard.value = name)}>
          {name}
        </button>
      ))}
    </div>
  );
}

/** The picture to show: what takes longer than the first answer stays as it was until it is there again. */
function useStanding(now: Picture | null): { data: Picture | null; held: boolean } {
  const last = useRef<Picture | null>(null);
  const pending = state.value?.settled.state === "pending";
  if (now && !isEmpty(now)) last.current = now;
  const held = pending && now !== null && isEmpty(now) && last.current !== null && last.current.of === now.of;
  return { data: held ? last.current : now, held };
}

function OnePicture({ row, of }: { row: PictureRow; of: string }) {
  const url = `/api/picture/${encodeURIComponent(of ? `${row.id}:${of}` : row.id)}`;
  const { data: now, trouble, old } = useFetched<Picture>(url, answers.value);
  const { data, held } = useStanding(now);
  return (
    <section class="picture" aria-labelledby={`picture-${row.id}`} aria-busy={old || held}>
      <h3 id={`picture-${row.id}`}>{data?.title ?? row.title}</h3>
      {data ? <Shown picture={data} svg={`${url}.svg`} csv={`${url}.csv`} canStand /> : <Waiting trouble={trouble} what={row.words} />}
      {data && row.id === "stiffness-map" && <FineMap picture={data} />}
      {data && row.id === "cut-lobes" && of && <SecondOpinion of={of} />}
    </section>
  );
}

/** One picture with all that belongs to it; its heading is the caller's. */
export function Shown({ picture, svg, csv, canStand = false }: { picture: Picture; svg: string; csv: string; canStand?: boolean }) {
  const [asTable, turn] = useState(false);
  if (isEmpty(picture)) return <p class="hint">{picture.words}</p>;
  const table = picture.kind === "table";
  return (
    <div class={`picture-in picture-${picture.kind}`}>
      <div class="picture-drawn">{asTable || table ? <Numbers picture={picture} /> : <Drawn picture={picture} canStand={canStand} />}</div>
      <div class="picture-said">
        <p class="hint">{picture.words}</p>
        <KeyNumbers picture={picture} />
        <div class="buttons">
          {!table && (
            <button type="button" aria-pressed={asTable} onClick={() => turn(!asTable)}>
              Show as table
            </button>
          )}
          <a class="button" href={svg} download>
            SVG<span class="unseen"> of {picture.title}</span>
          </a>
          <a class="button" href={csv} download>
            CSV<span class="unseen"> of {picture.title}</span>
          </a>
        </div>
      </div>
    </div>
  );
}

/** The numbers that the picture is about; of two machines side by side. */
function KeyNumbers({ picture }: { picture: Picture }) {
  if (picture.key.length === 0) return null;
  if (!picture.names?.length)
    return (
      <dl class="details">
        {picture.key.map((k) => (
          <div key={k.label}>
            <dt>{k.label}</dt>
            <dd>{k.text}</dd>
          </div>
        ))}
      </dl>
    );
  return (
    <table class="rows rows-words">
      <caption>Numbers of both</caption>
      <thead>
        <tr>
          <th scope="col">what</th>
          {picture.names.map((name) => (
            <th scope="col" key={name}>
              {name}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {picture.key.map((k) => (
          <tr key={k.label}>
            <th scope="row">{k.label}</th>
            <td>{k.text}</td>
            <td>{k.other}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Drawn({ picture, canStand }: { picture: Picture; canStand: boolean }) {
  if (picture.kind === "bars") return <Bars picture={picture} />;
  if (picture.kind === "lines") return <Lines picture={picture} />;
  const grids = maps(picture);
  const scale = scaleOf(...grids);
  return (
    <div class="heats">
      {grids.map((grid) => (
        <div key={grid.name ?? ""}>
          {grid.name && <h4>{grid.name}</h4>}
          <Heat picture={picture} grid={grid} scale={scale} canStand={canStand} />
        </div>
      ))}
    </div>
  );
}

function Numbers({ picture }: { picture: Picture }) {
  const { heads, rows } = tableOf(picture);
  const wordy = picture.kind === "table";
  return (
    <div class="scroll" tabIndex={0} role="region" aria-label={`${picture.title}, numbers`}>
      <table class={wordy ? "rows rows-words" : "rows"}>
        <caption>
          {picture.title}: {rows.length} rows
        </caption>
        <thead>
          <tr>
            {heads.map((h) => (
              <th scope="col" key={h}>
                {h}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row, i) => (
            <tr key={i}>
              {row.map((cell, k) => (k === 0 ? <th scope="row" key={k}>{cell}</th> : <td key={k}>{cell}</td>))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
