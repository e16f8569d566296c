/** A site that is dropped, and one that is dropped and sent anew in the same answer. */
import "fake-indexeddb/auto";
import { IDBFactory } from "fake-indexeddb";
import { beforeEach, expect, test, vi } from "vitest";
import { PretendServer } from "./pretend_server";

let server: PretendServer;

async function enrolled() {
  vi.resetModules();
  const store = await import("../index");
  store.setTransport(server.transport);
  await store.openStore();
  await store.enrol("token", "Ida", "phone");
  const site = await store.put("site", null, { name: "Larkfield" });
  await store.syncNow();
  return { ...store, site };
}

/** The next pull gets these rows after the site was dropped. */
function anew(site: string, rows: unknown[], rev: number, parted = false): void {
  const since = parted ? {} : { [site]: rev };
  const body = { epoch: server.epoch, now: new Date().toISOString(), more: false, since, drop: [site], rows };
  const answer = new Response(JSON.stringify(body), { headers: { "Content-Type": "application/json" } });
  server.faults.push({ path: "/api/sync/pull", fault: answer });
}

beforeEach(() => {
  globalThis.indexedDB = new IDBFactory();
  server = new PretendServer();
});

test("rows sent anew replace all that the phone had of the site, and the next pull goes on from there", async () => {
  const phone = await enrolled();
  server.write("storm", phone.site, "gone", { name: "Old", began_on: "2026-11-02" });
  server.write("storm", phone.site, "stays", { name: "Gale", began_on: "2026-11-02" });
  await phone.syncNow();
  const at = { made_at: "2026-01-01T00:00:00.000Z", made_by: "Other" };
  anew(phone.site, [{ type: "storm", id: "stays", site: phone.site, rev: 3, d: { name: "Gale", began_on: "2026-11-02", ...at } }], 900);
  await phone.syncNow();
  expect([...phone.table("storm").value.keys()]).toEqual(["stays"]);
  expect(phone.row("site", phone.site)).toBeUndefined();
  server.rev = 950;
  server.write("storm", phone.site, "later", { name: "Squall", began_on: "2026-11-03" });
  await phone.syncNow();
  expect([...phone.table("storm").value.keys()].sort()).toEqual(["later", "stays"]);
  // Asked from the cursor that came with the rows: what lies below it was not sent again.
  expect(phone.row("site", phone.site)).toBeUndefined();
});

test.each([["sent anew", false], ["dropped for good", true]])("work not sent yet outlives a site %s", async (_how, parted) => {
  const phone = await enrolled();
  server.write("ticket", phone.site, "t1", { number: 1, defect_ids: [] });
  await phone.syncNow();
  server.refuse = () => "not_allowed";
  await phone.put("step", null, { ticket_id: "t1", kind: "taken", at: "2026-11-25T09:00:00.000Z" });
  anew(phone.site, [], 900, parted);
  await phone.syncNow();
  expect(phone.syncState.value).toMatchObject({ waiting: 0, parked: 1 });
  expect(phone.parked.value[0]).toMatchObject({ code: "not_allowed", op: { type: "step", set: { ticket_id: "t1" } } });
  expect(phone.row("ticket", "t1")).toBeUndefined();
});
