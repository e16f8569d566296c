/** The phone's database fails at every call in turn: a promise that resolves has its write stored, one that rejects has none of it. */
import "fake-indexeddb/auto";
import { IDBCursor, IDBDatabase, IDBFactory, IDBIndex, IDBObjectStore } from "fake-indexeddb";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { PretendServer } from "./net/pretend_server";

type Store = typeof import("./index");
type Raw = Record<string, unknown[]>;
const facts = { media_type: "image/jpeg", taken_at: null, lat: null, lon: null, accuracy_m: null, heading_deg: null, position_source: null };
const picture = new Uint8Array([0xff, 0xd8, 0xff, 1, 2, 3]).buffer;
let server: PretendServer;

/** Every call by which the app touches the database. */
const CALLS: [prototype: object, names: string[]][] = [
  [IDBFactory.prototype, ["open"]],
  [IDBDatabase.prototype, ["transaction"]],
  [IDBObjectStore.prototype, ["put", "add", "get", "getAll", "getKey", "getAllKeys", "count", "delete", "clear", "openCursor"]],
  [IDBIndex.prototype, ["get", "getAll"]],
  [IDBCursor.prototype, ["delete", "continue"]],
];
const undo: (() => void)[] = [];
let count = 0;

/** Let the `nth` call from now on fail, and all after it too if `forGood`; counts the calls. */
function failAt(nth: number, name: string, forGood: boolean): void {
  count = 0;
  for (const [prototype, names] of CALLS) {
    for (const one of names) {
      const real = Reflect.get(prototype, one) as (...args: unknown[]) => unknown;
      Reflect.set(prototype, one, function (this: unknown, ...args: unknown[]) {
        count += 1;
        if (count === nth || (forGood && count > nth)) throw new DOMException(name, name);
        return real.apply(this, args);
      });
      undo.push(() => Reflect.set(prototype, one, real));
    }
  }
}

function heal(): void {
  for (const one of undo.splice(0).reverse()) one();
}

async function open(): Promise<Store> {
  vi.resetModules();
  const store = await import("./index");
  store.setTransport(server.transport);
  await store.openStore();
  return store;
}

async function everything(): Promise<Raw> {
  vi.resetModules();
  const { STORES, closeDatabase, transact } = await import("./database");
  const all = await transact(STORES, "readonly", async (tx) => Promise.all(STORES.map((name) => tx.objectStore(name).getAll())));
  await closeDatabase();
  return Object.fromEntries(STORES.map((name, i) => [name, all[i] as unknown[]]));
}

/** A write, what a store holds of it once it is whole, and before it was begun. */
type Deed = { prepare?: (store: Store) => Promise<void>; run: (store: Store) => Promise<unknown>; parts: (raw: Raw) => number[]; whole: number[] };

const DEEDS: Record<string, Deed> = {
  put: {
    run: (store) => store.put("structure", null, { name: "Barn", wall_material: "cob" }),
    parts: (raw) => [(raw.outbox as { type: string }[]).filter((op) => op.type === "structure").length],
    whole: [1],
  },
  "photo keep": {
    run: (store) => store.addPhoto("elevation", "e", picture, facts),
    parts: (raw) => [(raw.outbox as { type: string }[]).filter((op) => op.type === "photo").length, raw.photo_bytes?.length ?? 0, raw.photo_jobs?.length ?? 0],
    whole: [1, 1, 1],
  },
  "photo with a draft": {
    run: (store) => store.keepBytes("mark/1", picture, facts),
    parts: (raw) => [(raw.draft as { photos: unknown[] }[]).reduce((sum, one) => sum + one.photos.length, 0), raw.photo_bytes?.length ?? 0],
    whole: [1, 1],
  },
};

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  server = new PretendServer();
  server.down = true;
});
afterEach(heal);

const CASES = Object.keys(DEEDS).flatMap((deed) =>
  ["InvalidStateError", "UnknownError", "QuotaExceededError"].flatMap((name) => [false, true].map((forGood) => [deed, name, forGood] as const)),
);

test.each(CASES)("%s under %s at every call (for good: %s) is stored whole or rejected", async (which, name, forGood) => {
  const deed = DEEDS[which] as Deed;
  let resolved = 0;
  let rejected = 0;
  for (let nth = 1; ; nth += 1) {
    globalThis.indexedDB = new IDBFactory();
    const store = await open();
    await store.put("site", null, { name: "Larkfield" });
    failAt(nth, name, forGood);
    const end = await deed.run(store).then(() => "resolved" as const, () => "rejected" as const);
    const calls = count;
    heal();
    await store.closeStore();
    const parts = deed.parts(await everything());
    expect([nth, end, ...parts]).toEqual([nth, end, ...(end === "resolved" ? deed.whole : deed.whole.map(() => 0))]);
    if (end === "rejected") expect(store.troubles.value).not.toBeNull();
    if (end === "resolved") resolved += 1;
    else rejected += 1;
    if (calls < nth) break;
  }
  expect(resolved).toBeGreaterThan(0);
  // One broken handle is survived by opening afresh; a full phone and a handle that stays broken are not.
  if (forGood || name === "QuotaExceededError") expect(rejected).toBeGreaterThan(0);
});

test.each(["InvalidStateError", "UnknownError", "QuotaExceededError"])("settling answers under %s at every call: an op leaves the outbox with its row stored, or stays", async (name) => {
  let settled = 0;
  for (let nth = 1; ; nth += 1) {
    globalThis.indexedDB = new IDBFactory();
    server = new PretendServer();
    const store = await open();
    await store.enrol("token", "Ida", "phone");
    const site = await store.put("site", null, { name: "Larkfield" });
    await store.syncNow();
    await store.put("structure", null, { name: "Barn", wall_material: "cob" });
    failAt(nth, name, true);
    await store.syncNow().catch(() => undefined);
    const calls = count;
    heal();
    await store.closeStore();
    const raw = await everything();
    const waits = raw.outbox?.length ?? 0;
    const rows = (raw.base as { type: string }[]).filter((row) => row.type === "structure").length;
    const since = (raw.meta ?? []).some((cell) => typeof cell === "object" && cell !== null && (cell as Record<string, number>)[site] === 2);
    // The op may only go once its row is here; the cursor passes the row only together with it.
    if (waits === 0) settled += 1;
    if (waits === 0) expect([nth, rows]).toEqual([nth, 1]);
    if (since) expect([nth, rows]).toEqual([nth, 1]);
    server.down = false;
    const later = await open();
    await later.syncNow();
    await later.closeStore();
    const end = await everything();
    expect([nth, end.outbox?.length, (end.base as { type: string }[]).filter((row) => row.type === "structure").length]).toEqual([nth, 0, 1]);
    expect(server.rev).toBe(2);
    if (calls < nth) break;
  }
  expect(settled).toBeGreaterThan(0);
}, 30_000);
