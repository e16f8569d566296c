import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, expect, test, vi } from "vitest";
import { transact } from "./database";

type Store = typeof import("./index");
const facts = { media_type: "image/jpeg", taken_at: null, lat: null, lon: null, accuracy_m: null, heading_deg: null, position_source: null };
const picture = (last: number) => new Uint8Array([0xff, 0xd8, 0xff, last]).buffer;

async function open(): Promise<Store> {
  vi.resetModules();
  const store = await import("./index");
  store.setTransport(async () => {
    throw new TypeError("no line");
  });
  await store.openStore();
  return store;
}

const hashes = () => transact(["photo_bytes"], "readonly", async (tx) => tx.objectStore("photo_bytes").getAllKeys());

beforeEach(async () => {
  await (await import("./database")).closeDatabase();
  globalThis.indexedDB = new IDBFactory();
});

test("a page that dies at the camera comes back to its draft", async () => {
  const store = await open();
  await store.saveDraft("mark/1", { kind: "crack" });
  await store.beginCamera("mark/1");
  await store.closeStore();
  const again = await open();
  expect(again.draftAtCamera()).toMatchObject({ key: "mark/1", value: { kind: "crack" } });
  await again.keepBytes("mark/1", picture(1), facts);
  expect(again.draftAtCamera()).toBeNull();
  expect(again.drafts.value.get("mark/1")?.photos).toHaveLength(1);
});

test("taps in quick succession end with the last one, and a picture in between stays", async () => {
  const store = await open();
  const photo = store.keepBytes("mark/1", picture(1), facts);
  for (let tap = 0; tap < 20; tap += 1) void store.saveDraft("mark/1", { tap });
  await photo;
  await store.saveDraft("mark/1", { tap: "last" });
  expect(store.readDraft("mark/1")).toEqual({ tap: "last" });
  await store.closeStore();
  const again = await open();
  expect(again.drafts.value.get("mark/1")).toMatchObject({ value: { tap: "last" }, photos: [{ media_type: "image/jpeg", bytes: 4 }] });
});

test("a place given by hand goes to its own picture and is there after a restart", async () => {
  const store = await open();
  const kept = await store.keepBytes("mark/1", picture(1), facts);
  await store.keepBytes("mark/1", picture(2), facts);
  await store.correctKept("mark/1", kept.sha256, { lat: -33.5, lon: 18.25, position_source: "hand" });
  await store.closeStore();
  const again = await open();
  expect(again.drafts.value.get("mark/1")?.photos.map((one) => [one.lat, one.position_source])).toEqual([[-33.5, "hand"], [null, null]]);
});

test("keeping makes rows, sending job and the end of the draft in one go", async () => {
  const store = await open();
  await store.put("site", null, { name: "Larkfield" });
  const kept = await store.keepBytes("mark/1", picture(1), facts);
  const defect = store.newId();
  const mark = { view: "seen" as const, shape: "pin" as const, points_m: [[1, 1] as const] };
  await store.putMany([{ type: "defect", id: defect, set: { elevation_id: "e", mark } }, store.photoRow("defect", defect, kept)], { draft: "mark/1" });
  expect(store.drafts.value.size).toBe(0);
  expect([...store.table("photo").value.values()]).toMatchObject([{ of_id: defect, sha256: kept.sha256 }]);
  expect(store.syncState.value.photosWaiting).toBe(1);
  await store.closeStore();
  const again = await open();
  expect([again.drafts.value.size, again.table("defect").value.size, again.syncState.value.photosWaiting]).toEqual([0, 1, 1]);
});

test("a dropped draft takes its pictures along, but not those that something else uses", async () => {
  const store = await open();
  await store.keepBytes("mark/1", picture(1), facts);
  const shared = await store.keepBytes("mark/1", picture(2), facts);
  await store.keepBytes("mark/2", picture(2), facts);
  await store.dropDraft("mark/1");
  expect(await hashes()).toEqual([shared.sha256]);
  await store.forgetKept("mark/2", shared.sha256);
  expect(await hashes()).toEqual([shared.sha256]);
  await store.forgetThrown("mark/2", shared.sha256);
  expect(await hashes()).toEqual([]);
});
