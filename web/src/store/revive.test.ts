/** Deleting and taking it back: before it was sent, while nobody knows whether it was, and after; what another phone sees of it. */
import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, expect, test, vi } from "vitest";
import { PretendServer } from "./net/pretend_server";

type Store = typeof import("./index");
let server: PretendServer;
let phones: IDBFactory[] = [];

/** Take up a phone by its number: each has a storage of its own. Only one is in hand at a time. */
async function phone(n: number): Promise<Store> {
  await (await import("./database")).closeDatabase();
  globalThis.indexedDB = phones[n] ??= new IDBFactory();
  vi.resetModules();
  const store = await import("./index");
  store.setTransport(server.transport);
  await store.openStore();
  if (!store.me.value) await store.enrol("token", n === 0 ? "Ida" : "Ben", "phone");
  return store;
}

async function outbox(): Promise<{ kind: string; type: string; tried?: true; set?: Record<string, unknown> }[]> {
  const { transact } = await import("./database");
  return transact(["outbox"], "readonly", async (tx) => tx.objectStore("outbox").getAll());
}

/** A barn with a side, a defect and a finish, sent. */
async function withBarn(): Promise<{ store: Store; rows: { type: "structure" | "elevation" | "defect" | "finish"; id: string }[] }> {
  const store = await phone(0);
  await store.put("site", null, { name: "Larkfield" });
  const structure = await store.put("structure", null, { name: "Barn", wall_material: "cob", note: "old" });
  const elevation = await store.put("elevation", null, { structure_id: structure, name: "North", surface: { kind: "flat", width_m: 4, height_m: 3, batter_deg: 0 }, bearing_deg: 0 });
  const defect = await store.put("defect", null, { elevation_id: elevation, kind: "spalling", mark: { view: "seen", shape: "pin", points_m: [[1, 1]] } });
  const finish = await store.put("finish", null, { elevation_id: elevation, name: "Lime", coats: [] });
  await store.put("reading", null, { defect_id: defect, at: "2026-11-02T10:00:00.000Z" });
  await store.syncNow();
  return { store, rows: [{ type: "structure", id: structure }, { type: "elevation", id: elevation }, { type: "defect", id: defect }, { type: "finish", id: finish }] };
}

const drop = (store: Store, rows: readonly { type: "structure" | "elevation" | "defect" | "finish"; id: string }[]) =>
  store.putMany([...rows].reverse().map((one) => ({ ...one, drop: true as const })));
const there = (store: Store, rows: readonly { type: "structure" | "elevation" | "defect" | "finish"; id: string }[]) => rows.map(({ type, id }) => store.row(type, id) !== undefined);

beforeEach(() => {
  phones = [];
  server = new PretendServer();
});

test("undone before it was sent, the deletion never leaves the phone, and children come back with their parents", async () => {
  const { store, rows } = await withBarn();
  server.down = true;
  await drop(store, rows);
  expect(there(store, rows)).toEqual([false, false, false, false]);
  expect(store.gone.value.map((one) => one.type).sort()).toEqual(["defect", "elevation", "finish", "structure"]);
  await store.bringBack(rows);
  expect(there(store, rows)).toEqual([true, true, true, true]);
  expect(await outbox()).toEqual([]);
  expect(store.gone.value).toEqual([]);
  server.down = false;
  await store.syncNow();
  expect(server.pushes.flat().filter((op) => op.kind === "del")).toEqual([]);
});

test("a deletion that may have arrived although no answer came is not just taken out, but answered by an edit", async () => {
  const { store, rows } = await withBarn();
  const finish = rows.slice(3);
  server.faults.push({ path: "/api/sync/push", fault: "lose_answer" });
  await drop(store, finish);
  await store.syncNow();
  expect((await outbox()).map((op) => [op.kind, op.tried])).toEqual([["del", true]]);
  await store.bringBack(finish);
  expect((await outbox()).map((op) => op.kind)).toEqual(["del", "put"]);
  expect(store.row("finish", finish[0]?.id)).toMatchObject({ name: "Lime" });
  await store.syncNow();
  expect(store.row("finish", finish[0]?.id)).toMatchObject({ name: "Lime", coats: [] });
  expect(server.rows.get(`${store.currentSite.value}/finish/${finish[0]?.id}`)?.row.deleted).toBeUndefined();
});

test("a deletion that was saved to a file counts as tried", async () => {
  const { store, rows } = await withBarn();
  server.down = true;
  await drop(store, rows.slice(3));
  await store.saveBundle();
  await store.bringBack(rows.slice(3));
  expect((await outbox()).map((op) => op.kind)).toEqual(["del", "put"]);
  expect(there(store, rows.slice(3))).toEqual([true]);
});

test("what is told apart on the phone is not sent: no op names whether it was tried", async () => {
  const { store, rows } = await withBarn();
  await drop(store, rows.slice(2));
  await store.syncNow();
  expect(server.pushes.flat().some((op) => "tried" in op || "label" in op)).toBe(false);
});

test("undone after it was sent and taken in again, all of it is back on every phone, with its fields and its readings", async () => {
  const { store, rows } = await withBarn();
  const site = store.currentSite.value;
  await drop(store, rows);
  await store.syncNow();
  const other = await phone(1);
  await other.syncNow();
  expect(there(other, rows)).toEqual([false, false, false, false]);
  const again = await phone(0);
  await again.syncNow();
  expect(again.gone.value).toHaveLength(4);
  await again.bringBack(rows);
  expect(there(again, rows)).toEqual([true, true, true, true]);
  expect(again.row("structure", rows[0]?.id)).toMatchObject({ name: "Barn", note: "old", wall_material: "cob" });
  await again.syncNow();
  expect((await outbox())).toEqual([]);
  const seen = await phone(1);
  await seen.syncNow();
  expect(there(seen, rows)).toEqual([true, true, true, true]);
  expect(seen.row("defect", rows[2]?.id)).toMatchObject({ kind: "spalling", elevation_id: rows[1]?.id });
  expect([...seen.table("reading").value.values()]).toMatchObject([{ defect_id: rows[2]?.id, site_id: site }]);
});

test("no field of the server's is sent with what is brought back, and its base is the deletion it answers", async () => {
  const { store, rows } = await withBarn();
  const [defect] = rows.slice(2);
  const site = String(store.currentSite.value);
  server.write("defect", site, String(defect?.id), { number: 7 });
  await store.syncNow();
  server.remove("defect", site, String(defect?.id));
  await store.syncNow();
  expect(store.row("defect", defect?.id)).toBeUndefined();
  await store.bringBack([defect!]);
  await store.syncNow();
  const op = server.pushes.flat().at(-1);
  expect(op).toMatchObject({ kind: "put", base: server.rev - 1, set: { kind: "spalling" } });
  expect(Object.keys(op?.set ?? {})).not.toContain("number");
});

test("a row that somebody else brought back meanwhile, or changed, is left as it is", async () => {
  const { store, rows } = await withBarn();
  const [structure] = rows;
  const site = String(store.currentSite.value);
  await drop(store, rows.slice(0, 1));
  await store.syncNow();
  server.write("structure", site, String(structure?.id), { name: "New barn", wall_material: "cob" });
  await store.syncNow();
  await store.bringBack([structure!]);
  expect(await outbox()).toEqual([]);
  expect(store.row("structure", structure?.id)?.name).toBe("New barn");
});

test("a row that was never sent comes back too, and only then is sent", async () => {
  const { store } = await withBarn();
  server.down = true;
  const id = await store.put("storm", null, { name: "Gale", began_on: "2026-11-02" });
  await store.drop("storm", id);
  expect(store.row("storm", id)).toBeUndefined();
  await store.bringBack([{ type: "storm", id }]);
  expect(store.row("storm", id)).toMatchObject({ name: "Gale" });
  server.down = false;
  await store.syncNow();
  expect(server.rows.get(`${store.currentSite.value}/storm/${id}`)?.row.d).toMatchObject({ name: "Gale" });
});

test("what was deleted before this phone had it is not offered: its fields never came", async () => {
  const { store } = await withBarn();
  server.remove("storm", String(store.currentSite.value), "s9");
  await store.syncNow();
  expect(store.gone.value).toEqual([]);
});

test("a draft that was thrown away comes back with its pictures, and their bytes go only when nobody wants it", async () => {
  const store = await phone(0);
  await store.put("site", null, { name: "Larkfield" });
  const picture = new Uint8Array([0xff, 0xd8, 0xff, 1]).buffer;
  const facts = { media_type: "image/jpeg", taken_at: null, lat: null, lon: null, accuracy_m: null, heading_deg: null, position_source: null };
  await store.saveDraft("mark/1", { kind: "crack" });
  const kept = await store.keepBytes("mark/1", picture, facts);
  expect(await store.throwDraft("mark/1")).toBe(true);
  expect([...store.drafts.value.keys()]).toEqual([]);
  const later = await phone(0);
  expect([...later.drafts.value.keys()]).toEqual([]);
  await later.bringThrownBack("mark/1");
  expect(later.readDraft("mark/1")).toEqual({ kind: "crack" });
  expect(later.drafts.value.get("mark/1")?.photos.map((one) => one.sha256)).toEqual([kept.sha256]);
  const bytes = async () => (await import("./photo/photos")).readBytes(kept.sha256);
  expect(await bytes()).toBeDefined();
  await later.forgetKept("mark/1", kept.sha256);
  expect(later.drafts.value.get("mark/1")?.photos).toEqual([]);
  await later.bringThrownBack("mark/1", kept.sha256);
  expect(later.drafts.value.get("mark/1")?.photos.map((one) => one.sha256)).toEqual([kept.sha256]);
  await later.throwDraft("mark/1");
  await later.forgetThrown("mark/1");
  expect(await bytes()).toBeUndefined();
  expect(await later.throwDraft("mark/1")).toBe(false);
});

test("a draft begun meanwhile is not overwritten by one that is brought back", async () => {
  const store = await phone(0);
  await store.saveDraft("mark/1", { kind: "old" });
  await store.throwDraft("mark/1");
  await store.saveDraft("mark/1", { kind: "new" });
  await expect(store.bringThrownBack("mark/1")).rejects.toMatchObject({ code: "draft_begun" });
  expect(store.readDraft("mark/1")).toEqual({ kind: "new" });
});

test("a refused change that was thrown away stands there again, its photo job too", async () => {
  const { store, rows } = await withBarn();
  server.refuse = (op) => (op.type === "storm" ? "not_allowed" : null);
  await store.put("storm", null, { name: "Gale", began_on: "2026-11-02" });
  await store.syncNow();
  const [one] = store.parked.value;
  const thrown = await store.discardParked(String(one?.id));
  expect(store.parked.value).toEqual([]);
  await store.putParkedBack(thrown!);
  expect(store.parked.value).toEqual([thrown?.parked]);
  const later = await phone(0);
  expect(later.parked.value).toEqual([thrown?.parked]);
  expect(thrown?.parked).toMatchObject({ id: one?.id, code: "not_allowed" });
  expect(rows).toHaveLength(4);
});
