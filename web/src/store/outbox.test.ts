import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, expect, test, vi } from "vitest";
import type { Mark } from "../model/types";

type Store = typeof import("./index");
const pin: Mark = { view: "seen", shape: "pin", points_m: [[1, 1]] };

async function open(): Promise<Store> {
  vi.resetModules();
  const store = await import("./index");
  store.setTransport(async () => {
    throw new TypeError("no line");
  });
  await store.openStore();
  return store;
}

async function outbox(): Promise<Record<string, unknown>[]> {
  const { transact } = await import("./database");
  return transact(["outbox"], "readonly", async (tx) => tx.objectStore("outbox").getAll()) as unknown as Promise<Record<string, unknown>[]>;
}

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
});

test("a new row has every field, null where nothing was given", async () => {
  const store = await open();
  const site = await store.put("site", null, { name: "Larkfield" });
  const id = await store.put("structure", null, { name: "Barn", wall_material: "cob" });
  expect(store.row("structure", id)).toMatchObject({ id, site_id: site, rev: 0, name: "Barn", wall_material: "cob", note: null, wall_thickness_mm: null });
});

test("an edit sends only what it changes, and nothing if it changes nothing", async () => {
  const store = await open();
  await store.put("site", null, { name: "Larkfield" });
  const id = await store.put("structure", null, { name: "Barn", wall_material: "cob" });
  await store.put("structure", id, { name: "Barn", wall_material: "adobe", note: null });
  await store.put("structure", id, { name: "Barn" });
  expect((await outbox()).slice(2).map((op) => op.set)).toEqual([{ wall_material: "adobe" }]);
  expect(store.row("structure", id)?.wall_material).toBe("adobe");
});

test("tables are replaced, never changed in place", async () => {
  const store = await open();
  await store.put("site", null, { name: "Larkfield" });
  const before = store.table("structure").value;
  await store.put("structure", null, { name: "Barn", wall_material: "cob" });
  expect(before.size).toBe(0);
  expect(store.table("structure").value).not.toBe(before);
});

test("what was recorded cannot be edited, and without a site nothing can be kept", async () => {
  const store = await open();
  await expect(store.put("storm", null, { name: "Gale", began_on: "2026-11-02" })).rejects.toMatchObject({ code: "no_site" });
  await store.put("site", null, { name: "Larkfield" });
  const id = await store.put("note", null, { of_type: "storm", of_id: "x", at: "2026-11-02T10:00:00.000Z", text: "Roof lifted" });
  await expect(store.put("note", id, { text: "Roof stayed" })).rejects.toMatchObject({ code: "append_only" });
});

test("unnumbered rows carry local numbers that stay theirs", async () => {
  const store = await open();
  await store.put("site", null, { name: "Larkfield" });
  const [a, b] = await store.putMany([
    { type: "defect", set: { elevation_id: "e", mark: pin } }, { type: "defect", set: { elevation_id: "e", mark: pin } },
  ]);
  await store.drop("defect", a as string);
  await store.closeStore();
  const again = await open();
  const c = await again.put("defect", null, { elevation_id: "e", mark: pin });
  expect([again.localNumber("defect", b as string), again.localNumber("defect", c)]).toEqual([2, 3]);
  expect(again.table("defect").value.size).toBe(2);
});

test("ops keep their order over restarts, and local labels are no part of them on the wire", async () => {
  const first = await open();
  await first.put("site", null, { name: "Larkfield" });
  await first.put("storm", null, { name: "Gale", began_on: "2026-11-02" });
  await first.closeStore();
  const second = await open();
  await second.put("storm", null, { name: "Hail", began_on: "2026-11-09" });
  const ns = (await outbox()).map((op) => op.n as number);
  expect(ns).toEqual([...ns].sort((a, b) => a - b));
  expect(new Set(ns).size).toBe(3);
});

test("changesOf names the changed fields only", async () => {
  const store = await open();
  await store.put("site", null, { name: "Larkfield" });
  const id = await store.put("defect", null, { elevation_id: "e", mark: pin, signs: ["bulge"] });
  const row = store.row("defect", id);
  if (!row) throw new Error("the defect is not shown");
  expect(store.changesOf<"defect">(row, { mark: { ...pin }, signs: ["bulge", "damp"], note: null })).toEqual({ signs: ["bulge", "damp"] });
});

test("a second tab sees what the first has kept", async () => {
  const first = await open();
  const second = await open();
  const id = await first.put("site", null, { name: "Larkfield" });
  await vi.waitFor(() => expect(second.sites.value.map((one) => one.id)).toEqual([id]));
  expect(second.syncState.value.waiting).toBe(1);
  await first.closeStore();
  await second.closeStore();
});

test("an outbox of 10,000 ops opens, shows and takes one more", { timeout: 60_000 }, async () => {
  const store = await open();
  await store.put("site", null, { name: "Larkfield" });
  for (let part = 0; part < 10; part += 1) {
    await store.putMany(Array.from({ length: 1000 }, (_, i) => ({ type: "defect" as const, set: { elevation_id: "e", mark: pin, note: `${part}/${i}` } })));
  }
  await store.closeStore();
  const again = await open();
  expect(again.table("defect").value.size).toBe(10_000);
  const before = performance.now();
  await again.put("defect", null, { elevation_id: "e", mark: pin });
  const took_ms = performance.now() - before;
  expect(again.syncState.value.waiting).toBe(10_002);
  expect(took_ms).toBeLessThan(1000);
});

test("of two edits kept at once the later one in the outbox is shown, whichever comes to its turn first", async () => {
  const store = await open();
  await store.put("site", null, { name: "Larkfield" });
  const id = await store.put("structure", null, { name: "Barn", wall_material: "cob" });
  const { addPending } = await import("./view");
  const op = { op: "o", type: "structure", id, site: store.currentSite.value as string, kind: "put", base: 0, at: "2026-11-25T09:00:00.000Z" } as const;
  addPending([{ ...op, op: "later", n: 92, set: { name: "Long barn" } }]);
  addPending([{ ...op, op: "earlier", n: 91, set: { name: "Low barn" } }]);
  expect(store.row("structure", id)?.name).toBe("Long barn");
});
