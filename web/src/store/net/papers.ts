/** Papers made by the server: a long one is a job that tells how far it is and can be stopped. */
import type { Id } from "../../model/types";
import { ask } from "./transport";

export type PaperJob = { job: string; done: number; of: number; ready: boolean };
type Wishes = { language: string; measures: string; id?: Id };

/** The address of a paper that is made at once. */
export function paperAddress(site: Id, paper: string, wishes: Wishes): string {
  return `/api/papers/${site}/${paper}?${new URLSearchParams(wishes)}`;
}

export const paperFile = (job: string): string => `/api/papers/jobs/${job}/file`;

/** Begin a long paper. */
export async function beginPaper(site: Id, paper: string, wishes: Wishes): Promise<string> {
  return (await ask<{ job: string }>("POST", paperAddress(site, paper, wishes), {})).job;
}

export async function paperProgress(job: string): Promise<PaperJob> {
  return { ...(await ask<Omit<PaperJob, "job">>("GET", `/api/papers/jobs/${job}`)), job };
}

export async function stopPaper(job: string): Promise<void> {
  await ask<void>("DELETE", `/api/papers/jobs/${job}`);
}
