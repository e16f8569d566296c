import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, expect, test, vi } from "vitest";
import type { Mark } from "../../model/types";
import { type Fault, PretendServer } from "./pretend_server";

type Store = typeof import("../index");
const pin: Mark = { view: "seen", shape: "pin", points_m: [[1, 1]] };
let server: PretendServer;

async function open(): Promise<Store> {
  vi.resetModules();
  const store = await import("../index");
  store.setTransport(server.transport);
  await store.openStore();
  return store;
}

/** An enrolled phone on a site of its own that the server knows. */
async function enrolled(): Promise<Store & { site: string }> {
  const store = await open();
  await store.enrol("token", "Ida", "phone");
  const site = await store.put("site", null, { name: "Larkfield" });
  await store.syncNow();
  expect(store.syncState.value).toMatchObject({ waiting: 0, problem: null, reaching: "reached" });
  return { ...store, site };
}

function fault(path: string, ...what: Fault[]): void {
  for (const one of what) server.faults.push({ path, fault: one });
}

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  server = new PretendServer();
});

test("work goes up, other people's work comes down, and the words say so", async () => {
  const phone = await enrolled();
  server.write("structure", phone.site, "s1", { name: "Barn", wall_material: "cob" });
  await phone.put("storm", null, { name: "Gale", began_on: "2026-11-02" });
  expect(phone.syncState.value.waiting).toBe(1);
  await phone.syncNow();
  expect(phone.row("structure", "s1")).toMatchObject({ name: "Barn", rev: 2, made_by: "Other" });
  expect(phone.syncState.value.waiting).toBe(0);
  expect(phone.syncState.value.lastSentAt).not.toBeNull();
});

test("a lost answer leaves the op in the outbox, and it takes effect once", async () => {
  const phone = await enrolled();
  fault("/api/sync/push", "lose_answer");
  await phone.put("storm", null, { name: "Gale", began_on: "2026-11-02" });
  await phone.syncNow();
  expect(phone.syncState.value).toMatchObject({ waiting: 1, reaching: "not_reached" });
  await phone.syncNow();
  expect(phone.syncState.value.waiting).toBe(0);
  const op = server.pushes.at(-1)?.[0];
  expect(server.pushes.filter((ops) => ops.some((one) => one.op === op?.op))).toHaveLength(2);
  expect(server.timesApplied(op?.op ?? "")).toBe(1);
});

test("a sign-in page in place of the server is not taken for it", async () => {
  const phone = await enrolled();
  await phone.put("storm", null, { name: "Gale", began_on: "2026-11-02" });
  fault("/api/", "captive_portal");
  await phone.syncNow();
  expect(phone.syncState.value).toMatchObject({ waiting: 1, reaching: "not_reached", signedOut: false });
  fault("/api/sync/push", new Response("{}", { headers: { "Content-Type": "application/json" } }));
  await phone.syncNow();
  expect(phone.syncState.value).toMatchObject({ waiting: 1, reaching: "not_reached" });
});

test("one poison op is parked with its sentence, and everything else goes up", async () => {
  const phone = await enrolled();
  server.refuse = (op) => (op.set?.name === "poison" ? "bad_value" : null);
  for (const name of ["one", "poison", "two"]) await phone.put("storm", null, { name, began_on: "2026-11-02" });
  await phone.syncNow();
  expect(phone.syncState.value).toMatchObject({ waiting: 0, parked: 1 });
  expect(phone.parked.value[0]).toMatchObject({ code: "bad_value", say: "bad_value.", op: { set: { name: "poison" } } });
  expect([...phone.table("storm").value.values()].map((storm) => storm.name).sort()).toEqual(["one", "two"]);
  server.refuse = () => null;
  await phone.retryParked(phone.parked.value[0]?.id ?? "", { name: "mended" });
  await phone.syncNow();
  expect(phone.syncState.value).toMatchObject({ waiting: 0, parked: 0 });
  expect([...phone.table("storm").value.values()].map((storm) => storm.name).sort()).toEqual(["mended", "one", "two"]);
});

test("a pull does not put the older value over an unsent edit", async () => {
  const phone = await enrolled();
  server.write("storm", phone.site, "g", { name: "Gale", began_on: "2026-11-02", note: "theirs" });
  await phone.syncNow();
  await phone.put("storm", "g", { name: "Great gale" });
  server.write("storm", phone.site, "g", { note: "newer theirs" });
  fault("/api/sync/push", new Response('{"code":"too_many_tries","message":""}', { status: 429, headers: { "Content-Type": "application/json" } }));
  await phone.syncNow();
  expect(phone.row("storm", "g")?.name).toBe("Great gale");
  const { pullAll } = await import("./pull");
  await pullAll();
  expect(phone.row("storm", "g")).toMatchObject({ name: "Great gale", note: "newer theirs" });
  await phone.syncNow();
  expect(server.pushes.at(-1)?.[0]).toMatchObject({ set: { name: "Great gale" }, base: 2 });
  expect(phone.row("storm", "g")).toMatchObject({ name: "Great gale", note: "newer theirs" });
});

test("between answer and pull the screen never falls back to the older value", async () => {
  const phone = await enrolled();
  server.write("storm", phone.site, "g", { name: "Gale", began_on: "2026-11-02" });
  await phone.syncNow();
  const seen: (string | undefined)[] = [];
  const { effect } = await import("@preact/signals");
  const stop = effect(() => void seen.push(phone.table("storm").value.get("g")?.name));
  await phone.put("storm", "g", { name: "Great gale" });
  fault("/api/sync/pull", "lose_request");
  await phone.syncNow();
  expect(phone.syncState.value.waiting).toBe(0);
  await phone.syncNow();
  stop();
  expect([...new Set(seen)]).toEqual(["Gale", "Great gale"]);
  expect(seen.lastIndexOf("Gale")).toBeLessThan(seen.indexOf("Great gale"));
});

test("an unsent edit of a row that somebody dropped stays on the screen and is sent", async () => {
  const phone = await enrolled();
  server.write("storm", phone.site, "g", { name: "Gale", began_on: "2026-11-02" });
  await phone.syncNow();
  await phone.put("storm", "g", { note: "roof lifted" });
  server.remove("storm", phone.site, "g");
  fault("/api/sync/push", "lose_request");
  await phone.syncNow();
  const { pullAll } = await import("./pull");
  await pullAll();
  expect(phone.row("storm", "g")).toMatchObject({ name: "Gale", note: "roof lifted" });
  await phone.syncNow();
  expect(server.pushes.at(-1)?.[0]).toMatchObject({ base: 2, set: { note: "roof lifted" } });
});

test("a restored server: the outbox is kept, rows are asked for anew, and nothing is blank meanwhile", async () => {
  const phone = await enrolled();
  await phone.put("storm", null, { name: "Gale", began_on: "2026-11-02" });
  await phone.syncNow();
  server.epoch = "e2";
  server.rows.delete([...server.rows.keys()].find((key) => key.includes("/storm/")) ?? "");
  await phone.put("storm", null, { name: "Hail", began_on: "2026-11-09" });
  fault("/api/sync/pull", "lose_request");
  await phone.syncNow();
  expect([...phone.table("storm").value.values()].map((storm) => storm.name)).toContain("Hail");
  expect(phone.sites.value).toHaveLength(1);
  await phone.syncNow();
  expect(phone.syncState.value).toMatchObject({ waiting: 0, problem: null });
  expect([...phone.table("storm").value.values()].map((storm) => storm.name)).toEqual(["Hail"]);
});

test("an ended session pauses sending and keeps the work; a new enrolment sends it", async () => {
  const phone = await enrolled();
  server.signedOut = true;
  await phone.put("storm", null, { name: "Gale", began_on: "2026-11-02" });
  await phone.syncNow();
  expect(phone.syncState.value).toMatchObject({ waiting: 1, signedOut: true });
  await phone.closeStore();
  const later = await open();
  expect(later.syncState.value).toMatchObject({ waiting: 1, signedOut: true });
  server.signedOut = false;
  await later.enrol("token2", "Ida", "phone");
  expect(later.syncState.value).toMatchObject({ waiting: 0, signedOut: false });
});

test("a bite that is too large is halved until it fits", async () => {
  const phone = await enrolled();
  server.mostOps = 30;
  await phone.putMany(Array.from({ length: 100 }, () => ({ type: "defect" as const, set: { elevation_id: "e", mark: pin } })));
  await phone.syncNow();
  expect(phone.syncState.value.waiting).toBe(0);
  expect(Math.max(...server.pushes.map((ops) => ops.length))).toBeLessThanOrEqual(30);
});

test("what one tab has sent and taken in, the other shows", async () => {
  const first = await enrolled();
  const second = await open();
  await first.put("storm", null, { name: "Gale", began_on: "2026-11-02" });
  await vi.waitFor(() => expect(second.syncState.value.waiting).toBe(1));
  server.write("storm", first.site, "h", { name: "Hail", began_on: "2026-11-09" });
  await first.syncNow();
  await vi.waitFor(() => expect([...second.table("storm").value.values()].map((storm) => storm.name).sort()).toEqual(["Gale", "Hail"]));
  expect(second.syncState.value.waiting).toBe(0);
  await second.closeStore();
  await first.closeStore();
});

test("ops the server has not answered for stay, whatever became of their neighbours", async () => {
  const phone = await enrolled();
  server.mostAnswers = 2;
  for (const name of ["one", "two", "three", "four", "five"]) await phone.put("storm", null, { name, began_on: "2026-11-02" });
  await phone.syncNow();
  expect(server.pushes.slice(1).map((ops) => ops.length)).toEqual([5, 3, 1]);
  expect([...server.rows.keys()].filter((key) => key.includes("/storm/"))).toHaveLength(5);
});

test("a site this device may no longer see goes; its unsent op is parked, not lost", async () => {
  const phone = await enrolled();
  server.write("site", "other", "other", { name: "Otherfield" });
  await phone.syncNow();
  expect(phone.sites.value.map((site) => site.name)).toEqual(["Larkfield", "Otherfield"]);
  expect(phone.me.value?.grants).toHaveLength(2);
  await phone.chooseSite("other");
  await phone.put("storm", null, { name: "Gale", began_on: "2026-11-02" });
  server.sites = [phone.site];
  server.refuse = (op) => (op.site === "other" ? "not_allowed" : null);
  await phone.syncNow();
  expect(phone.sites.value.map((site) => site.name)).toEqual(["Larkfield"]);
  await vi.waitFor(() => expect(phone.currentSite.value).toBe(phone.site));
  expect(phone.parked.value.map((one) => one.code)).toEqual(["not_allowed"]);
});

test("a role that changed has the site pulled anew, for what the old role could not see", async () => {
  server.role = "helper";
  const phone = await enrolled();
  server.write("storm", phone.site, "s1", { name: "Gale", began_on: "2026-11-02" });
  await phone.syncNow();
  const pages = server.log.filter((line) => line.endsWith("/pull")).length;
  server.role = "keeper";
  server.rows.get(`${phone.site}/storm/s1`)!.row.d!.note = "only for keepers";
  await phone.syncNow();
  expect(phone.row("storm", "s1")?.note ?? null).toBeNull();
  await phone.enrol("another-link-for-the-keeper", "Ida", "phone");
  expect(phone.row("storm", "s1")?.note).toBe("only for keepers");
  expect(server.log.filter((line) => line.endsWith("/pull")).length).toBeGreaterThan(pages);
});

test("10,000 waiting ops go up over a line that loses every fifth request or answer", { timeout: 120_000 }, async () => {
  const phone = await enrolled();
  for (let part = 0; part < 10; part += 1) {
    await phone.putMany(Array.from({ length: 1000 }, () => ({ type: "defect" as const, set: { elevation_id: "e", mark: pin } })));
  }
  let count = 0;
  phone.setTransport(async (url, init) => {
    count += 1;
    if (count % 5 === 0) fault(url, count % 2 ? "lose_request" : "lose_answer");
    return server.transport(url, init);
  });
  for (let tries = 0; tries < 60 && phone.syncState.value.waiting > 0; tries += 1) await phone.syncNow();
  phone.setTransport(server.transport);
  server.faults = [];
  await phone.syncNow();
  expect(phone.syncState.value.waiting).toBe(0);
  expect(phone.table("defect").value.size).toBe(10_000);
  const ops = new Set(server.pushes.flat().map((op) => op.op));
  expect(ops.size).toBe(10_001);
  expect([...ops].every((op) => server.timesApplied(op) === 1)).toBe(true);
});

test("leaving refuses while something is only here, and clears the phone when it is not", async () => {
  const phone = await enrolled();
  server.down = true;
  await phone.put("storm", null, { name: "Gale", began_on: "2026-11-02" });
  await expect(phone.leave()).rejects.toMatchObject({ code: "unsent_work" });
  server.down = false;
  await phone.syncNow();
  await phone.leave();
  expect(phone.sites.value).toEqual([]);
  expect(phone.me.value).toBeNull();
  await phone.closeStore();
  const again = await open();
  expect(again.sites.value).toEqual([]);
});
