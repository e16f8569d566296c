/**
 * Bringing back what was deleted. A deletion that surely never left this phone is taken out of the outbox; any other is
 * answered by an edit with the former fields, since an edit revives a row.
 */
import { computed } from "@preact/signals";
import type { Id, RowType } from "../model/types";
import { type BaseRow, type Deal, type WaitingOp, transact } from "./database";
import { APPEND_ONLY, FIELDS, ROW_TYPES, SERVERS } from "./fields";
import { addOps, newId, showKept } from "./outbox";
import { currentSite, me, nowIso, writes } from "./phone";
import { Refused } from "./refusals";
import { tellTabs } from "./tabs";
import { type Key, baseRow, baseRows, inTurn, lastFields, pendingFor, rowsTurn, settlePending, waitingKeys } from "./view";

export type RowKey = { type: RowType; id: Id };
/** A deleted row with its last fields; `at` is when this phone came to know of it. */
export type GoneRow = RowKey & { fields: Record<string, unknown>; at: string };

/** Bring rows of the current site back, what stands below before what stands on it: all of them or none. Those that are there are left as they are. */
export async function bringBack(rows: readonly RowKey[]): Promise<void> {
  const site = currentSite.peek();
  if (!site) throw new Refused("no_site", "Choose or set up a site first.");
  const { withdrawn, kept } = await transact(["outbox", "base", "meta"], "readwrite", async (tx) => {
    const waiting = await tx.objectStore("outbox").getAll();
    const withdrawn: Id[] = [];
    const revivals: Omit<WaitingOp, "n">[] = [];
    for (const { type, id } of rows) {
      const ops = waiting.filter((op) => op.site === site && op.type === type && op.id === id);
      const last = ops.at(-1);
      if (last?.kind === "del" && !last.tried) {
        await tx.objectStore("outbox").delete(last.n);
        withdrawn.push(last.op);
      } else {
        const revival = await revivalOf(tx, { site, type, id }, ops);
        if (revival) revivals.push(revival);
      }
    }
    return { withdrawn, kept: await addOps(tx, revivals) };
  }, "strict");
  await inTurn(() => settlePending(new Set(withdrawn), []));
  await showKept(kept);
  tellTabs({ kind: "outbox" });
  writes.value += 1;
}

/** The edit that revives a row; null if it is alive, or nothing is left of it. */
async function revivalOf(tx: Deal, key: Key, ops: readonly WaitingOp[]): Promise<Omit<WaitingOp, "n"> | null> {
  const row = await tx.objectStore("base").get([key.site, key.type, key.id]);
  const gone = ops.length ? ops.at(-1)?.kind === "del" : row?.deleted === true;
  const type = key.type as RowType;
  const set = Object.fromEntries(
    Object.entries(lastFields(row, ops)).filter(([name, value]) => value !== null && !SERVERS.has(name) && (FIELDS[type] as readonly string[]).includes(name)),
  );
  if (!gone || APPEND_ONLY.has(type) || !Object.keys(set).length) return null;
  // The deletion was seen, by whomever it was made: its rev is the base, so that bringing the row back is no second answer.
  return { op: newId(), type, id: key.id, site: key.site, kind: "put", base: row?.rev ?? 0, at: nowIso(), set };
}

/** What was deleted on the current site, newest first, as far as this phone had it and still has its fields. */
export const gone = computed<readonly GoneRow[]>(() => {
  void rowsTurn.value;
  const site = currentSite.value;
  const found = new Map<string, GoneRow>();
  const look = (key: Key, row: BaseRow | undefined) => {
    const one = goneOf(key, row);
    if (one) found.set(`${key.type}/${key.id}`, one);
  };
  for (const row of baseRows()) if (row.deleted) look(row, row);
  for (const key of waitingKeys()) if (key.site === site) look(key, baseRow(key));
  return [...found.values()].sort((a, b) => (a.at < b.at ? 1 : -1));
});

function goneOf(key: Key, row: BaseRow | undefined): GoneRow | null {
  const ops = pendingFor(key);
  const last = ops.at(-1);
  const at = last ? (last.kind === "del" ? last.at : null) : row?.deleted ? (row.gone_at ?? null) : null;
  const fields = lastFields(row, ops);
  const type = ROW_TYPES.find((one) => one === key.type);
  if (!at || !type || !Object.keys(fields).length) return null;
  return { type, id: key.id, fields: { made_by: me.peek()?.person, ...fields }, at };
}
