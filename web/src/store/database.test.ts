import "fake-indexeddb/auto";
import { IDBFactory, IDBObjectStore } from "fake-indexeddb";
import { afterEach, beforeEach, expect, test, vi } from "vitest";

type Store = typeof import("./index");
const site = { name: "Larkfield" };
const realPut = IDBObjectStore.prototype.put;
const realAdd = IDBObjectStore.prototype.add;

async function open(): Promise<Store> {
  vi.resetModules();
  const store = await import("./index");
  store.setTransport(async () => {
    throw new TypeError("no line");
  });
  await store.openStore();
  return store;
}

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});
afterEach(() => {
  IDBObjectStore.prototype.put = realPut;
  IDBObjectStore.prototype.add = realAdd;
});

/** Make the next `times` writes fail with this error. */
function failWrites(name: string, times: number): void {
  let left = times;
  const failing = (real: typeof realPut) =>
    function (this: IDBObjectStore, ...args: Parameters<typeof realPut>) {
      if (left-- > 0) throw new DOMException(name, name);
      return real.apply(this, args);
    };
  IDBObjectStore.prototype.put = failing(realPut) as typeof realPut;
  IDBObjectStore.prototype.add = failing(realAdd) as typeof realAdd;
}

test("a kept row is there after the page is gone", async () => {
  const first = await open();
  const id = await first.put("site", null, site);
  await first.closeStore();
  const second = await open();
  expect(second.sites.value.map((one) => [one.id, one.name])).toEqual([[id, "Larkfield"]]);
  expect(second.currentSite.value).toBe(id);
  expect(second.syncState.value.waiting).toBe(1);
});

test.each(["InvalidStateError", "UnknownError"])("one %s is survived by opening the database again", async (name) => {
  const store = await open();
  failWrites(name, 1);
  const id = await store.put("site", null, site);
  expect(store.troubles.value).toBeNull();
  await store.closeStore();
  const again = await open();
  expect(again.sites.value.map((one) => one.id)).toEqual([id]);
  expect(again.syncState.value.waiting).toBe(1);
});

test("a handle that stays dead rejects the write and says so over the whole screen", async () => {
  const store = await open();
  failWrites("UnknownError", 99);
  await expect(store.put("site", null, site)).rejects.toMatchObject({ code: "storage_lost" });
  expect(store.troubles.value?.code).toBe("storage_lost");
  expect(store.sites.value).toEqual([]);
});

test("a full phone rejects the write, shows nothing that is not stored, and keeps what was", async () => {
  const store = await open();
  const kept = await store.put("site", null, site);
  failWrites("QuotaExceededError", 1);
  await expect(store.put("structure", null, { name: "Barn", wall_material: "cob" })).rejects.toMatchObject({ code: "storage_full" });
  expect(store.troubles.value?.code).toBe("storage_full");
  expect(store.table("structure").value.size).toBe(0);
  await store.closeStore();
  const again = await open();
  expect(again.sites.value.map((one) => one.id)).toEqual([kept]);
});

test("at whatever write the phone fails, either nothing of the change is stored or the promise resolves", async () => {
  for (let nth = 1; nth <= 6; nth += 1) {
    globalThis.indexedDB = new IDBFactory();
    const store = await open();
    await store.put("site", null, site);
    let count = 0;
    IDBObjectStore.prototype.add = function (this: IDBObjectStore, ...args: Parameters<typeof realAdd>) {
      count += 1;
      if (count === nth) throw new DOMException("full", "QuotaExceededError");
      return realAdd.apply(this, args);
    } as typeof realAdd;
    const four = ["A", "B", "C", "D"].map((name) => ({ type: "structure" as const, set: { name, wall_material: "cob" } }));
    const stored = await store.putMany(four).then(() => 4, () => 0);
    IDBObjectStore.prototype.add = realAdd;
    await store.closeStore();
    const again = await open();
    expect([nth, again.table("structure").value.size]).toEqual([nth, stored]);
    expect(stored).toBe(nth <= 4 ? 0 : 4);
    await again.closeStore();
  }
});

test("no store holds a Blob or a File", async () => {
  const store = await open();
  const id = await store.put("site", null, site);
  const picture = new Uint8Array([0xff, 0xd8, 0xff, 1, 2, 3]).buffer;
  const facts = { media_type: "image/jpeg", taken_at: null, lat: null, lon: null, accuracy_m: null, heading_deg: null, position_source: null };
  await store.addPhoto("elevation", id, picture, facts);
  await store.keepBytes("mark/1", picture, facts);
  await store.closeStore();
  const { STORES, transact } = await import("./database");
  const all = await transact(STORES, "readonly", async (tx) => Promise.all(STORES.map((name) => tx.objectStore(name).getAll())));
  const blobs: unknown[] = [];
  const look = (value: unknown): void => {
    if (value instanceof Blob) blobs.push(value);
    if (typeof value === "object" && value !== null) Object.values(value).forEach(look);
  };
  look(all);
  expect(blobs).toEqual([]);
  expect(all[STORES.indexOf("photo_bytes")]).toHaveLength(1);
});

test("a newer version in another tab is let through and said", async () => {
  const store = await open();
  await store.put("site", null, site);
  const opened = new Promise<void>((resolve, reject) => {
    const request = indexedDB.open("makegood", 2);
    request.onsuccess = () => resolve();
    request.onerror = () => reject(request.error);
  });
  await opened;
  expect(store.troubles.value?.code).toBe("store_newer");
  await expect(store.put("site", null, site)).rejects.toMatchObject({ code: "store_newer" });
});
