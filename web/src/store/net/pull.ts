/** Taking in what others did: pages by rev, each stored together with its cursor, shown when the last one is there. */
import { tell } from "../../model/finding/told";
import { sameValue } from "../../model/merge";
import type { Id, PulledRow } from "../../model/types";
import { type BaseRow, type Deal, transact } from "../database";
import { APPEND_ONLY, SERVERS } from "../fields";
import { beginLooks, looks, readLooks } from "../looked";
import { reloadAll, rereadRows, showsSince } from "../open";
import { photoJobs } from "../outbox";
import { nowIso } from "../phone";
import { tellTabs } from "../tabs";
import type { Key } from "../view";
import { ask, unreached } from "./transport";

type PullAnswer = { epoch: string; more: boolean; since: Record<Id, number>; drop?: Id[]; rows: PulledRow[] };
type Since = Record<Id, number>;

const PAGE = 500;
/** More pages than this in one go would be five million rows: something is wrong on the other side. */
const MOST_PAGES = 10_000;

/** So many rows are read faster all together than one by one. */
const MANY_ROWS = 400;

/** Pull until the server has no more; what was taken in is shown even if the line breaks half way. */
export async function pullAll(): Promise<void> {
  const keys: Key[] = [];
  const empty = new Set<Id>();
  let everything = false;
  try {
    for (let page = 0; page < MOST_PAGES; page += 1) {
      const taken = await pullPage(empty);
      if (!taken) continue;
      const { answer, fresh } = taken;
      keys.push(...answer.rows.map(({ site, type, id }) => ({ site, type, id })));
      everything ||= fresh || (answer.drop ?? []).length > 0;
      if (!answer.more) return;
      if (!answer.rows.length) throw unreached("the pull says there is more but brings nothing");
    }
  } finally {
    await publish(keys, everything);
  }
}

async function publish(keys: Key[], everything: boolean): Promise<void> {
  if (everything || keys.length > MANY_ROWS) {
    await reloadAll();
    tellTabs({ kind: "everything" });
  } else if (keys.length) {
    await rereadRows(keys);
    tellTabs({ kind: "rows", keys });
  }
}

/**
 * One page, and whether all rows must be read anew; null if it came too late. `empty` gathers the sites that held no row
 * when this pull began: in them nothing has to be looked up.
 */
async function pullPage(empty: Set<Id>): Promise<{ answer: PullAnswer; fresh: boolean } | null> {
  const { epoch, since, anew } = await transact(["meta"], "readonly", async (tx) => ({
    epoch: ((await tx.objectStore("meta").get("epoch")) as string | undefined) ?? null,
    since: ((await tx.objectStore("meta").get("since")) as Since | undefined) ?? {},
    anew: ((await tx.objectStore("meta").get("anew")) as Id[] | undefined) ?? [],
  }));
  // In the midst of a pull from the start a cursor is low, but not old: the horizon is not for it.
  const midst = anew.length ? { anew } : {};
  const answer = await ask<PullAnswer>("POST", "/api/sync/pull", { v: 1, epoch, since, ...midst, limit: PAGE });
  if (typeof answer.epoch !== "string" || !Array.isArray(answer.rows) || typeof answer.since !== "object" || answer.since === null) {
    throw unreached("the pull answer is not ours");
  }
  let looked: typeof looks.value | null = null;
  const swept = await transact(["base", "meta"], "readwrite", async (tx) => {
    // A new role set a cursor back while the page was on its way: ask again from there.
    if (!sameValue(((await tx.objectStore("meta").get("since")) as Since | undefined) ?? {}, since)) return null;
    if (epoch === null && (await tx.objectStore("base").count()) > 0) await tx.objectStore("meta").put("every site", "sweep");
    const held = await readDropped(tx, answer);
    for (const site of answer.drop ?? []) await tx.objectStore("base").delete(ofSite(site));
    await markEmpty(tx, since, answer, empty);
    const seen = await readLooks(tx);
    const came = { epoch: answer.epoch, at: nowIso() };
    // All at once: the database works them off in this order, and waiting for each would take four times as long.
    await Promise.all(answer.rows.map((row) => takeIn(tx, row, { came, empty, held, tells: row.site in seen })));
    const next = nextSince(since, answer);
    if (!answer.more) looked = await beginLooks(tx, seen, next, answer.epoch);
    await tx.objectStore("meta").put(next, "since");
    await tx.objectStore("meta").put(answer.epoch, "epoch");
    await tx.objectStore("meta").put(answer.more ? begun(since, anew, answer) : [], "anew");
    return !answer.more && (await sweep(tx, answer.epoch));
  });
  if (swept === null) return null;
  showsSince(nextSince(since, answer));
  if (looked) looks.value = looked;
  return { answer, fresh: epoch === null || swept };
}

/** Whose rows are to be seen again or go: every site's after a restored server, some sites' after a horizon. */
type Sweep = true | "every site" | Id[];

/** After the last page, rows that were not seen again go; until then they stay on the screen. */
async function sweep(tx: Deal, epoch: string): Promise<boolean> {
  const wanted = (await tx.objectStore("meta").get("sweep")) as Sweep | undefined;
  if (!wanted) return false;
  await tx.objectStore("meta").delete("sweep");
  for (const range of Array.isArray(wanted) ? wanted.map(ofSite) : [null]) {
    for (let at = await tx.objectStore("base").openCursor(range); at; at = await at.continue()) {
      if (at.value.epoch !== epoch) await at.delete();
    }
  }
  return true;
}

/** The sites whose pull from the start has begun and not ended. */
function begun(since: Since, anew: readonly Id[], answer: PullAnswer): Id[] {
  return Object.keys(answer.since).filter((site) => anew.includes(site) || !since[site]);
}

const ofSite = (site: Id) => IDBKeyRange.bound([site], [site, []]);

/** The server no longer remembers what was removed from these sites since our cursors: ask for them from the start. The outbox stays. */
export async function forgetCursors(sites: readonly Id[]): Promise<void> {
  await transact(["base", "meta"], "readwrite", async (tx) => {
    const meta = tx.objectStore("meta");
    const since = { ...((await meta.get("since")) as Since | undefined) };
    const before = (await meta.get("sweep")) as Sweep | undefined;
    for (const site of sites) {
      since[site] = 0;
      const rows = await tx.objectStore("base").getAll(ofSite(site));
      // A row without an epoch is one not seen again yet.
      await Promise.all(rows.map((row) => tx.objectStore("base").put({ ...row, epoch: null })));
    }
    await meta.put(since, "since");
    if (!before || Array.isArray(before)) await meta.put([...new Set([...(before ?? []), ...sites])], "sweep");
  });
}

function nextSince(since: Since, answer: PullAnswer): Since {
  const next = { ...since };
  for (const site of answer.drop ?? []) delete next[site];
  // A site that was dropped and sent anew in one answer has a cursor again.
  return { ...next, ...answer.since };
}

async function markEmpty(tx: Deal, since: Since, answer: PullAnswer, empty: Set<Id>): Promise<void> {
  for (const site of new Set(answer.rows.map((row) => row.site))) {
    if (site in since || empty.has(site)) continue;
    if ((await tx.objectStore("base").count(ofSite(site))) === 0) empty.add(site);
  }
}

const nameOf = ({ site, type, id }: Key) => `${site}/${type}/${id}`;

/** The rows of sites that are dropped and sent anew in one answer, as when a hand-out changed: what was known of them is compared with what comes. */
async function readDropped(tx: Deal, answer: PullAnswer): Promise<Map<string, BaseRow>> {
  const anew = (answer.drop ?? []).filter((site) => site in answer.since);
  const rows = await Promise.all(anew.map((site) => tx.objectStore("base").getAll(ofSite(site))));
  return new Map(rows.flat().map((row) => [nameOf(row), row]));
}

/** `held`: rows that were dropped in this same answer; `tells`: whether this site has been looked at, so that there can be news. */
type Taking = { came: { epoch: string; at: string }; empty: ReadonlySet<Id>; held: ReadonlyMap<string, BaseRow>; tells: boolean };

async function takeIn(tx: Deal, row: PulledRow, { came, empty, held, tells }: Taking): Promise<void> {
  const known = row.deleted || !empty.has(row.site);
  const old = (known ? await tx.objectStore("base").get([row.site, row.type, row.id]) : undefined) ?? held.get(nameOf(row));
  const { site, type, id, rev } = row;
  const now = { rev, deleted: row.deleted === true, d: row.d ?? {} };
  const told = tells ? tell(old, now, came, APPEND_ONLY.has(type) ? "all" : SILENT) : undefined;
  const both = { site, type, id, rev, label: old?.label ?? null, epoch: came.epoch, told };
  const next: BaseRow = row.deleted
    ? { ...both, deleted: true, alive_rev: (old?.deleted ? old.alive_rev : old?.rev) ?? 0, d: old?.d ?? {}, gone_at: (old?.deleted ? old.gone_at : null) ?? came.at }
    : { ...both, deleted: false, alive_rev: rev, d: now.d };
  await tx.objectStore("base").put(next);
}

/** No person writes these. */
const SILENT: ReadonlySet<string> = new Set([...SERVERS, "made_at", "made_by"]);

/** The server was restored from a backup: keep the outbox, ask for everything anew, and offer it again the photos still here. */
export async function forgetEpoch(): Promise<void> {
  photoJobs.value = await transact(["meta", "photo_jobs", "photo_bytes"], "readwrite", async (tx) => {
    await tx.objectStore("meta").put(null, "epoch");
    await tx.objectStore("meta").put({}, "since");
    for (const job of await tx.objectStore("photo_jobs").getAll()) {
      const isHere = (await tx.objectStore("photo_bytes").getKey(job.sha256)) !== undefined;
      if (job.state === "sent" && isHere) await tx.objectStore("photo_jobs").put({ ...job, state: "waiting", preview_sent: false });
    }
    return tx.objectStore("photo_jobs").getAll();
  });
  tellTabs({ kind: "queues" });
}
