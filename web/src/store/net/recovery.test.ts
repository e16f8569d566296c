import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { effect } from "@preact/signals";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { PretendServer } from "./pretend_server";

type Store = typeof import("../index");
const facts = { media_type: "image/jpeg", taken_at: null, lat: null, lon: null, accuracy_m: null, heading_deg: null, position_source: null };
let server: PretendServer;
let last: Store | null = null;

async function open(): Promise<Store> {
  vi.resetModules();
  const store = await import("../index");
  store.setTransport(server.transport);
  await store.openStore();
  last = store;
  return store;
}

async function enrolled(): Promise<Store & { site: string }> {
  const store = await open();
  await store.enrol("token", "Ida", "phone");
  const site = await store.put("site", null, { name: "Larkfield" });
  await store.syncNow();
  return { ...store, site };
}

/** Let the first `whole` pulls through and cut the others. */
function cutPullsAfter(store: Store, whole: number): void {
  let pulls = 0;
  store.setTransport(async (url, init) => {
    if (url === "/api/sync/pull" && ++pulls > whole) throw new TypeError("cut");
    return server.transport(url, init);
  });
}

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  server = new PretendServer();
});
afterEach(async () => last?.closeStore());

test("what a phone has stays on the screen until a restored server's last page, then what that server lost goes", async () => {
  const phone = await enrolled();
  server.write("structure", phone.site, "kept", { name: "Barn", wall_material: "cob" });
  server.write("structure", phone.site, "lost", { name: "Byre", wall_material: "cob" });
  await phone.syncNow();
  for (let n = 0; n < 600; n += 1) server.write("storm", phone.site, `storm ${n}`, { name: `Gale ${n}`, began_on: "2026-11-02" });
  server.write("structure", phone.site, "kept", { name: "Barn", wall_material: "adobe" });
  server.rows.delete(`${phone.site}/structure/lost`);
  server.epoch = "e2";
  cutPullsAfter(phone, 2);
  await phone.syncNow();
  expect(phone.row("structure", "kept")?.wall_material).toBe("cob");
  expect(phone.row("structure", "lost")).toBeDefined();
  const again = await open();
  expect(again.row("structure", "kept")?.wall_material).toBe("cob");
  await again.syncNow();
  expect(again.row("structure", "kept")?.wall_material).toBe("adobe");
  expect(again.row("structure", "lost")).toBeUndefined();
  expect(again.table("storm").value.size).toBe(600);
});

test("a founder's own rows stay on the screen while the first pull is cut half way", async () => {
  const phone = await open();
  await phone.enrol("token", "Ida", "phone");
  const site = await phone.put("site", null, { name: "Larkfield" });
  await phone.putMany(Array.from({ length: 600 }, (_, n) => ({ type: "storm" as const, set: { name: `Gale ${n}`, began_on: "2026-11-02" } })));
  const late = await phone.put("structure", null, { name: "Barn", wall_material: "cob" });
  cutPullsAfter(phone, 1);
  await phone.syncNow();
  expect(phone.sites.value.map((one) => one.id)).toEqual([site]);
  expect(phone.table("storm").value.size).toBe(600);
  expect(phone.row("structure", late)?.name).toBe("Barn");
});

test("photos sent before are offered again to a restored server, which may have lost them", async () => {
  const phone = await enrolled();
  await phone.addPhoto("elevation", "e", new Uint8Array([0xff, 0xd8, 0xff, 1, 2, 3]).buffer, facts);
  await phone.syncNow();
  expect(phone.photoJobs.value.map((job) => job.state)).toEqual(["sent"]);
  server.blobs.clear();
  server.epoch = "e2";
  await phone.syncNow();
  expect(phone.photoJobs.value.map((job) => job.state)).toEqual(["sent"]);
  expect([...server.blobs.values()].map((blob) => blob.offset)).toEqual([6]);
});

test("a new role that comes while a page is on its way still brings the rows that only it may see", async () => {
  const phone = await enrolled();
  const { refreshMe } = await import("./me");
  server.role = "helper";
  await refreshMe();
  await phone.syncNow();
  server.write("clash", phone.site, "c", { of_type: "defect", of_id: "d", field: "note", kept: "a", lost: "b", chosen: null });
  server.write("storm", phone.site, "s", { name: "Gale", began_on: "2026-11-02" });
  let seen: Promise<void> | null = null;
  phone.setTransport(async (url, init) => {
    if (url !== "/api/sync/pull" || seen) return server.transport(url, init);
    // What a helper gets: the storm alone, and a cursor beyond the clash.
    const clash = server.rows.get(`${phone.site}/clash/c`);
    server.rows.delete(`${phone.site}/clash/c`);
    const page = await server.transport(url, init);
    server.rows.set(`${phone.site}/clash/c`, clash as NonNullable<typeof clash>);
    server.role = "keeper";
    seen = refreshMe();
    await seen;
    return page;
  });
  await phone.syncNow();
  expect(seen).not.toBeNull();
  expect(phone.row("clash", "c")).toBeDefined();
});

test("a site taken away right after a change of role leaves the phone", async () => {
  const phone = await enrolled();
  const { refreshMe } = await import("./me");
  server.role = "surveyor";
  await refreshMe();
  server.sites = [];
  await phone.syncNow();
  expect(phone.sites.value).toEqual([]);
});

test("an edit that waits is shown on its whole row from the moment the app opens", async () => {
  const phone = await enrolled();
  const defect = await phone.put("defect", null, { elevation_id: "e", mark: { view: "seen", shape: "pin", points_m: [[1, 1]] } });
  cutPullsAfter(phone, 0);
  await phone.syncNow();
  await phone.put("defect", defect, { note: "low down" });
  await phone.closeStore();
  vi.resetModules();
  const again = await import("../index");
  const marks: unknown[] = [];
  const stop = effect(() => {
    const shown = again.row("defect", defect);
    if (shown) marks.push(shown.mark);
  });
  await again.openStore();
  expect(marks.length).toBeGreaterThan(0);
  expect(marks.every((mark) => mark !== null)).toBe(true);
  stop();
  last = again;
});

test("a site taken away before its first pull leaves the phone too", async () => {
  const phone = await open();
  await phone.enrol("token", "Ida", "phone");
  await phone.put("site", null, { name: "Larkfield" });
  cutPullsAfter(phone, 0);
  await phone.syncNow();
  expect(phone.sites.value).toHaveLength(1);
  server.sites = [];
  phone.setTransport(server.transport);
  await phone.syncNow();
  expect(phone.sites.value).toEqual([]);
});

test("past the horizon a site is pulled anew: nothing is blank meanwhile, what was removed goes, the outbox stays", async () => {
  const phone = await enrolled();
  server.write("site", "other", "other", { name: "Otherfield" });
  server.write("structure", "other", "shed", { name: "Shed", wall_material: "cob" });
  server.write("structure", phone.site, "kept", { name: "Barn", wall_material: "cob" });
  server.write("structure", phone.site, "purged", { name: "Byre", wall_material: "cob" });
  await phone.syncNow();
  for (let n = 0; n < 600; n += 1) server.write("storm", phone.site, `storm ${n}`, { name: `Gale ${n}`, began_on: "2026-11-02" });
  server.rows.delete(`${phone.site}/structure/purged`);
  server.horizon.set(phone.site, server.rev);
  const sizes: number[] = [];
  const stop = effect(() => void sizes.push(phone.table("structure").value.size));
  let served = 0;
  phone.setTransport(async (url, init) => {
    if (url === "/api/sync/push") throw new TypeError("cut");
    if (url === "/api/sync/pull" && ++served > 2) throw new TypeError("cut");
    return server.transport(url, init);
  });
  await phone.put("structure", "kept", { note: "unsent" });
  const { pullAll, forgetCursors } = await import("./pull");
  await expect(pullAll()).rejects.toMatchObject({ code: "horizon", fields: { [phone.site]: expect.any(String) } });
  await forgetCursors([phone.site]);
  await expect(pullAll()).rejects.toThrow();
  expect(phone.row("structure", "purged")?.name).toBe("Byre");
  const again = await open();
  expect(again.syncState.value.waiting).toBe(1);
  await again.syncNow();
  expect(again.row("structure", "purged")).toBeUndefined();
  expect(again.row("structure", "kept")).toMatchObject({ name: "Barn", note: "unsent" });
  expect(again.table("storm").value.size).toBe(600);
  expect(again.syncState.value).toMatchObject({ waiting: 0, problem: null });
  expect(Math.min(...sizes)).toBeGreaterThanOrEqual(2);
  await again.chooseSite("other");
  expect(again.row("structure", "shed")?.name).toBe("Shed");
  stop();
});

test("a horizon met while syncing is got over in the same round", async () => {
  const phone = await enrolled();
  server.write("structure", phone.site, "purged", { name: "Byre", wall_material: "cob" });
  await phone.syncNow();
  server.rows.delete(`${phone.site}/structure/purged`);
  server.write("structure", phone.site, "new", { name: "Barn", wall_material: "cob" });
  server.horizon.set(phone.site, server.rev + 1);
  await phone.syncNow();
  expect([...phone.table("structure").value.values()].map((one) => one.name)).toEqual(["Barn"]);
  expect(phone.syncState.value.problem).toBeNull();
});

test("a phone whose storage the system cleared takes up its session, has all that was sent, and says what is gone", async () => {
  const phone = await enrolled();
  const barn = await phone.put("structure", null, { name: "Barn", wall_material: "cob" });
  await phone.syncNow();
  await phone.put("structure", null, { name: "Unsent", wall_material: "cob" });
  await phone.closeStore();
  globalThis.indexedDB = new IDBFactory();
  const wiped = await open();
  expect(wiped.me.value).toBeNull();
  await wiped.syncNow();
  expect(wiped.me.value?.person).toBe("Ida");
  expect(wiped.clearedAt.value).not.toBeNull();
  expect(wiped.sites.value.map((one) => one.name)).toEqual(["Larkfield"]);
  await vi.waitFor(() => expect([...wiped.table("structure").value.values()].map((one) => one.id)).toEqual([barn]));
  await wiped.closeStore();
  const later = await open();
  expect(later.clearedAt.value).not.toBeNull();
  await later.setClearedAt(null);
  await later.closeStore();
  const read = await open();
  expect(read.clearedAt.value).toBeNull();
});

test("a new phone is not told that anything was cleared", async () => {
  server.signedOut = true;
  const phone = await open();
  await phone.syncNow();
  expect(phone.clearedAt.value).toBeNull();
  server.signedOut = false;
  await phone.enrol("token", "Ida", "phone");
  expect(phone.clearedAt.value).toBeNull();
});

test("a first sync that runs into an enrolment does not take it for a storage that was cleared", async () => {
  server.signedOut = true;
  const phone = await open();
  let joined: Promise<unknown> | null = null;
  phone.setTransport(async (url, init) => {
    if (url === "/api/enrol") {
      const answer = await server.transport(url, init);
      // The session is there; this phone reads of it only after the sync has asked for it.
      server.signedOut = false;
      await syncing;
      return answer;
    }
    if (url === "/api/meta" && !joined) {
      joined = phone.enrol("token", "Ida", "phone");
      await vi.waitFor(() => expect(server.signedOut).toBe(false));
    }
    return server.transport(url, init);
  });
  const syncing = phone.syncNow();
  await syncing;
  await joined;
  expect(phone.me.value?.person).toBe("Ida");
  expect(phone.clearedAt.value).toBeNull();
});
