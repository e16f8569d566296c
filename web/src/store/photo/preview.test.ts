/** The preview of a photo: made on the phone, sent before any original, shown by others until the original is there. */
import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { PretendServer } from "../net/pretend_server";

type Store = typeof import("../index");
const facts = { media_type: "image/jpeg", taken_at: null, lat: null, lon: null, accuracy_m: null, heading_deg: null, position_source: null };
let server: PretendServer;
/** Bytes of a canvas at each quality. */
let made: (quality: number) => Uint8Array<ArrayBuffer>;
let drawn: [number, number][] = [];

class Canvas {
  constructor(readonly width: number, readonly height: number) {
    drawn.push([width, height]);
  }

  getContext() {
    return { drawImage: () => undefined };
  }

  convertToBlob({ type, quality }: { type: string; quality: number }) {
    return Promise.resolve(new Blob([made(quality)], { type }));
  }
}

const photo = (n: number) => new Uint8Array([0xff, 0xd8, 0xff, ...Array.from({ length: 500 }, (_, i) => (i * n) & 255)]).buffer;

async function open(): Promise<Store> {
  vi.resetModules();
  const store = await import("../index");
  store.setTransport(server.transport);
  await store.openStore();
  return store;
}

async function enrolled(): Promise<Store & { site: string }> {
  const store = await open();
  await store.enrol("token", "Ida", "phone");
  const site = await store.put("site", null, { name: "Larkfield" });
  await store.syncNow();
  return { ...store, site };
}

/** The order in which bytes went up: previews by name, originals by name. */
const sent = () => server.log.filter((line) => line.startsWith("PUT")).map((line) => line.split("/").at(-1));

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  server = new PretendServer();
  drawn = [];
  let seed = 0;
  made = () => new Uint8Array([0xff, 0xd8, 0xff, (seed += 1)]);
  vi.stubGlobal("createImageBitmap", () => Promise.resolve({ width: 4000, height: 3000, close: () => undefined }));
  vi.stubGlobal("OffscreenCanvas", Canvas);
});
afterEach(() => vi.unstubAllGlobals());

test("a kept photo has a preview of 320 px and at most 64 KB, stored as bytes", async () => {
  made = (quality) => new Uint8Array(quality > 0.4 ? 70_000 : 60_000);
  const store = await open();
  await store.put("site", null, { name: "Larkfield" });
  const id = await store.addPhoto("elevation", "e", photo(1), facts);
  const { preview } = store.row("photo", id) ?? {};
  expect(preview).toMatch(/^[0-9a-f]{64}$/);
  expect(drawn).toEqual([[320, 240]]);
  const { readBytes } = await import("./photos");
  const bytes = await readBytes(preview ?? "");
  expect(bytes).toBeInstanceOf(ArrayBuffer);
  expect(bytes?.byteLength).toBe(60_000);
});

test("a photo too rich for 64 KB, or that this browser cannot read, has no preview and is kept all the same", async () => {
  made = () => new Uint8Array(70_000);
  const store = await open();
  await store.put("site", null, { name: "Larkfield" });
  const rich = await store.addPhoto("elevation", "e", photo(1), facts);
  vi.stubGlobal("createImageBitmap", () => Promise.reject(new DOMException("no", "InvalidStateError")));
  const strange = await store.addPhoto("elevation", "e", photo(2), facts);
  for (const id of [rich, strange]) expect(store.row("photo", id)?.preview).toBeNull();
  expect(store.syncState.value.photosWaiting).toBe(2);
});

test("all previews go before the first original", async () => {
  const phone = await enrolled();
  const ids = [await phone.addPhoto("elevation", "e", photo(1), facts), await phone.addPhoto("elevation", "e", photo(2), facts)];
  await phone.syncNow();
  const rows = ids.map((id) => phone.row("photo", id));
  expect(sent().slice(0, 2).sort()).toEqual(rows.map((row) => row?.preview).sort());
  expect(sent().slice(2).sort()).toEqual(rows.map((row) => row?.sha256).sort());
  expect(phone.photoJobs.value.map((job) => [job.state, job.preview_sent])).toEqual([["sent", true], ["sent", true]]);
});

test("a preview the server does not want is let go of; the original goes", async () => {
  const phone = await enrolled();
  const id = await phone.addPhoto("elevation", "e", photo(1), facts);
  const { preview, sha256 } = phone.row("photo", id) ?? {};
  const body = JSON.stringify({ code: "preview_refused", message: "Too large.", fields: {} });
  phone.setTransport(async (url, init) => {
    const refused = init?.method === "PUT" && url.includes(preview ?? "?");
    return refused ? new Response(body, { status: 415, headers: { "Content-Type": "application/json" } }) : server.transport(url, init);
  });
  await phone.syncNow();
  expect(sent()).toEqual([sha256]);
  expect(phone.syncState.value).toMatchObject({ photosWaiting: 0, photosRefused: 0 });
});

test("a draft's photo has its preview too, and both bytes go when the photo is thrown away", async () => {
  const store = await open();
  await store.put("site", null, { name: "Larkfield" });
  const kept = await store.keepBytes("mark/1", photo(1), facts);
  expect(kept.preview).toMatch(/^[0-9a-f]{64}$/);
  expect(store.drafts.value.get("mark/1")?.photos[0]?.preview).toBe(kept.preview);
  const { readBytes } = await import("./photos");
  await store.forgetKept("mark/1", kept.sha256);
  await store.forgetThrown("mark/1", kept.sha256);
  expect(await readBytes(kept.sha256)).toBeUndefined();
  expect(await readBytes(kept.preview ?? "")).toBeUndefined();
});

test("a draft that was made good while its preview was being made does not come back", async () => {
  const store = await open();
  await store.put("site", null, { name: "Larkfield" });
  let go = (): void => undefined;
  vi.stubGlobal("createImageBitmap", () => new Promise((done) => {
    go = () => done({ width: 40, height: 30, close: () => undefined });
  }));
  const keeping = store.keepBytes("mark/1", photo(1), facts);
  await vi.waitFor(() => expect(store.drafts.value.get("mark/1")?.photos).toHaveLength(1));
  const photos = store.drafts.value.get("mark/1")?.photos ?? [];
  await store.putMany(photos.map((one) => store.photoRow("elevation", "e", one)), { draft: "mark/1" });
  go();
  await keeping;
  expect(store.drafts.value.size).toBe(0);
  await store.closeStore();
  expect((await open()).drafts.value.size).toBe(0);
});

test.each([["cellular", "other"], [undefined, "unknown"]])("on a line of type %s originals wait for Wi-Fi, previews go; by hand they go at once", async (type, line) => {
  vi.stubGlobal("navigator", { connection: Object.assign(new EventTarget(), { type }) });
  const phone = await enrolled();
  await phone.holdOriginals(true);
  const id = await phone.addPhoto("elevation", "e", photo(1), facts);
  await phone.syncNow();
  const { preview, sha256 } = phone.row("photo", id) ?? {};
  expect(sent()).toEqual([preview]);
  expect(phone.syncState.value).toMatchObject({ photosWaiting: 1, originalsHeld: 1, line });
  await phone.syncNow();
  expect(sent()).toEqual([preview]);
  phone.letOriginalsGo();
  await phone.syncNow();
  expect(sent()).toEqual([preview, sha256]);
  await phone.addPhoto("elevation", "e", photo(2), facts);
  await phone.syncNow();
  expect(phone.syncState.value).toMatchObject({ photosWaiting: 1, originalsHeld: 1 });
});

test("on Wi-Fi, and without the switch on any line, originals go by themselves", async () => {
  const connection = Object.assign(new EventTarget(), { type: "cellular" });
  vi.stubGlobal("navigator", { connection });
  const phone = await enrolled();
  await phone.addPhoto("elevation", "e", photo(1), facts);
  await phone.syncNow();
  expect(phone.syncState.value).toMatchObject({ photosWaiting: 0, originalsHeld: 0 });
  await phone.holdOriginals(true);
  await phone.addPhoto("elevation", "e", photo(2), facts);
  await phone.syncNow();
  expect(phone.syncState.value.originalsHeld).toBe(1);
  const { followLine } = await import("../net/line");
  followLine(() => void phone.syncNow());
  connection.type = "wifi";
  connection.dispatchEvent(new Event("change"));
  await vi.waitFor(() => expect(phone.syncState.value).toMatchObject({ photosWaiting: 0, originalsHeld: 0 }));
});

test("another phone shows the preview while the original is on its way", async () => {
  const phone = await enrolled();
  server.write("photo", phone.site, "p", { of_type: "elevation", of_id: "e", sha256: "a".repeat(64), preview: "b".repeat(64), media_type: "image/jpeg", stored: null });
  await phone.syncNow();
  let bytes: Uint8Array<ArrayBuffer> | null = null;
  phone.setTransport(async (url, init) => {
    if (url !== `/api/photos/${phone.site}/p/400`) return server.transport(url, init);
    if (!bytes) return new Response("{}", { status: 404, headers: { "Content-Type": "application/json" } });
    return new Response(bytes, { headers: { "Content-Type": "image/jpeg" } });
  });
  expect(await phone.photoUrl("p", "400")).toBeNull();
  bytes = new Uint8Array([0xff, 0xd8, 0xff, 9]);
  const shown = await phone.photoUrl("p", "400");
  expect(new Uint8Array(await (await fetch(shown ?? "")).arrayBuffer())).toEqual(bytes);
  server.down = true;
  expect(await phone.photoUrl("p", "1600")).toBe(shown);
});
