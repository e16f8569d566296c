import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, expect, test, vi } from "vitest";
import type { Op } from "../../model/types";
import { PretendServer } from "../net/pretend_server";
import { ZipWriter, readEntry, readZip } from "./zip";

type Store = typeof import("../index");
const facts = { media_type: "image/jpeg", taken_at: null, lat: null, lon: null, accuracy_m: null, heading_deg: null, position_source: null };
let server: PretendServer;
let bodies: Record<string, unknown>[];

/** A phone with a database of its own; what it posts to the server is kept. */
async function phone(): Promise<Store> {
  vi.resetModules();
  globalThis.indexedDB = new IDBFactory();
  const store = await import("../index");
  store.setTransport(async (url, init) => {
    if (url === "/api/sync/push") bodies.push(JSON.parse(String(init?.body)) as Record<string, unknown>);
    return server.transport(url, init);
  });
  await store.openStore();
  return store;
}

beforeEach(() => {
  server = new PretendServer();
  bodies = [];
});

function jpeg(length: number): ArrayBuffer {
  const bytes = new Uint8Array(length).map((_, i) => (i * 31) & 255);
  bytes.set([0xff, 0xd8, 0xff]);
  return bytes.buffer;
}

/** A surveyor's file: a site that is on the server, a structure and a photo that are not. */
async function walked(): Promise<{ file: Blob; site: string; structure: string; sha256: string }> {
  const store = await phone();
  await store.enrol("token", "Oona", "phone");
  const site = await store.put("site", null, { name: "Larkfield" });
  await store.syncNow();
  server.down = true;
  const structure = await store.put("structure", null, { name: "Barn", wall_material: "cob" });
  const photo = await store.addPhoto("elevation", "e", jpeg(5000), facts);
  const saved = await store.saveBundle();
  server.down = false;
  expect(saved).toMatchObject({ changes: 2, photos: 1 });
  expect(store.syncState.value).toMatchObject({ waiting: 2, photosWaiting: 1 });
  bodies = [];
  return { file: saved?.file as Blob, site, structure, sha256: store.row("photo", photo)?.sha256 as string };
}

async function keeper(device_id = "k1"): Promise<Store> {
  const store = await phone();
  await store.enrol("token", "Kit", "laptop");
  const { setMe, me } = await import("../phone");
  await setMe({ ...(me.peek() as NonNullable<typeof me.value>), device_id });
  bodies = [];
  return store;
}

test("the file holds the ops as they would be sent and the photos under their names", async () => {
  const { file, structure, sha256 } = await walked();
  const places = await readZip(file);
  expect([...places.keys()]).toEqual(["ops.json", `blobs/${sha256}`]);
  const told = JSON.parse(new TextDecoder().decode(await readEntry(file, places.get("ops.json") as never))) as { ops: Op[] };
  expect(told).toMatchObject({ v: 1, device: "d1", person: "Ida", photos: [{ sha256, length: 5000 }] });
  expect(told.ops.map((op) => op.id)).toContain(structure);
  expect(told.ops.every((op) => !("label" in op))).toBe(true);
  expect((await readEntry(file, places.get(`blobs/${sha256}`) as never)).byteLength).toBe(5000);
});

test("what the server refused is in the file too, each time under the same new id", async () => {
  const store = await phone();
  await store.enrol("token", "Oona", "phone");
  const site = await store.put("site", null, { name: "Larkfield" });
  await store.syncNow();
  server.refuse = (op) => (op.type === "structure" ? "not_allowed" : null);
  await store.put("structure", null, { name: "Barn", wall_material: "cob" });
  await store.syncNow();
  expect(store.syncState.value).toMatchObject({ waiting: 0, parked: 1 });
  const refused = store.parked.value[0]?.op as Op;
  const told = await Promise.all([1, 2].map(async () => {
    const file = (await store.saveBundle())?.file as Blob;
    return JSON.parse(new TextDecoder().decode(await readEntry(file, (await readZip(file)).get("ops.json") as never))) as { ops: Op[] };
  }));
  expect(told[0]?.ops).toHaveLength(1);
  expect(told[0]?.ops[0]).toMatchObject({ type: "structure", site, id: refused.id, set: refused.set });
  expect(told[0]?.ops[0]?.op).not.toBe(refused.op);
  expect(told[1]?.ops[0]?.op).toBe(told[0]?.ops[0]?.op);
});

test("with nothing waiting there is no file", async () => {
  const store = await phone();
  await store.enrol("token", "Oona", "phone");
  expect(await store.saveBundle()).toBeNull();
});

test("a keeper takes it in as the other phone's work; twice changes nothing", async () => {
  const { file, site, structure, sha256 } = await walked();
  const store = await keeper();
  const taken = await store.takeInBundle(file);
  expect(taken).toMatchObject({ person: "Ida", changes: 2, clashes: 0, photos: 1, refused: [], ownName: false });
  expect(bodies[0]).toMatchObject({ v: 1, for: "d1" });
  expect(store.row("structure", structure)).toMatchObject({ name: "Barn" });
  expect(server.bytesOf(site, sha256).length).toBe(5000);
  await store.takeInBundle(file);
  expect(server.pushes[1]?.map((op) => server.timesApplied(op.op))).toEqual([1, 1]);
  expect(server.chunks).toEqual([5000]);
});

test("a phone's own file is sent as its own", async () => {
  const { file } = await walked();
  const store = await keeper("d1");
  await store.takeInBundle(file);
  expect(bodies[0]).not.toHaveProperty("for");
});

test("of a phone that has no part here, it is entered under the keeper's name, and that is said", async () => {
  const { file } = await walked();
  const store = await keeper();
  const unknown = new Response(JSON.stringify({ code: "author_unknown", message: "", fields: {} }), { status: 404, headers: { "Content-Type": "application/json" } });
  server.faults.push({ path: "/api/sync/push", fault: unknown });
  expect(await store.takeInBundle(file)).toMatchObject({ ownName: true, changes: 2 });
  expect(bodies.map((body) => [body.for, body.as_own])).toEqual([["d1", undefined], ["d1", true]]);
});

test("a refused change is told and the rest goes on", async () => {
  const { file } = await walked();
  const store = await keeper();
  server.refuse = (op) => (op.type === "structure" ? "not_allowed" : null);
  expect(await store.takeInBundle(file)).toMatchObject({ changes: 1, photos: 1, refused: [{ what: "structure", code: "not_allowed" }] });
});

test("without the server nothing is taken for done", async () => {
  const { file } = await walked();
  const store = await keeper();
  server.down = true;
  await expect(store.takeInBundle(file)).rejects.toBeInstanceOf(store.NotReached);
});

test("500 changes go in bites the server takes", async () => {
  const { site } = await walked();
  const store = await keeper();
  const ops = Array.from({ length: 500 }, (_, n) => ({ op: `o${n}`, n, type: "storm", id: `s${n}`, site, kind: "put", base: 0, at: "2026-11-25T09:00:00Z", set: { name: "x".repeat(n < 10 ? 20_000 : 10) } }));
  const zip = new ZipWriter();
  zip.add({ name: "ops.json", bytes: new TextEncoder().encode(JSON.stringify({ v: 1, device: "d2", person: "Ben", ops, photos: [] })) });
  expect(await store.takeInBundle(zip.finish())).toMatchObject({ changes: 500 });
  expect(Math.max(...bodies.map((body) => JSON.stringify(body).length))).toBeLessThan(256 * 1024);
});

test.each(["{", "null", "[]", '{"v":2}', '{"v":1,"device":"d","ops":[]}'])("a list that says nothing usable (%s) is refused", async (words) => {
  const store = await keeper();
  const zip = new ZipWriter();
  zip.add({ name: "ops.json", bytes: new TextEncoder().encode(words) });
  await expect(store.takeInBundle(zip.finish())).rejects.toMatchObject({ code: "bundle_unreadable" });
});
