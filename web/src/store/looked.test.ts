/** What changed since a person last looked: other people's work on this site, and nothing else. */
import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, expect, test, vi } from "vitest";
import { PretendServer } from "./net/pretend_server";

type Store = typeof import("./index");
let server: PretendServer;

async function open(): Promise<Store> {
  await (await import("./database")).closeDatabase();
  vi.resetModules();
  const store = await import("./index");
  store.setTransport(server.transport);
  await store.openStore();
  return store;
}

/** A phone on a site of its own that another person has worked on before. */
async function enrolled(): Promise<Store & { site: string }> {
  const store = await open();
  await store.enrol("token", "Ida", "phone");
  const site = await store.put("site", null, { name: "Larkfield" });
  await store.syncNow();
  return { ...store, site };
}

const said = (store: Store) => store.news.value.map(({ type, what, id, fields, by }) => [type, what, id, fields, by]);

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  server = new PretendServer();
});

test("a phone that takes in a site for the first time has no news; the look is set when all of it has come", async () => {
  server.write("site", "s", "s", { name: "Larkfield" });
  for (let i = 0; i < 1200; i += 1) server.write("storm", "s", `st${i}`, { name: "Gale", began_on: "2026-11-02" });
  const store = await open();
  await store.enrol("token", "Ida", "phone");
  await store.syncNow();
  expect(store.table("storm").value.size).toBe(1200);
  expect(store.news.value).toEqual([]);
  expect(store.looks.value.s).toMatchObject({ rev: 1201, epoch: "e1" });
  server.write("storm", "s", "late", { name: "Hail", began_on: "2026-11-09" });
  await store.syncNow();
  expect(said(store)).toEqual([["storm", "fresh", "late", [], "Other"]]);
});

test("what others made, changed and deleted is news, newest first; one's own work is not, sent or unsent", async () => {
  const store = await enrolled();
  server.write("structure", store.site, "s1", { name: "Barn", wall_material: "cob" });
  const own = await store.put("storm", null, { name: "Gale", began_on: "2026-11-02", note: "calm" });
  await store.syncNow();
  await store.put("storm", own, { name: "Big gale" });
  await store.syncNow();
  expect(said(store)).toEqual([["structure", "fresh", "s1", [], "Other"]]);
  server.write("storm", store.site, own, { note: "roof lifted" });
  server.write("structure", store.site, "s2", { name: "Granary", wall_material: "cob" });
  server.remove("structure", store.site, "s1");
  await store.syncNow();
  // What came and went since the last look is nothing to look at. Who changed a field is not told by a row.
  expect(said(store)).toEqual([["structure", "fresh", "s2", [], "Other"], ["storm", "fields", own, ["note"], null]]);
});

test("unsent work over a row that another has changed does not hide that", async () => {
  const store = await enrolled();
  server.write("structure", store.site, "s1", { name: "Barn", wall_material: "cob", note: "dry" });
  await store.syncNow();
  await store.haveLooked(server.rev);
  await store.put("structure", "s1", { name: "Old barn" });
  server.write("structure", store.site, "s1", { note: "wet" });
  await store.syncNow();
  expect(said(store)).toEqual([["structure", "fields", "s1", ["note"], null]]);
});

test("having looked moves the mark for good, up to what was shown and no further, and can be taken back", async () => {
  const store = await enrolled();
  server.write("structure", store.site, "s1", { name: "Barn", wall_material: "cob" });
  await store.syncNow();
  const shown = Math.max(...store.news.value.map((one) => one.rev));
  server.write("structure", store.site, "s2", { name: "Granary", wall_material: "cob" });
  await store.syncNow();
  const before = await store.haveLooked(shown);
  expect(said(store)).toEqual([["structure", "fresh", "s2", [], "Other"]]);
  const later = await open();
  expect(said(later)).toEqual([["structure", "fresh", "s2", [], "Other"]]);
  await later.lookAgain(store.site, before!);
  expect(later.news.value).toHaveLength(2);
});

test("the mark belongs to one site and is never sent", async () => {
  const store = await enrolled();
  server.write("site", "other", "other", { name: "Farm" });
  await store.syncNow();
  server.write("storm", "other", "st", { name: "Gale", began_on: "2026-11-02" });
  server.write("storm", store.site, "st2", { name: "Hail", began_on: "2026-11-02" });
  await store.syncNow();
  await store.haveLooked(server.rev);
  expect(store.news.value).toEqual([]);
  await store.chooseSite("other");
  expect(said(store)).toEqual([["storm", "fresh", "st", [], "Other"]]);
  expect(JSON.stringify(server.pushes)).not.toContain("looked");
});

test("a row deleted by another is news and can be brought back; one this phone deleted itself is not", async () => {
  const store = await enrolled();
  server.write("storm", store.site, "a", { name: "Gale", began_on: "2026-11-02" });
  server.write("storm", store.site, "b", { name: "Hail", began_on: "2026-11-03" });
  await store.syncNow();
  await store.haveLooked(server.rev);
  server.remove("storm", store.site, "a");
  await store.drop("storm", "b");
  await store.syncNow();
  expect(said(store)).toEqual([["storm", "gone", "a", [], null]]);
  expect(store.gone.value.map((one) => one.id).sort()).toEqual(["a", "b"]);
  await store.bringBack([{ type: "storm", id: "a" }]);
  await store.syncNow();
  expect(store.news.value).toEqual([]);
  expect(store.row("storm", "a")).toMatchObject({ name: "Gale" });
});
