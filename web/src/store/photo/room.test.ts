import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { PretendServer } from "../net/pretend_server";

const facts = { media_type: "image/jpeg", taken_at: null, lat: null, lon: null, accuracy_m: null, heading_deg: null, position_source: null };
const picture = (last: number) => new Uint8Array([0xff, 0xd8, 0xff, last]).buffer;
let used = 0;

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  used = 10;
  vi.stubGlobal("navigator", { storage: { estimate: async () => ({ usage: used, quota: 100 }), persist: async () => true, persisted: async () => false } });
});
afterEach(() => void vi.unstubAllGlobals());

async function open(server: PretendServer) {
  vi.resetModules();
  const store = await import("../index");
  store.setTransport(server.transport);
  await store.openStore();
  await store.enrol("token", "Ida", "phone");
  await store.put("site", null, { name: "Larkfield" });
  const { transact } = await import("../database");
  const kept = () => transact(["photo_bytes"], "readonly", async (tx) => (await tx.objectStore("photo_bytes").getAllKeys()).length);
  return { ...store, kept };
}

test("above 70 % sent originals leave the phone, unsent ones never", async () => {
  const phone = await open(new PretendServer());
  await phone.addPhoto("elevation", "e", picture(1), facts);
  await phone.syncNow();
  await phone.addPhoto("elevation", "e", picture(2), facts);
  expect(await phone.kept()).toBe(2);
  used = 75;
  await phone.addPhoto("elevation", "e", picture(3), facts);
  expect(await phone.kept()).toBe(2);
  expect(phone.syncState.value.photosWaiting).toBe(2);
});

test("above 90 % a further photo is refused with a sentence, and what waits is kept", async () => {
  const phone = await open(new PretendServer());
  await phone.addPhoto("elevation", "e", picture(1), facts);
  used = 95;
  await expect(phone.addPhoto("elevation", "e", picture(2), facts)).rejects.toMatchObject({ code: "storage_nearly_full" });
  expect([await phone.kept(), phone.table("photo").value.size, phone.troubles.value]).toEqual([1, 1, null]);
  expect(phone.syncState.value.quota).toEqual({ used: 95, of: 100 });
});
