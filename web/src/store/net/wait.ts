/** Waiting for news: while the app is in front, one tab keeps a question open at the server, which answers once somebody else has sent something. */
import { sameValue } from "../../model/merge";
import { transact } from "../database";
import { signedOut } from "../phone";
import { NotReached, Refused } from "../refusals";
import { ask, reaching } from "./transport";

/** A server without this route is asked for it again after so long. */
const NO_ROUTE_MS = 600_000;
/** An answer without news that comes sooner than this did not wait at all: asking on would only wear out the line. */
const NO_WAIT_MS = 2_000;

type Since = Record<string, number>;

let question: AbortController | null = null;
let notBefore_ms = 0;
/** The cursors at which news was told last: if they are still the same after a pull, that news is none for this phone. */
let toldAt: Since | null = null;

/** Whether a question is open now. */
export const isWatching = () => question !== null;

/** Take the question back: the app goes out of sight, or is about to ask by itself. */
export function stopWatching(): void {
  question?.abort();
  question = null;
}

/** Wait for news and call `onNews` once; without news go on waiting. Any failure ends it: the caller's own rhythm goes on. */
export async function watchForNews(onNews: () => void): Promise<void> {
  if (question || signedOut.peek() || reaching.peek() !== "reached" || Date.now() < notBefore_ms) return;
  const mine = new AbortController();
  question = mine;
  try {
    if ((await inOneTab(() => waitOn(mine.signal))) && !mine.signal.aborted) onNews();
  } finally {
    if (question === mine) question = null;
  }
}

/** In this tab only if no other tab waits; they hear from it what came. */
async function inOneTab(deed: () => Promise<boolean>): Promise<boolean> {
  const locks = (globalThis as { navigator?: { locks?: LockManager } }).navigator?.locks;
  if (!locks) return deed();
  return locks.request("makegood-wait", { ifAvailable: true }, async (lock) => (lock ? deed() : false));
}

async function waitOn(stopped: AbortSignal): Promise<boolean> {
  while (!stopped.aborted) {
    const { since, epoch } = await readCursors();
    if (stopped.aborted || Object.keys(since).length === 0 || sameValue(since, toldAt)) return false;
    const asked_ms = Date.now();
    const news = await askOnce(since, epoch, stopped);
    if (news === true) toldAt = since;
    if (news !== false) return news === true;
    if (Date.now() - asked_ms < NO_WAIT_MS) return false;
  }
  return false;
}

async function readCursors(): Promise<{ since: Since; epoch: string | null }> {
  return transact(["meta"], "readonly", async (tx) => ({
    since: ((await tx.objectStore("meta").get("since")) ?? {}) as Since,
    epoch: ((await tx.objectStore("meta").get("epoch")) ?? null) as string | null,
  }));
}

/** Whether there is news, or null if this question was not answered. */
async function askOnce(since: Since, epoch: string | null, stopped: AbortSignal): Promise<boolean | null> {
  const revs = Object.entries(since).map(([site, rev]) => `rev=${encodeURIComponent(`${site}:${rev}`)}`);
  try {
    const answer = await ask<{ epoch: string; news: boolean }>("GET", `/api/sync/wait?${revs.join("&")}`, undefined, stopped);
    return answer.news === true || answer.epoch !== epoch;
  } catch (error) {
    if (error instanceof Refused && error.status === 404) notBefore_ms = Date.now() + NO_ROUTE_MS;
    if (error instanceof Refused || error instanceof NotReached) return null;
    throw error;
  }
}
