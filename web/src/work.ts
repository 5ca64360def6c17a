/** Long work that the page asks for: started by a button, followed among the jobs, its result fetched once it has ended. */
import { signal, type Signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import { get, type Job, request } from "./api";
import { fileOf, state } from "./state";

export interface Asked<T> {
  job: Job["id"];
  boot: string;
  file: string;
  /** The answers that it is about. */
  answers: number;
  told: T | null;
  trouble: string;
}

export interface Work<T> {
  asked: Signal<Asked<T> | null>;
  ask: () => Promise<void>;
}

/**
 * @param kind As `/api/jobs` names it.
 * @param nothing What is said where the work ended without a result.
 */
export function longWork<T>(kind: string, nothing: string): Work<T> & { collect: (id: Job["id"]) => Promise<void> } {
  const asked = signal<Asked<T> | null>(null);
  const ask = async (): Promise<void> => {
    const s = state.value!;
    const blank = { job: "", boot: s.boot, file: fileOf(s), answers: s.answers_rev, told: null, trouble: "" };
    asked.value = blank;
    try {
      const job = await request<Job>("POST", "/api/jobs", { kind });
      asked.value = { ...blank, job: job.id };
    } catch (trouble) {
      asked.value = { ...blank, trouble: (trouble as Error).message };
    }
  };
  const collect = async (id: Job["id"]): Promise<void> => {
    const mine = asked.value;
    if (!mine || mine.job !== id || mine.told || mine.trouble) return;
    try {
      const job = await get<Job & { result: T | null }>(`/api/jobs/${id}`);
      if (job.state === "done" && job.result) asked.value = { ...mine, told: job.result };
      else if (job.state !== "running") asked.value = { ...mine, trouble: job.state === "cancelled" ? "It was stopped." : job.note || nothing };
    } catch (trouble) {
      asked.value = { ...mine, trouble: (trouble as Error).message };
    }
  };
  return { asked, ask, collect };
}

/** Follow it from a component: what was asked for of this file in this run of the program, and whether it is under way. */
export function useWork<T>(work: ReturnType<typeof longWork<T>>): { mine: Asked<T> | null; job: Job | null; under: boolean; old: boolean } {
  const s = state.value!;
  const asked = work.asked.value;
  const mine = asked?.boot === s.boot && asked.file === fileOf(s) ? asked : null;
  const job = (mine && s.jobs.find((j) => j.id === mine.job)) ?? null;
  const ended = job && job.state !== "running";
  useEffect(() => {
    if (mine && ended) void work.collect(mine.job);
  }, [mine?.job, ended]);
  return { mine, job, under: mine !== null && !mine.told && !mine.trouble, old: mine !== null && mine.answers !== s.answers_rev };
}
