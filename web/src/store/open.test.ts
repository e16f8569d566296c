import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, expect, test, vi } from "vitest";
import { PretendServer } from "./net/pretend_server";

type Store = typeof import("./index");
let server: PretendServer;

async function open(): Promise<Store> {
  vi.resetModules();
  const store = await import("./index");
  store.setTransport(server.transport);
  await store.openStore();
  return store;
}

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  server = new PretendServer();
});

/** A phone with two sites and a ticket on each; the first by name is on the screen. */
async function ofTwoSites(): Promise<Store> {
  const store = await open();
  await store.enrol("token", "Ida", "phone");
  for (const [site, name] of [["lark", "Larkfield"], ["wader", "Wader Row"]] as const) {
    server.write("site", site, site, { name });
    server.write("ticket", site, `${site}-ticket`, { defect_ids: [], number: 7 });
  }
  await store.syncNow();
  await store.chooseSite("lark");
  expect(store.row("ticket", "lark-ticket")).toMatchObject({ number: 7 });
  return store;
}

test("a row of another site of this phone brings that site to the screen, and it is still there after the page is gone", async () => {
  const store = await ofTwoSites();
  expect(store.row("ticket", "wader-ticket")).toBeUndefined();
  expect(await store.chooseSiteOf("ticket", "wader-ticket")).toBe("wader");
  expect(store.currentSite.value).toBe("wader");
  expect(store.row("ticket", "wader-ticket")).toMatchObject({ number: 7, site_id: "wader" });
  await store.closeStore();
  const again = await open();
  expect(again.currentSite.value).toBe("wader");
});

test("what no site holds, or was removed, leaves the screen where it is", async () => {
  const store = await ofTwoSites();
  server.remove("ticket", "wader", "wader-ticket");
  await store.syncNow();
  expect(await store.chooseSiteOf("ticket", "wader-ticket")).toBeNull();
  expect(await store.chooseSiteOf("ticket", "nobodys")).toBeNull();
  expect(await store.chooseSiteOf("structure", "wader-ticket")).toBeNull();
  expect(store.currentSite.value).toBe("lark");
});

test("one that was only made here and waits to be sent is found too", async () => {
  const store = await ofTwoSites();
  await store.chooseSite("wader");
  const made = await store.put("ticket", null, { defect_ids: [] });
  await store.chooseSite("lark");
  expect(await store.chooseSiteOf("ticket", made)).toBe("wader");
  expect(store.row("ticket", made)).toMatchObject({ site_id: "wader" });
});
