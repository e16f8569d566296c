/** Sending the outbox: in order, in bites, each op leaving only when the server has answered for it by its id. */
import type { Id, OpResult, RowType } from "../../model/types";
import { type BaseRow, type Deal, type ParkedOp, type WaitingOp, asSent, transact } from "../database";
import { parked } from "../outbox";
import { lastSentAt, me, nowIso } from "../phone";
import { Refused } from "../refusals";
import { tellTabs } from "../tabs";
import { inTurn, replayOps, settlePending } from "../view";
import { ask, unreached } from "./transport";

const MOST_OPS = 200;
/** The server's limit is 256 KiB for the whole body; the rest is room for its frame. */
const MOST_BYTES = 250 * 1024;

type PushAnswer = { epoch?: unknown; results?: unknown };

/** Send until nothing waits. Rejects when the server is not reached, asks to wait, or changed its epoch. */
export async function pushAll(): Promise<void> {
  let most = MOST_OPS;
  for (;;) {
    const batch = await nextBatch(most);
    if (!batch.length) return;
    const results = await pushBatch(batch);
    if (results) await settle(batch, results);
    else if (batch.length > 1) most = Math.ceil(batch.length / 2);
    else await settle(batch, [{ op: (batch[0] as WaitingOp).op, st: "rejected", code: "too_large", say: "This change is too large to send." }]);
  }
}

async function nextBatch(most: number): Promise<WaitingOp[]> {
  const ops = await transact(["outbox"], "readonly", async (tx) => tx.objectStore("outbox").getAll(null, most));
  const bite: WaitingOp[] = [];
  let bytes = 0;
  for (const op of ops) {
    bytes += new TextEncoder().encode(JSON.stringify(op)).length + 1;
    if (bite.length && bytes > MOST_BYTES) break;
    if (!bite.some((one) => one.op === op.op)) bite.push(op);
  }
  return bite.some(isFreshDrop) ? markTried(bite) : bite;
}

const isFreshDrop = (op: WaitingOp) => op.kind === "del" && !op.tried;

/** From here on a deletion may be known to the server, so that to undo it takes more than to take it out of the outbox. One taken out just now is left out. */
async function markTried(bite: readonly WaitingOp[]): Promise<WaitingOp[]> {
  return transact(["outbox"], "readwrite", async (tx) => {
    const there: WaitingOp[] = [];
    for (const op of bite) {
      if (isFreshDrop(op) && (await tx.objectStore("outbox").getKey(op.n)) === undefined) continue;
      there.push(op);
      if (isFreshDrop(op)) await tx.objectStore("outbox").put({ ...op, tried: true });
    }
    return there;
  }, "strict");
}

/** One push; null if the server found the bite too large. */
async function pushBatch(batch: readonly WaitingOp[]): Promise<OpResult[] | null> {
  const epoch = await transact(["meta"], "readonly", async (tx) => tx.objectStore("meta").get("epoch"));
  const ops = batch.map(asSent);
  let answer: PushAnswer;
  try {
    answer = await ask<PushAnswer>("POST", "/api/sync/push", { v: 1, epoch: epoch ?? null, ops });
  } catch (error) {
    if (error instanceof Refused && error.status === 413) return null;
    throw error;
  }
  if (typeof answer.epoch !== "string" || !Array.isArray(answer.results)) throw unreached("the push answer is not ours");
  const known = new Set(batch.map((op) => op.op));
  const results = (answer.results as OpResult[]).filter((one) => known.has(one.op));
  if (!results.length) throw unreached("the push answer names none of the ops sent");
  return results;
}

/** Take in results: applied ops are folded into the base rows, rejected ones are parked; all in one transaction. */
async function settle(batch: readonly WaitingOp[], results: readonly OpResult[]): Promise<void> {
  const byOp = new Map(batch.map((op) => [op.op, op]));
  const answered = new Set(results.map((one) => one.op));
  const sent_at = nowIso();
  const folded = await transact(["outbox", "base", "parked", "meta"], "readwrite", async (tx) => {
    const rows = new Map<string, BaseRow>();
    for (const result of results) {
      const op = byOp.get(result.op) as WaitingOp;
      if (result.st === "rejected") await tx.objectStore("parked").put(parkedOf(op, result));
      else await fold(tx, op, result, rows);
    }
    await knowSites(tx, rows.values());
    for (const op of await tx.objectStore("outbox").getAll(IDBKeyRange.upperBound(Math.max(...batch.map((one) => one.n))))) {
      if (answered.has(op.op)) await tx.objectStore("outbox").delete(op.n);
    }
    await tx.objectStore("meta").put(sent_at, "last_sent_at");
    return [...rows.values()];
  });
  const newlyParked = results.filter((one) => one.st === "rejected").map((one) => parkedOf(byOp.get(one.op) as WaitingOp, one));
  if (newlyParked.length) parked.value = [...parked.value.filter((one) => !answered.has(one.id)), ...newlyParked];
  lastSentAt.value = sent_at;
  await inTurn(() => settlePending(answered, folded));
  tellTabs({ kind: "rows", keys: folded.map(({ site, type, id }) => ({ site, type, id })) });
}

function parkedOf(op: WaitingOp, result: OpResult): ParkedOp {
  return { id: op.op, op, code: result.code ?? "bad_op", say: result.say ?? "", fields: result.fields ?? [], parked_at: nowIso() };
}

/**
 * Put a taken op into its base row, so that the screen does not fall back to the older value until the pull brings the
 * server's row. The row's rev stays what this phone has really seen: a later edit must still clash with what it has not.
 */
async function fold(tx: Deal, op: WaitingOp, result: OpResult, rows: Map<string, BaseRow>): Promise<void> {
  const old = await tx.objectStore("base").get([op.site, op.type, op.id]);
  if (op.kind === "del" && result.st === "clash") return;
  const made = op.kind === "del" ? deletedRow(op, old) : putRow(op, old);
  if (!made) return;
  const fields = [...new Set([...(old?.sent?.fields ?? []), ...Object.keys(op.set ?? {})])];
  const next = result.rev === undefined ? made : { ...made, sent: { rev: result.rev, fields } };
  await tx.objectStore("base").put(next);
  rows.set(`${op.site}/${op.type}/${op.id}`, next);
}

/** Have a cursor for each site that has rows here: else the server would never say that it was taken away. */
async function knowSites(tx: Deal, rows: Iterable<BaseRow>): Promise<void> {
  const since = ((await tx.objectStore("meta").get("since")) ?? {}) as Record<Id, number>;
  const fresh = [...rows].map((row) => row.site).filter((site) => !(site in since));
  if (fresh.length) await tx.objectStore("meta").put({ ...since, ...Object.fromEntries(fresh.map((site) => [site, 0])) }, "since");
}

function deletedRow(op: WaitingOp, old: BaseRow | undefined): BaseRow | null {
  return old ? { ...old, deleted: true, alive_rev: old.deleted ? old.alive_rev : old.rev, gone_at: op.at } : null;
}

function putRow(op: WaitingOp, old: BaseRow | undefined): BaseRow | null {
  const shown = replayOps(op.type as RowType, old, [op], me.peek()?.person ?? "") as (Record<string, unknown> & { id: Id }) | undefined;
  if (!shown) return null;
  const { id, site_id: _site, rev: _rev, ...d } = shown;
  const rev = old?.deleted ? old.alive_rev : (old?.rev ?? 0);
  const label = op.label ?? old?.label ?? null;
  return { site: op.site, type: op.type, id, rev, deleted: false, alive_rev: rev, d, label, epoch: old?.epoch ?? null, told: old?.told };
}
