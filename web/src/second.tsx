/** A second opinion on chatter, by other methods: long work, so it is asked for; of all jobs at once, told of one. */
import type { Picture } from "./contract";
import { JobHere } from "./jobs";
import { Lines } from "./lines";
import { isEmpty } from "./plotting";
import { longWork, useWork } from "./work";

/** By job. */
export type SecondTold = Record<string, { words: string[]; pictures: Picture[] }>;

export const secondWork = longWork<SecondTold>("second-opinion", "No job could be looked at.");

export function SecondOpinion({ of }: { of: string }) {
  const { mine, job, under, old } = useWork(secondWork);
  const told = mine?.told ?? null;
  return (
    <section class="second" aria-labelledby="second-title">
      <h4 id="second-title">A second opinion</h4>
      {!told && <p class="hint">By the delay method, tooth by tooth, and by a run of each cut in time.</p>}
      <button type="button" disabled={under} onClick={secondWork.ask}>
        {under ? "Being worked out …" : told ? "Ask again" : "Ask for a second opinion"}
      </button>
      <JobHere job={job} />
      {mine?.trouble && (
        <p class="bad" role="alert">
          ! {mine.trouble}
        </p>
      )}
      {told && old && <p class="bad">! The machine has changed since: this opinion is of the one before.</p>}
      {told && <Opinion told={told[of]} of={of} />}
    </section>
  );
}

function Opinion({ told, of }: { told: SecondTold[string] | undefined; of: string }) {
  if (!told) return <p class="hint">{of} could not be looked at: its chatter is not known.</p>;
  return (
    <div role="region" aria-label={`Second opinion on ${of}`}>
      {told.words.map((words) => (
        <p class="cut-said" key={words}>
          {words}
        </p>
      ))}
      {told.pictures.map((picture) => (
        <div key={picture.id}>
          <h4>{picture.title}</h4>
          {isEmpty(picture) ? null : <Lines picture={picture} />}
          <p class="hint">{picture.words}</p>
        </div>
      ))}
    </div>
  );
}
