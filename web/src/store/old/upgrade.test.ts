/** A phone that was last used under an older version of its database, with unsent work, opens under today's. */
import "fake-indexeddb/auto";
import { readFileSync, readdirSync } from "node:fs";
import { IDBFactory } from "fake-indexeddb";
import { type IDBPDatabase, openDB } from "idb";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { PretendServer } from "../net/pretend_server";

type Store = typeof import("../index");
type Kept = { key?: IDBValidKey; value: unknown };
type Old = { version: number; stores: Record<string, { keyPath: string | string[] | null; autoIncrement: boolean; rows: Kept[] }> };
const FOLDER = new URL(".", import.meta.url);
const FILES = readdirSync(FOLDER).filter((name) => /^v\d+\.json$/.test(name));
let server: PretendServer;

const readOld = (file: string) => JSON.parse(readFileSync(new URL(file, FOLDER), "utf8")) as Old;

/** JSON holds no bytes: they stand in base 64 under `$bytes`. */
function alive(value: unknown): unknown {
  const coded = typeof value === "object" && value !== null ? (value as { $bytes?: string }).$bytes : undefined;
  return coded === undefined ? value : new Uint8Array(Buffer.from(coded, "base64")).buffer;
}

/** Build the database exactly as that version left it. */
async function build(old: Old): Promise<void> {
  const db = (await openDB("makegood", old.version, {
    upgrade: (fresh) => {
      for (const [name, { keyPath, autoIncrement }] of Object.entries(old.stores)) fresh.createObjectStore(name, { keyPath, autoIncrement });
    },
  })) as IDBPDatabase<unknown>;
  for (const [name, { rows }] of Object.entries(old.stores)) {
    for (const { key, value } of rows) await db.put(name as never, alive(value), key);
  }
  db.close();
}

async function open(): Promise<Store> {
  vi.resetModules();
  const store = await import("../index");
  store.setTransport(server.transport);
  await store.openStore();
  return store;
}

const rowsOf = <T,>(old: Old, name: string) => (old.stores[name]?.rows ?? []).map((row) => row.value as T);

/** Everything the old version had kept and not sent is there, and shown. */
async function expectAllThere(store: Store, old: Old): Promise<void> {
  expect(store.troubles.value).toBeNull();
  expect(store.syncState.value).toMatchObject({ waiting: rowsOf(old, "outbox").length, parked: rowsOf(old, "parked").length, photosWaiting: 1 });
  expect(store.parked.value.map((one) => one.say)).toEqual(rowsOf<{ say: string }>(old, "parked").map((one) => one.say));
  expect([...store.table("structure").value.values()].map((one) => one.name)).toEqual(["Long barn"]);
  expect(store.settings.value).toMatchObject({ language: "es", measures: "us", photoPlace: "yes" });
  expect(store.me.value?.person).toBe("Ida");
  const { readBytes } = await import("../photo/photos");
  for (const { key, value } of old.stores.photo_bytes?.rows ?? []) {
    expect(Buffer.from((await readBytes(String(key))) as ArrayBuffer).equals(Buffer.from(alive(value) as ArrayBuffer))).toBe(true);
  }
  const draft = store.draftAtCamera();
  expect(draft?.value).toEqual({ kind: "spalling", points_m: [[1, 1.2]] });
  expect(draft?.photos).toHaveLength(1);
}

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  server = new PretendServer();
});
afterEach(() => vi.restoreAllMocks());

test("there is a stored database of every version up to today's", async () => {
  await (await open()).closeStore();
  const [today] = await indexedDB.databases();
  const versions = FILES.map((file) => readOld(file).version).sort();
  expect(versions).toEqual(Array.from({ length: today?.version ?? 0 }, (_, n) => n + 1));
});

test.each(FILES)("%s with unsent work opens under today's version, and its work is sent", async (file) => {
  const old = readOld(file);
  await build(old);
  const store = await open();
  await expectAllThere(store, old);
  for (const { type, site, id, d } of rowsOf<{ type: "site"; site: string; id: string; d: Record<string, unknown> }>(old, "base")) server.write(type, site, id, d);
  await store.syncNow();
  expect(store.syncState.value).toMatchObject({ waiting: 0, photosWaiting: 0, problem: null });
  const sent = rowsOf<{ op: string }>(old, "outbox").map((one) => one.op);
  expect(server.pushes.flat().map((one) => one.op)).toEqual(sent);
  const job = rowsOf<{ site: string; sha256: string; length: number }>(old, "photo_jobs")[0];
  expect(server.bytesOf(job?.site ?? "", job?.sha256 ?? "")).toHaveLength(job?.length ?? -1);
  const n = await store.put("structure", null, { name: "Byre", wall_material: "cob" });
  expect(store.row("structure", n)?.name).toBe("Byre");
});

test.each(FILES)("%s goes on to a version above today's with all of it", async (file) => {
  const old = readOld(file);
  await build(old);
  await (await open()).closeStore();
  const [today] = await indexedDB.databases();
  const next = await openDB("makegood", (today?.version ?? 0) + 1, { upgrade: (db) => void db.createObjectStore("more") });
  for (const [name, { rows }] of Object.entries(old.stores)) expect([name, await next.count(name)]).toEqual([name, rows.length]);
  expect((await next.getAll("outbox")).map((one: { op: string }) => one.op)).toEqual(rowsOf<{ op: string }>(old, "outbox").map((one) => one.op));
  next.close();
});

test("a tab of the old version lets the new one through, says so, and writes nothing more", async () => {
  const old = readOld(FILES[0] as string);
  await build(old);
  const store = await open();
  const [today] = await indexedDB.databases();
  const next = await openDB("makegood", (today?.version ?? 0) + 1);
  expect(store.troubles.value?.code).toBe("store_newer");
  await expect(store.put("structure", null, { name: "Late", wall_material: "cob" })).rejects.toMatchObject({ code: "store_newer" });
  expect(await next.count("outbox")).toBe(rowsOf(old, "outbox").length);
  next.close();
});
