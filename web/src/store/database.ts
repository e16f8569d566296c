/**
 * The phone's database: opens it, upgrades it, and sees to it that a write that was not stored is never reported as stored.
 * WebKit is known to lose the connection of a page that comes back from the background, so a dead handle is opened afresh once.
 */
import { signal } from "@preact/signals";
import { type DBSchema, type IDBPDatabase, type IDBPTransaction, type StoreNames, openDB } from "idb";
import type { Told } from "../model/finding/told";
import type { Id, Op, PositionSource } from "../model/types";
import { Refused, StoreTrouble, type TroubleCode } from "./refusals";

/** A row as the server last told it, and in which epoch, plus what a tombstone must remember so that an unsent edit can bring it back. */
export type BaseRow = {
  site: Id; type: string; id: Id; rev: number; deleted: boolean; alive_rev: number; d: Record<string, unknown>; label: number | null;
  epoch: string | null;
  /** What others did to it since this phone holds the site, and what this phone sent last. */
  told?: Told | undefined; sent?: { rev: number; fields: string[] } | undefined;
  /** When this phone came to know of its deletion. */
  gone_at?: string | undefined;
};
/** An op in the outbox. Not sent with it: `label`, the local number of a new row; `tried`, that a deletion may have reached the server already. */
export type WaitingOp = Op & { label?: number; tried?: true };
/** The op as it leaves this phone. */
export const asSent = ({ label: _label, tried: _tried, ...op }: WaitingOp): Op => op;
export type ParkedOp = { id: Id; op: WaitingOp; code: string; say: string; fields: string[]; parked_at: string };
export type PhotoJob = {
  site: Id; sha256: string; photo_ids: Id[]; length: number; state: "waiting" | "sent" | "refused"; code: string | null; say: string | null;
  changed_at: string;
  /** SHA-256 of the preview, if there is one, and whether the server has it or does not want it. */
  preview?: string | null; preview_sent?: boolean;
};
export type PhotoFacts = {
  media_type: string; taken_at: string | null; lat: number | null; lon: number | null; accuracy_m: number | null;
  heading_deg: number | null; position_source: PositionSource | null;
};
/** A photo taken for a draft: its bytes are stored under `sha256`, its row comes with the keeping. */
export type KeptPhoto = PhotoFacts & {
  sha256: string; bytes: number; media_type: "image/jpeg" | "image/png" | "image/heic";
  /** SHA-256 of a small copy that travels first; absent while it is not made, null where this browser cannot make one. */
  preview?: string | null;
};
export type Draft = { key: string; value: unknown; photos: KeptPhoto[]; camera: boolean; saved_at: string };

export interface PhoneSchema extends DBSchema {
  base: { key: [Id, string, Id]; value: BaseRow };
  outbox: { key: number; value: WaitingOp };
  parked: { key: Id; value: ParkedOp };
  meta: { key: string; value: unknown };
  photo_bytes: { key: string; value: ArrayBuffer };
  photo_jobs: { key: [Id, string]; value: PhotoJob };
  draft: { key: string; value: Draft };
}
export type StoreName = StoreNames<PhoneSchema>;
export type Deal<M extends IDBTransactionMode = "readwrite"> = IDBPTransaction<PhoneSchema, StoreName[], M>;

export const STORES: StoreName[] = ["base", "outbox", "parked", "meta", "photo_bytes", "photo_jobs", "draft"];
const NAME = "makegood";
const VERSION = 1;

/** Why the phone cannot store at present; the app shows it over the whole screen. */
export const troubles = signal<null | { code: TroubleCode; detail: string }>(null);

let handle: Promise<IDBPDatabase<PhoneSchema>> | null = null;

function upgrade(db: IDBPDatabase<PhoneSchema>, from: number): void {
  if (from >= 1) return;
  db.createObjectStore("base", { keyPath: ["site", "type", "id"] });
  db.createObjectStore("outbox", { keyPath: "n", autoIncrement: true });
  db.createObjectStore("parked", { keyPath: "id" });
  db.createObjectStore("meta");
  db.createObjectStore("photo_bytes");
  db.createObjectStore("photo_jobs", { keyPath: ["site", "sha256"] });
  db.createObjectStore("draft", { keyPath: "key" });
}

function open(): Promise<IDBPDatabase<PhoneSchema>> {
  const opening: Promise<IDBPDatabase<PhoneSchema>> = openDB<PhoneSchema>(NAME, VERSION, {
    upgrade,
    blocked: () => {
      troubles.value = { code: "store_blocked", detail: "another tab holds an older version open" };
    },
    blocking: (_now, wanted) => {
      void closeDatabase();
      if (wanted !== null) troubles.value = { code: "store_newer", detail: "a newer version was opened in another tab" };
    },
    terminated: () => forget(opening),
  });
  opening.then(
    () => {
      if (troubles.value?.code === "store_blocked") troubles.value = null;
    },
    () => forget(opening),
  );
  return opening;
}

function forget(which: Promise<IDBPDatabase<PhoneSchema>> | null): void {
  if (handle === which) handle = null;
}

/** Close the handle; the next deed opens it again. */
export async function closeDatabase(): Promise<void> {
  const old = handle;
  handle = null;
  const db = await old?.catch(() => null);
  db?.close();
}

async function attempt<T>(stores: StoreName[], mode: IDBTransactionMode, deed: (tx: Deal) => Promise<T>, strict: boolean): Promise<T> {
  handle ??= open();
  const db = await handle;
  const tx = db.transaction(stores, mode as "readwrite", { durability: strict ? "strict" : "relaxed" });
  const done = tx.done.then(() => null, (error: unknown) => error ?? new DOMException("aborted", "AbortError"));
  let result: T;
  try {
    result = await deed(tx);
  } catch (error) {
    try {
      tx.abort();
    } catch {
      // Already aborted or finished: `done` tells which.
    }
    const cause = await done;
    throw nameOf(error) === "AbortError" && cause !== null ? cause : error;
  }
  const failed = await done;
  if (failed !== null) throw failed;
  return result;
}

function nameOf(error: unknown): string {
  return error instanceof Error || error instanceof DOMException ? error.name : "";
}

function troubleOf(error: unknown): TroubleCode {
  const name = nameOf(error);
  if (name === "QuotaExceededError") return "storage_full";
  if (name === "VersionError") return "store_newer";
  return DEAD.has(name) ? "storage_lost" : "storage_failed";
}

const DEAD = new Set(["InvalidStateError", "UnknownError", "AbortError"]);

function fail(error: unknown): Error {
  if (error instanceof Refused) return error;
  const trouble = new StoreTrouble(troubleOf(error), error instanceof Error ? error.message : String(error));
  troubles.value = { code: trouble.code, detail: trouble.detail };
  return trouble;
}

/** One transaction: resolves only when it is complete; a dead handle is opened again once, then `troubles` is set and the promise rejects. */
export async function transact<T>(
  stores: StoreName[], mode: IDBTransactionMode, deed: (tx: Deal) => Promise<T>, durability: "strict" | "relaxed" = "relaxed",
): Promise<T> {
  try {
    return await attempt(stores, mode, deed, durability === "strict");
  } catch (error) {
    if (!DEAD.has(nameOf(error))) throw fail(error);
    await closeDatabase();
    try {
      return await attempt(stores, mode, deed, durability === "strict");
    } catch (again) {
      throw fail(again);
    }
  }
}

/** Read one cell of `meta`. */
export async function readCell<T>(key: string): Promise<T | undefined> {
  return transact(["meta"], "readonly", async (tx) => (await tx.objectStore("meta").get(key)) as T | undefined);
}

/** Write one cell of `meta`. */
export async function writeCell(key: string, value: unknown): Promise<void> {
  await transact(["meta"], "readwrite", async (tx) => void (await tx.objectStore("meta").put(value, key)));
}

/** The base rows of these keys; those that are not here are left out. */
export async function readRows(tx: Deal, keys: readonly { site: Id; type: string; id: Id }[]): Promise<BaseRow[]> {
  const rows = await Promise.all(keys.map((key) => tx.objectStore("base").get([key.site, key.type, key.id])));
  return rows.filter((row): row is BaseRow => row !== undefined);
}
