/**
 * The loop: send, take in, then photo bytes. One tab at a time; tries again by itself, later and later while the server
 * is not reached. Nothing that fails here loses anything: the outbox is only emptied by answers.
 */
import { computed, effect, signal } from "@preact/signals";
import { transact } from "../database";
import { parked, photoJobs } from "../outbox";
import { lastSentAt, me, setSignedOut, signedOut, writes } from "../phone";
import { NotReached, Refused } from "../refusals";
import { askToPersist, measureRoom, persisted, quota, readPersisted } from "../photo/room";
import { catchUp } from "../open";
import { waiting } from "../view";
import { askServer } from "./catalogue";
import { refreshMe } from "./me";
import { followLine, line, originalsHeld, originalsWent } from "./line";
import { forgetCursors, forgetEpoch, pullAll } from "./pull";
import { pushAll } from "./push";
import { recoverSession } from "./recover";
import { reaching } from "./transport";
import { uploadAll } from "./upload";
import { isWatching, stopWatching, watchForNews } from "./wait";

const FIRST_WAIT_MS = 2_000;
const LONGEST_WAIT_MS = 300_000;
const AFTER_WRITE_MS = 300;
const IN_FRONT_MS = 20_000;
const ASK_SERVER_MS = 600_000;
/** While a question for news is open, the usual rhythm is this slow: for photos and what the question cannot tell. */
const WHILE_WATCHING_MS = 120_000;

const busy = signal(false);
/** Why the last sending stopped, if it was not the line: a code for the sentence and the server's own words. */
const problem = signal<{ code: string; message: string } | null>(null);

/** Everything the words about saving and sending need. */
export const syncState = computed(() => ({
  waiting: waiting.value,
  parked: parked.value.length,
  photosWaiting: photoJobs.value.filter((job) => job.state === "waiting").length,
  /** Photos among the waiting ones whose original stays here until there is Wi-Fi, or a person says otherwise. */
  originalsHeld: originalsHeld.value ? photoJobs.value.filter((job) => job.state === "waiting").length : 0,
  line: line.value,
  photosRefused: photoJobs.value.filter((job) => job.state === "refused").length,
  lastSentAt: lastSentAt.value,
  reaching: reaching.value,
  busy: busy.value,
  signedOut: signedOut.value,
  persisted: persisted.value,
  quota: quota.value,
  problem: problem.value,
}));

let running: Promise<void> | null = null;
let again = false;
let failures = 0;
let notBefore_ms = 0;
let askedServer_ms = 0;

/** Send and take in now, whatever waiting time was left; resolves when done or stopped, `syncState` tells which. */
export function syncNow(): Promise<void> {
  notBefore_ms = 0;
  again = running !== null;
  running ??= loop().finally(() => {
    running = null;
    watch();
  });
  return running;
}

async function loop(): Promise<void> {
  stopWatching();
  busy.value = true;
  lastRound_ms = Date.now();
  try {
    do {
      again = false;
      await inOneTab(round);
    } while (again);
  } finally {
    busy.value = false;
  }
}

/** Between two rounds, if the last one went well, wait at the server for news. */
function watch(): void {
  if (started && inFront && failures === 0) void watchForNews(() => void syncNow());
}

/** Run in this tab only if no other tab is at it. */
async function inOneTab(deed: () => Promise<void>): Promise<void> {
  const locks = (globalThis as { navigator?: { locks?: LockManager } }).navigator?.locks;
  if (!locks) return deed();
  return locks.request("makegood-sync", { ifAvailable: true }, async (lock) => {
    if (lock) await deed();
  });
}

async function round(): Promise<void> {
  try {
    if (Date.now() - askedServer_ms > ASK_SERVER_MS) {
      await askServer();
      askedServer_ms = Date.now();
    }
    if (me.peek() || (await recoverSession())) {
      await catchUp();
      await exchange();
    }
    failures = 0;
    problem.value = null;
  } catch (error) {
    await takeFailure(error);
  }
}

/** Push, pull, photos; a restored server or a renewed write key is put right once on the way. */
async function exchange(): Promise<void> {
  for (let tries = 0; ; tries += 1) {
    try {
      await pushAll();
      await pullAll();
      break;
    } catch (error) {
      if (!(error instanceof Refused) || tries >= 2) throw error;
      if (error.code === "epoch_changed") await forgetEpoch();
      else if (error.code === "horizon") await forgetCursors(Object.keys(error.fields));
      else if (error.status === 403) await refreshMe();
      else throw error;
    }
  }
  await setSignedOut(false);
  await learnNewGrants();
  await uploadAll();
  if (!photoJobs.peek().some((job) => job.state === "waiting")) originalsWent();
  await measureRoom();
}

/** A site that this device now gets but was not granted when it enrolled: ask which role it has there. */
async function learnNewGrants(): Promise<void> {
  const since = await transact(["meta"], "readonly", async (tx) => tx.objectStore("meta").get("since"));
  const got = Object.keys((since ?? {}) as Record<string, number>).sort().join();
  const granted = (me.peek()?.grants ?? []).map((grant) => grant.site_id).sort().join();
  if (got !== granted) await refreshMe();
}

async function takeFailure(error: unknown): Promise<void> {
  failures += 1;
  const wait_ms = Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (failures - 1)) * (0.5 + Math.random());
  const asked_ms = error instanceof Refused ? error.retryAfter_s * 1000 : 0;
  notBefore_ms = Date.now() + Math.max(wait_ms, asked_ms);
  if (error instanceof Refused && error.status === 401) await setSignedOut(true);
  kick(0);
  if (error instanceof NotReached) return;
  const code = error instanceof Refused ? error.code : "sync_failed";
  problem.value = { code, message: error instanceof Error ? error.message : String(error) };
}

let timer: ReturnType<typeof setTimeout> | undefined;
let timerAt_ms = Infinity;
let started = false;
let inFront = true;
let lastRound_ms = 0;

/** Sync after `delay_ms` (never while signed out: that needs a person), but not before a waiting time after failures is over; an earlier appointment stands. */
function kick(delay_ms: number): void {
  if (!started || signedOut.peek()) return;
  const at = Math.max(Date.now() + delay_ms, notBefore_ms);
  if (at >= timerAt_ms) return;
  clearTimeout(timer);
  timerAt_ms = at;
  timer = setTimeout(() => {
    timerAt_ms = Infinity;
    void syncNow();
  }, at - Date.now());
}

/** Start syncing by itself: now, when the line or the app comes back, after each write, and every 20 s in front. */
export function startSync(): void {
  if (started) return;
  started = true;
  const wake = () => {
    notBefore_ms = 0;
    kick(0);
  };
  self.addEventListener("online", wake);
  self.addEventListener("pageshow", wake);
  self.addEventListener("visibilitychange", (event) => {
    inFront = (event.target as { visibilityState?: string } | null)?.visibilityState !== "hidden";
    if (inFront) wake();
    else stopWatching();
  });
  self.addEventListener("offline", stopWatching);
  followLine(() => kick(0));
  setInterval(() => {
    if (inFront && (!isWatching() || Date.now() - lastRound_ms > WHILE_WATCHING_MS)) kick(0);
  }, IN_FRONT_MS);
  let seen = writes.peek();
  effect(() => {
    if (writes.value === seen) return;
    seen = writes.value;
    void askToPersist();
    kick(AFTER_WRITE_MS);
  });
  void measureRoom();
  void readPersisted();
  kick(0);
}
