/**
 * Every write a person makes: one op each, in the outbox before the promise resolves. Also the parked ones, which the
 * server could not take.
 */
import { signal } from "@preact/signals";
import { sameValue } from "../model/merge";
import type { Fields, Id, Op, RowType, Rows } from "../model/types";
import { type BaseRow, type Deal, type ParkedOp, type PhotoJob, type StoreName, type WaitingOp, readRows, transact } from "./database";
import { APPEND_ONLY, FIELDS, NUMBERED } from "./fields";
import { currentSite, nowIso, writes } from "./phone";
import { Refused, StoreTrouble } from "./refusals";
import { tellTabs } from "./tabs";
import { type Key, addPending, baseRow, inTurn, keysBelow, pendingFor, replacePending, replayOps } from "./view";

/** A new row (no id, or an id made with `newId`) or an edit; `seen` is the rev the person was looking at, if it may have moved on since. */
export type Put = { [T in RowType]: { type: T; id?: Id | null; set: Partial<Fields<T>>; seen?: number } }[RowType];
export type Drop = { type: RowType; id: Id; drop: true; seen?: number };
export type Change = Put | Drop;
export type PutOptions = {
  /** A draft that these rows make good: it goes in the same transaction. */
  draft?: string;
  /** Another site than the current one. */
  site?: Id;
  /** Bytes of photos among the changes that are not stored yet. */
  bytes?: ReadonlyMap<string, ArrayBuffer>;
};

export const parked = signal<readonly ParkedOp[]>([]);
export const photoJobs = signal<readonly PhotoJob[]>([]);
/** Drafts taken away together with a write; drafts.ts listens. */
export const draftsGone = signal<readonly string[]>([]);

export const newId = (): Id => crypto.randomUUID();
const same = (a: unknown, b: unknown) => sameValue(a ?? null, b ?? null);

/** Keep one row, new (`id` null) or changed; resolves with its id once it is durably stored. */
export async function put<T extends RowType>(type: T, id: Id | null, set: Partial<Fields<T>>, seen?: number): Promise<Id> {
  const [kept] = await putMany([{ type, id, set, ...(seen === undefined ? {} : { seen }) } as Put]);
  return kept as Id;
}

export async function drop(type: RowType, id: Id, seen?: number): Promise<void> {
  await putMany([{ type, id, drop: true, ...(seen === undefined ? {} : { seen }) }]);
}

/** The fields of `after` that differ from `before`: send only these, so that other people's fields merge. */
export function changesOf<T extends RowType>(before: Rows[T], after: Partial<Fields<T>>): Partial<Fields<T>> {
  const kept = Object.entries(after).filter(([name, value]) => !same(value, before[name as keyof Rows[T]]));
  return Object.fromEntries(kept) as Partial<Fields<T>>;
}

/** Keep several changes in one transaction: all or none. Resolves with the ids in order. */
export async function putMany(changes: readonly Change[], options: PutOptions = {}): Promise<Id[]> {
  const made = changes.map((change) => makeOp(change, options.site ?? currentSite.peek()));
  const ops = made.filter((one) => one.worth).map((one) => one.op);
  const photos = ops.filter((op) => op.type === "photo" && op.kind === "put");
  // The first site set up on a phone is the one the person goes on with.
  const founded = currentSite.peek() ? undefined : ops.find((op) => op.type === "site")?.id;
  const stores: StoreName[] = ["outbox", "meta"];
  if (photos.length) stores.push("photo_jobs", "photo_bytes");
  if (options.draft !== undefined) stores.push("draft");
  const { kept, jobs } = await transact(stores, "readwrite", async (tx) => {
    const kept = await addOps(tx, ops);
    const jobs = photos.length ? await addJobs(tx, photos, options.bytes ?? new Map()) : null;
    if (options.draft !== undefined) await tx.objectStore("draft").delete(options.draft);
    if (founded) await tx.objectStore("meta").put(founded, "current_site");
    return { kept, jobs };
  }, "strict");
  if (founded) await inTurn(() => void (currentSite.value = founded));
  await showKept(kept);
  if (jobs) photoJobs.value = jobs;
  if (options.draft !== undefined) draftsGone.value = [options.draft];
  tellTabs({ kind: "outbox" });
  writes.value += 1;
  return made.map((one) => one.op.id);
}

/**
 * Show ops just kept. Until their turn comes, another tab or the sync may have sent them already: then they are in their
 * rows, and to show them as waiting would put them over what came later.
 */
export async function showKept(kept: readonly WaitingOp[]): Promise<void> {
  await inTurn(async () => {
    const now = await readIfSent(kept).catch((error: unknown) => {
      // They are stored, whatever became of this reading: to reject now would have the person enter them again.
      if (!(error instanceof StoreTrouble)) throw error;
      return null;
    });
    if (now) replacePending(now.outbox, now.rows);
    else addPending(kept);
  });
}

/** What waits, and the rows below it, if one of these ops is gone: earlier ones on its row that left with it would cover the row else. */
async function readIfSent(kept: readonly WaitingOp[]): Promise<{ outbox: WaitingOp[]; rows: BaseRow[] } | null> {
  return transact(["outbox", "base"], "readonly", async (tx) => {
    const found = await Promise.all(kept.map((op) => tx.objectStore("outbox").getKey(op.n)));
    const sent = kept.filter((_, i) => found[i] === undefined);
    if (!sent.length) return null;
    const outbox = await tx.objectStore("outbox").getAll();
    return { outbox, rows: await readRows(tx, [...keysBelow(outbox), ...sent]) };
  });
}

/** The op for a change; an edit that changes nothing is not worth sending. */
function makeOp(change: Change, current: Id | null): { op: Omit<WaitingOp, "n">; worth: boolean } {
  const id = change.id ?? newId();
  const site = change.type === "site" ? id : current;
  if (!site) throw new Refused("no_site", "Choose or set up a site first.");
  const key: Key = { site, type: change.type, id };
  const base = baseRow(key);
  const isNew = !base && pendingFor(key).length === 0;
  if (!isNew && APPEND_ONLY.has(change.type)) throw new Refused("append_only", "What was recorded stays; add a new one instead.");
  const head = {
    op: newId(), type: change.type, id, site, base: change.seen ?? (base?.deleted ? base.alive_rev : base?.rev) ?? 0, at: nowIso(),
  };
  if ("drop" in change) return { op: { ...head, kind: "del" }, worth: true };
  const set = wanted(change, key, isNew);
  return { op: { ...head, kind: "put", set }, worth: isNew || Object.keys(set).length > 0 };
}

/** The fields worth sending: known to the type, given, and for an edit different from what is shown. */
function wanted(change: Put, key: Key, isNew: boolean): Record<string, unknown> {
  const now = isNew ? undefined : (replayOps(change.type, baseRow(key), pendingFor(key), "") as Record<string, unknown> | undefined);
  const set: Record<string, unknown> = {};
  for (const name of FIELDS[change.type]) {
    const value = (change.set as Record<string, unknown>)[name];
    if (value === undefined) continue;
    if (isNew ? value !== null : !now || !same(value, now[name])) set[name] = value;
  }
  return set;
}

export async function addOps(tx: Deal, ops: readonly Omit<WaitingOp, "n">[]): Promise<WaitingOp[]> {
  const labels = { ...((await tx.objectStore("meta").get("labels")) as Record<string, number> | undefined) };
  const kept: WaitingOp[] = [];
  for (const op of ops) {
    const fresh = NUMBERED.has(op.type) && op.kind === "put" && op.base === 0 && !baseRow(op) && pendingFor(op).length === 0;
    const name = `${op.site}/${op.type}`;
    if (fresh) labels[name] = (labels[name] ?? 0) + 1;
    const one = fresh ? { ...op, label: labels[name] } : { ...op };
    // `n` is given by the store's own counter, which never goes back: the order holds over tabs and restarts.
    const n = await tx.objectStore("outbox").add(one as WaitingOp);
    kept.push({ ...one, n });
  }
  await tx.objectStore("meta").put(labels, "labels");
  return kept;
}

async function addJobs(tx: Deal, photos: readonly Omit<WaitingOp, "n">[], bytes: ReadonlyMap<string, ArrayBuffer>): Promise<PhotoJob[]> {
  for (const photo of photos) {
    const sha256 = String(photo.set?.sha256);
    const given = bytes.get(sha256);
    if (given) await tx.objectStore("photo_bytes").put(given, sha256);
    else if ((await tx.objectStore("photo_bytes").getKey(sha256)) === undefined) {
      throw new Refused("photo_bytes_missing", "The picture itself is no longer on this phone. Take it again.");
    }
    const old = await tx.objectStore("photo_jobs").get([photo.site, sha256]);
    const state = old?.state === "sent" ? "sent" : "waiting";
    const preview = await keepPreview(tx, photo, bytes);
    await tx.objectStore("photo_jobs").put({
      site: photo.site, sha256, photo_ids: [...(old?.photo_ids ?? []), photo.id], length: Number(photo.set?.bytes), state, code: null, say: null,
      changed_at: photo.at, preview, preview_sent: preview !== null && old?.preview === preview && old.preview_sent === true,
    });
  }
  return tx.objectStore("photo_jobs").getAll();
}

/** The preview a photo row names, stored if its bytes were given; null if it names none that is here. */
async function keepPreview(tx: Deal, photo: Omit<WaitingOp, "n">, bytes: ReadonlyMap<string, ArrayBuffer>): Promise<string | null> {
  const preview = photo.set?.preview;
  if (typeof preview !== "string") return null;
  const given = bytes.get(preview);
  if (given) await tx.objectStore("photo_bytes").put(given, preview);
  return given || (await tx.objectStore("photo_bytes").getKey(preview)) !== undefined ? preview : null;
}

/** Send a parked change once more, as a new op: the server keeps its answer to the old one for good. */
export async function retryParked(id: Id, mended: Record<string, unknown> = {}): Promise<void> {
  const op = await transact(["parked", "outbox"], "readwrite", async (tx) => {
    const found = await tx.objectStore("parked").get(id);
    if (!found) return null;
    await tx.objectStore("parked").delete(id);
    const { n: _old, tried: _tried, ...rest } = found.op;
    const again = { ...rest, op: newId(), ...(rest.set ? { set: { ...rest.set, ...mended } } : {}) };
    return { ...again, n: await tx.objectStore("outbox").add(again as WaitingOp) };
  }, "strict");
  parked.value = parked.value.filter((one) => one.id !== id);
  if (!op) return;
  await showKept([op]);
  tellTabs({ kind: "outbox" });
  writes.value += 1;
}

/** A parked change that was thrown away, and the photo job it hung on. */
export type Discarded = { parked: ParkedOp; job: PhotoJob | null };

/** Throw a parked change away, at the person's wish; a photo that hung on it is not sent either. What was thrown away can be put back with `putParkedBack`. */
export async function discardParked(id: Id): Promise<Discarded | null> {
  const { gone, jobs } = await transact(["parked", "photo_jobs"], "readwrite", async (tx) => {
    const found = await tx.objectStore("parked").get(id);
    await tx.objectStore("parked").delete(id);
    const job = found?.op.type === "photo" ? await unhook(tx, found.op) : null;
    return { gone: found ? { parked: found, job } : null, jobs: await tx.objectStore("photo_jobs").getAll() };
  }, "strict");
  parked.value = parked.value.filter((one) => one.id !== id);
  photoJobs.value = jobs;
  tellTabs({ kind: "outbox" });
  return gone;
}

/** The change stands among the refused ones again, as if it had never been thrown away. */
export async function putParkedBack({ parked: one, job }: Discarded): Promise<void> {
  const jobs = await transact(["parked", "photo_jobs"], "readwrite", async (tx) => {
    await tx.objectStore("parked").put(one);
    if (job) {
      const now = await tx.objectStore("photo_jobs").get([job.site, job.sha256]);
      await tx.objectStore("photo_jobs").put(now ? { ...now, photo_ids: [...new Set([...now.photo_ids, ...job.photo_ids])] } : job);
    }
    return tx.objectStore("photo_jobs").getAll();
  }, "strict");
  parked.value = [...parked.value.filter((other) => other.id !== one.id), one];
  photoJobs.value = jobs;
  tellTabs({ kind: "outbox" });
}

async function unhook(tx: Deal, op: Op): Promise<PhotoJob | null> {
  const key: [Id, string] = [op.site, String(op.set?.sha256)];
  const job = await tx.objectStore("photo_jobs").get(key);
  if (!job) return null;
  const photo_ids = job.photo_ids.filter((id) => id !== op.id);
  if (photo_ids.length) await tx.objectStore("photo_jobs").put({ ...job, photo_ids });
  else await tx.objectStore("photo_jobs").delete(key);
  return job;
}
