/** Taking in what others did: pages by rev, each stored together with its cursor, shown when the last one is there. */
import type { Id, PulledRow } from "../../model/types";
import { type BaseRow, type Deal, transact } from "../database";
import { reloadAll, rereadRows } from "../open";
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
      const { answer, fresh } = await pullPage(empty);
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

/** One page; `empty` gathers the sites that held no row when this pull began: in them nothing has to be looked up. */
async function pullPage(empty: Set<Id>): Promise<{ answer: PullAnswer; fresh: boolean }> {
  const { epoch, since } = await transact(["meta"], "readonly", async (tx) => ({
    epoch: ((await tx.objectStore("meta").get("epoch")) as string | undefined) ?? null,
    since: ((await tx.objectStore("meta").get("since")) as Since | undefined) ?? {},
  }));
  const answer = await ask<PullAnswer>("POST", "/api/sync/pull", { v: 1, epoch, since, limit: PAGE });
  if (typeof answer.epoch !== "string" || !Array.isArray(answer.rows) || typeof answer.since !== "object" || answer.since === null) {
    throw unreached("the pull answer is not ours");
  }
  await transact(["base", "meta"], "readwrite", async (tx) => {
    // The rows of an older epoch stay on the screen until the first page of the new one is here to replace them.
    if (epoch === null) await tx.objectStore("base").clear();
    for (const site of answer.drop ?? []) await tx.objectStore("base").delete(IDBKeyRange.bound([site], [site, []]));
    await markEmpty(tx, since, answer, empty);
    // All at once: the database works them off in this order, and waiting for each would take four times as long.
    await Promise.all(answer.rows.map((row) => takeIn(tx, row, empty)));
    await tx.objectStore("meta").put(nextSince(since, answer), "since");
    await tx.objectStore("meta").put(answer.epoch, "epoch");
  });
  return { answer, fresh: epoch === null };
}

function nextSince(since: Since, answer: PullAnswer): Since {
  const next = { ...since, ...answer.since };
  for (const site of answer.drop ?? []) delete next[site];
  return next;
}

async function markEmpty(tx: Deal, since: Since, answer: PullAnswer, empty: Set<Id>): Promise<void> {
  for (const site of new Set(answer.rows.map((row) => row.site))) {
    if (site in since || empty.has(site)) continue;
    if ((await tx.objectStore("base").count(IDBKeyRange.bound([site], [site, []]))) === 0) empty.add(site);
  }
}

async function takeIn(tx: Deal, row: PulledRow, empty: ReadonlySet<Id>): Promise<void> {
  const known = row.deleted || !empty.has(row.site);
  const old = known ? await tx.objectStore("base").get([row.site, row.type, row.id]) : undefined;
  const { site, type, id, rev } = row;
  const label = old?.label ?? null;
  const next: BaseRow = row.deleted
    ? { site, type, id, rev, deleted: true, alive_rev: (old?.deleted ? old.alive_rev : old?.rev) ?? 0, d: old?.d ?? {}, label }
    : { site, type, id, rev, deleted: false, alive_rev: rev, d: row.d ?? {}, label };
  await tx.objectStore("base").put(next);
}

/** The server was restored from a backup: keep the outbox, ask for everything anew. */
export async function forgetEpoch(): Promise<void> {
  await transact(["meta"], "readwrite", async (tx) => {
    await tx.objectStore("meta").put(null, "epoch");
    await tx.objectStore("meta").put({}, "since");
  });
}
