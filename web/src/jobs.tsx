/** Long work under way: its progress and a way to stop it, in the title strip and beside what started it. */
import { request } from "./api";
import type { Job } from "./contract";
import { said, wrong } from "./said";

/** All of it, whichever part of the page asked for it. */
export function Jobs({ jobs }: { jobs: Job[] }) {
  const running = jobs.filter((j) => j.state === "running");
  const ended = jobs.filter((j) => j.state === "failed");
  if (running.length + ended.length === 0) return null;
  return (
    <ul class="jobs" aria-label="Long work">
      {running.map((j) => (
        <li key={j.id}>
          <span class="job-name" title={j.note}>
            {j.name}
            {j.note && <span class="hint">{j.note}</span>}
          </span>
          <Running job={j} />
        </li>
      ))}
      {ended.map((j) => (
        <li key={j.id} class="bad">
          ! {j.name}: {j.note}
        </li>
      ))}
    </ul>
  );
}

/** The work that was started here, below the button that started it; nothing once it has ended. */
export function JobHere({ job }: { job: Job | null | undefined }) {
  if (job?.state !== "running") return null;
  return (
    <div class="job-here">
      <Running job={job} />
      {job.note && <span class="hint">{job.note}</span>}
    </div>
  );
}

function Running({ job }: { job: Job }) {
  return (
    <>
      <progress value={job.fraction ?? undefined} max={1} aria-label={`Progress of ${job.name}`} />
      <button type="button" class="quiet" onClick={() => stop(job)}>
        Stop<span class="unseen"> {job.name}</span>
      </button>
    </>
  );
}

const stop = (job: Job): Promise<void> =>
  request("DELETE", `/api/jobs/${job.id}`).then(
    () => void (said.value = `Stopping ${job.name}`),
    (trouble: Error) => void (wrong.value = trouble.message),
  );
