/** Waiting for news at the server: pulled at once, never worse than without. */
import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { PretendServer } from "./pretend_server";

type Store = typeof import("../index");
let server: PretendServer;
let stage: EventTarget;
let last: Store | null = null;
const waits = () => server.log.filter((line) => line === "GET /api/sync/wait").length;
const pulls = () => server.log.filter((line) => line.endsWith("/pull")).length;

/** An enrolled phone that syncs by itself. */
async function inFront(): Promise<Store & { site: string }> {
  vi.resetModules();
  const store = await import("../index");
  last = store;
  store.setTransport(server.transport);
  await store.openStore();
  await store.enrol("token", "Ida", "phone");
  const site = await store.put("site", null, { name: "Larkfield" });
  await store.syncNow();
  store.startSync();
  await store.syncNow();
  return { ...store, site };
}

/** The app goes out of sight or comes back. */
function show(visibilityState: "visible" | "hidden"): void {
  const event = new Event("visibilitychange");
  Object.defineProperty(event, "target", { value: { visibilityState } });
  stage.dispatchEvent(event);
}

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  server = new PretendServer();
  stage = new EventTarget();
  vi.stubGlobal("self", stage);
});
afterEach(async () => {
  server.down = true;
  show("hidden");
  await last?.closeStore();
  vi.unstubAllGlobals();
});

test("somebody else's change is here at once, and the waiting goes on from there", async () => {
  const phone = await inFront();
  await vi.waitFor(() => expect(server.waiting).toBe(1));
  server.write("storm", phone.site, "s", { name: "Gale", began_on: "2026-11-02" });
  await vi.waitFor(() => expect(phone.row("storm", "s")?.name).toBe("Gale"));
  await vi.waitFor(() => expect(server.waiting).toBe(1));
  server.write("storm", phone.site, "t", { name: "Hail", began_on: "2026-11-09" });
  await vi.waitFor(() => expect(phone.row("storm", "t")?.name).toBe("Hail"));
  expect(server.asked).toContain(`rev=${phone.site}%3A`);
});

test("one tab waits for all; the other hears from it", async () => {
  const held = new Set<string>();
  const request = async (name: string, _how: unknown, deed: (lock: object | null) => Promise<unknown>) => {
    if (held.has(name)) return deed(null);
    held.add(name);
    return deed({}).finally(() => held.delete(name));
  };
  vi.stubGlobal("navigator", { locks: { request } });
  const first = await inFront();
  await vi.waitFor(() => expect(server.waiting).toBe(1));
  vi.resetModules();
  const second = await import("../index");
  second.setTransport(server.transport);
  await second.openStore();
  await vi.waitFor(() => expect(second.me.value?.grants).toHaveLength(1));
  second.startSync();
  await second.syncNow();
  expect(waits()).toBe(1);
  server.write("storm", first.site, "s", { name: "Gale", began_on: "2026-11-02" });
  await vi.waitFor(() => expect(first.row("storm", "s")?.name).toBe("Gale"));
  await vi.waitFor(() => expect(second.row("storm", "s")?.name).toBe("Gale"));
  await second.closeStore();
});

test("out of sight nothing waits; back in sight it does again", async () => {
  const phone = await inFront();
  await vi.waitFor(() => expect(server.waiting).toBe(1));
  show("hidden");
  await vi.waitFor(() => expect(server.waiting).toBe(0));
  expect(phone.syncState.value.reaching).toBe("reached");
  server.write("storm", phone.site, "s", { name: "Gale", began_on: "2026-11-02" });
  show("visible");
  await vi.waitFor(() => expect(phone.row("storm", "s")?.name).toBe("Gale"));
  await vi.waitFor(() => expect(server.waiting).toBe(1));
});

test("an older server without the route is asked once, and syncing goes on", async () => {
  server.waitRoute = "missing";
  const phone = await inFront();
  await vi.waitFor(() => expect(waits()).toBe(1));
  for (let n = 0; n < 3; n += 1) await phone.syncNow();
  expect(waits()).toBe(1);
  server.write("storm", phone.site, "s", { name: "Gale", began_on: "2026-11-02" });
  await phone.syncNow();
  expect(phone.row("storm", "s")?.name).toBe("Gale");
  expect(phone.syncState.value.problem).toBeNull();
});

test.each(["always news", "never waits"] as const)("a server that answers at once (%s) is not asked without end", async (odd) => {
  server.waitRoute = odd;
  await inFront();
  await vi.waitFor(() => expect(waits()).toBeGreaterThan(0));
  await new Promise((done) => setTimeout(done, 300));
  expect(waits()).toBeLessThanOrEqual(3);
  expect(pulls()).toBeLessThanOrEqual(8);
});

test("a line that breaks while waiting is said, and waiting begins again once the server was reached", async () => {
  const phone = await inFront();
  await vi.waitFor(() => expect(server.waiting).toBe(1));
  server.cutWaits();
  await vi.waitFor(() => expect(phone.syncState.value.reaching).toBe("not_reached"));
  expect(server.waiting).toBe(0);
  await phone.syncNow();
  await vi.waitFor(() => expect(server.waiting).toBe(1));
});

test("a write of one's own is sent at once, though a question is open", async () => {
  const phone = await inFront();
  await vi.waitFor(() => expect(server.waiting).toBe(1));
  await phone.put("storm", null, { name: "Gale", began_on: "2026-11-02" });
  await vi.waitFor(() => expect(phone.syncState.value.waiting).toBe(0), { timeout: 2000 });
  await vi.waitFor(() => expect(server.waiting).toBe(1));
});
