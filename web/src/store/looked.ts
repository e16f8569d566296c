/** What changed since a person last looked, per site: a mark on this phone that is never sent, and the rows others changed above it. */
import { computed, signal } from "@preact/signals";
import { type Look, type NewsOf, newsSince } from "../model/finding/told";
import type { Id, RowType } from "../model/types";
import { type BaseRow, type Deal, transact } from "./database";
import { ROW_TYPES } from "./fields";
import { currentSite, me, nowIso } from "./phone";
import { tellTabs } from "./tabs";
import { baseRows, pendingFor, rowsTurn } from "./view";

type Looks = Readonly<Record<Id, Look>>;
const CELL = "looked";

/** The last look at each site. */
export const looks = signal<Looks>({});
/** A row that others changed; `at`: when it came to this phone, `by` and `made_at` only of a row that is new. */
export type News = NewsOf & { type: RowType; id: Id; at: string; by: string | null; made_at: string | null; fields_now: Record<string, unknown> };

export async function readLooks(tx: Deal): Promise<Looks> {
  return ((await tx.objectStore("meta").get(CELL)) as Looks | undefined) ?? {};
}

/** A site that has come whole for the first time counts as looked at: none of it is a change. */
export async function beginLooks(tx: Deal, known: Looks, cursors: Readonly<Record<Id, number>>, epoch: string): Promise<Looks> {
  const fresh = Object.entries(cursors).filter(([site]) => !(site in known));
  if (!fresh.length) return known;
  const next = { ...known, ...Object.fromEntries(fresh.map(([site, rev]) => [site, { rev, epoch, at: nowIso() }])) };
  await tx.objectStore("meta").put(next, CELL);
  return next;
}

/** Set the mark of the current site: everything up to `rev` has been seen. Resolves with the mark as it was. */
export async function haveLooked(rev: number): Promise<Look | null> {
  const site = currentSite.peek();
  if (!site) return null;
  const before = looks.peek()[site] ?? null;
  await setLook(site, async (tx) => ({ rev, epoch: String(await tx.objectStore("meta").get("epoch")), at: nowIso() }));
  return before;
}

/** Take the mark back to where it was. */
export async function lookAgain(site: Id, before: Look): Promise<void> {
  await setLook(site, () => Promise.resolve(before));
}

async function setLook(site: Id, make: (tx: Deal) => Promise<Look>): Promise<void> {
  looks.value = await transact(["meta"], "readwrite", async (tx) => {
    const next = { ...(await readLooks(tx)), [site]: await make(tx) };
    await tx.objectStore("meta").put(next, CELL);
    return next;
  });
  tellTabs({ kind: "looks" });
}

/** What another tab has stored. */
export async function rereadLooks(): Promise<void> {
  looks.value = await transact(["meta"], "readonly", readLooks);
}

/** Whether a row is deleted as this phone shows it. */
function isGone(row: BaseRow): boolean {
  const last = pendingFor(row).at(-1);
  return last ? last.kind === "del" : row.deleted;
}

/** What others did on the current site since the last look, newest first. */
export const news = computed<readonly News[]>(() => {
  void rowsTurn.value;
  const look = looks.value[currentSite.value ?? ""];
  if (!look) return [];
  const found: News[] = [];
  for (const row of baseRows()) {
    const { type, id, told, d } = row;
    const one = told && type !== "clash" ? newsSince(told, look) : null;
    const row_type = ROW_TYPES.find((known) => known === type);
    if (!one || !told || !row_type) continue;
    // This phone has brought it back, or deleted it, since.
    if ((one.what === "gone") !== isGone(row)) continue;
    const by = one.what === "fresh" ? String(d.made_by ?? "") : null;
    if (by !== null && by === me.value?.person) continue;
    found.push({ ...one, type: row_type, id, at: told.at, by, made_at: by === null ? null : String(d.made_at ?? told.at), fields_now: d });
  }
  return found.sort((a, b) => b.rev - a.rev);
});
