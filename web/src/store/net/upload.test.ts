import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, expect, test, vi } from "vitest";
import { PretendServer } from "./pretend_server";

type Store = typeof import("../index");
const MIB = 1024 * 1024;
const facts = { media_type: "image/jpeg", taken_at: null, lat: 51.5, lon: -2.5, accuracy_m: 8, heading_deg: 171, position_source: "phone" as const };
let server: PretendServer;

async function open(): Promise<Store> {
  vi.resetModules();
  const store = await import("../index");
  store.setTransport(server.transport);
  await store.openStore();
  return store;
}

function jpeg(length: number): ArrayBuffer {
  const bytes = new Uint8Array(length).map((_, i) => (i * 31 + (i >> 8)) & 255);
  bytes.set([0xff, 0xd8, 0xff]);
  return bytes.buffer;
}

/** Compared natively: an equality matcher takes seconds for a megabyte. */
const sameBytes = (a: Uint8Array, b: ArrayBuffer) => Buffer.from(a).equals(Buffer.from(b));

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  server = new PretendServer();
});

async function withPhoto(length: number): Promise<Store & { site: string; id: string; bytes: ArrayBuffer }> {
  const store = await open();
  await store.enrol("token", "Ida", "phone");
  const site = await store.put("site", null, { name: "Larkfield" });
  await store.syncNow();
  const bytes = jpeg(length);
  const id = await store.addPhoto("elevation", "e", bytes, facts);
  return { ...store, site, id, bytes };
}

test("the row goes first, then the bytes in chunks of at most 1 MiB", async () => {
  const phone = await withPhoto(2.5 * MIB);
  expect(phone.syncState.value).toMatchObject({ waiting: 1, photosWaiting: 1 });
  server.log = [];
  await phone.syncNow();
  expect(server.log.indexOf("POST /api/sync/push")).toBeLessThan(server.log.findIndex((line) => line.startsWith("HEAD")));
  expect(server.chunks).toEqual([MIB, MIB, MIB / 2]);
  const photo = phone.row("photo", phone.id);
  expect(photo).toMatchObject({ ...facts, of_type: "elevation", bytes: 2.5 * MIB });
  expect(sameBytes(server.bytesOf(phone.site, photo?.sha256 ?? ""), phone.bytes)).toBe(true);
  expect(phone.syncState.value).toMatchObject({ waiting: 0, photosWaiting: 0 });
});

test.each(["lose_request", "lose_answer"] as const)("after a cut (%s) the upload goes on, and at most one chunk is sent again", async (cut) => {
  const phone = await withPhoto(4 * MIB);
  let chunks = 0;
  phone.setTransport(async (url, init) => {
    if (init?.body instanceof ArrayBuffer && ++chunks === 3) server.faults.push({ path: "/api/blobs", fault: cut });
    return server.transport(url, init);
  });
  await phone.syncNow();
  expect(phone.syncState.value).toMatchObject({ photosWaiting: 1, reaching: "not_reached" });
  await phone.closeStore();
  const later = await open();
  await later.syncNow();
  expect(later.syncState.value.photosWaiting).toBe(0);
  const sha = later.row("photo", phone.id)?.sha256 ?? "";
  expect(sameBytes(server.bytesOf(phone.site, sha), phone.bytes)).toBe(true);
  expect(server.chunks.reduce((sum, one) => sum + one, 0)).toBe(4 * MIB);
});

test("a photo of one chunk takes one question and one sending", async () => {
  const phone = await withPhoto(0.5 * MIB);
  server.log = [];
  await phone.syncNow();
  expect(server.log.filter((line) => line.includes("/api/blobs")).map((line) => line.split(" ")[0])).toEqual(["HEAD", "PUT"]);
  expect(phone.syncState.value.photosWaiting).toBe(0);
});

test("a sign-in page never counts as a stored photo", async () => {
  const phone = await withPhoto(100);
  for (let i = 0; i < 6; i += 1) {
    server.faults = [{ path: "/api/blobs", fault: "captive_portal" }];
    await phone.syncNow();
    expect(phone.syncState.value.photosWaiting).toBe(1);
  }
  server.faults = [];
  await phone.syncNow();
  expect(phone.syncState.value.photosWaiting).toBe(0);
});

test("a photo whose row was not taken keeps its bytes here until a person has decided", async () => {
  server.refuse = (op) => (op.type === "photo" ? "parent_missing" : null);
  const phone = await withPhoto(100);
  server.log = [];
  await phone.syncNow();
  expect(server.log.filter((line) => line.includes("/api/blobs"))).toEqual([]);
  expect(phone.syncState.value).toMatchObject({ parked: 1, photosWaiting: 1 });
  await phone.discardParked(phone.parked.value[0]?.id ?? "");
  expect(phone.syncState.value).toMatchObject({ parked: 0, photosWaiting: 0 });
});

test("only the server's word that it has every byte makes a photo sent", async () => {
  const phone = await withPhoto(100);
  phone.setTransport(async (url, init) => {
    const answer = await server.transport(url, init);
    if (!url.startsWith("/api/blobs")) return answer;
    const headers = new Headers(answer.headers);
    headers.set("Upload-Complete", "?0");
    return new Response(null, { status: answer.status, headers });
  });
  await phone.syncNow();
  expect(server.chunks).toEqual([100, 0]); // the empty one asks it to finish
  expect(phone.syncState.value.photosWaiting).toBe(1);
});

test("a picture the server cannot read is set aside with its sentence; the next one still goes", async () => {
  const phone = await withPhoto(100);
  await phone.addPhoto("elevation", "e", jpeg(200), facts);
  const body = JSON.stringify({ code: "picture_damaged", message: "The picture breaks off.", fields: {} });
  let first = true;
  phone.setTransport(async (url, init) => {
    if (init?.method === "PUT" && first) {
      first = false;
      return new Response(body, { status: 422, headers: { "Content-Type": "application/json" } });
    }
    return server.transport(url, init);
  });
  await phone.syncNow();
  expect(phone.syncState.value).toMatchObject({ photosWaiting: 0, photosRefused: 1 });
  expect(phone.photoJobs.value.map((job) => job.code).sort()).toEqual(["picture_damaged", null].sort());
});

test("a text file called .jpg and a picture over 25 MB are refused before anything is stored", async () => {
  const store = await open();
  await store.put("site", null, { name: "Larkfield" });
  const text = new TextEncoder().encode("not a picture at all").buffer as ArrayBuffer;
  await expect(store.addPhoto("elevation", "e", text, facts)).rejects.toMatchObject({ code: "not_a_picture" });
  await expect(store.addPhoto("elevation", "e", jpeg(26214401), facts)).rejects.toMatchObject({ code: "photo_too_large" });
  expect(store.table("photo").value.size).toBe(0);
});

test("a server that stopped after the last byte and before keeping the photo finishes it on an empty chunk", async () => {
  const phone = await withPhoto(1.5 * MIB);
  server.stopsAtTheEnd = true;
  await phone.syncNow();
  expect(phone.syncState.value.photosWaiting).toBe(1);
  await phone.syncNow();
  expect(phone.syncState.value).toMatchObject({ photosWaiting: 0, photosRefused: 0 });
  expect(server.chunks).toEqual([MIB, MIB / 2, 0]);
});
