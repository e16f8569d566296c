import { expect, test } from "vitest";
import { type Before, type Look, newsSince, tell } from "./told";

const came = { epoch: "e1", at: "2026-11-10T10:00:00.000Z" };
const look: Look = { rev: 10, epoch: "e1", at: "2026-11-09T10:00:00.000Z" };
const silent = new Set(["number"]);
const held = (more: Partial<Before> = {}): Before => ({ deleted: false, d: { name: "Barn", note: null, number: null }, ...more });
const now = (rev: number, d: Record<string, unknown> = { name: "Barn", note: null, number: null }) => ({ rev, deleted: false, d });
const gone = (rev: number) => ({ rev, deleted: true, d: {} });

test("a row never seen is new, one that comes again as it was is nothing", () => {
  expect(newsSince(tell(undefined, now(11), came, silent), look)).toEqual({ what: "fresh", fields: [], rev: 11 });
  expect(tell(held(), now(12), came, silent)).toBeUndefined();
});

test("fields that changed are named, those of the server and those that were hidden are not", () => {
  const told = tell(held(), now(12, { name: "Old barn", note: null, number: 3, lat: 40 }), came, silent);
  expect(newsSince(told, look)).toEqual({ what: "fields", fields: ["name"], rev: 12 });
  expect(tell(held(), now(12, { name: "Old barn" }), came, "all")).toBeUndefined();
});

test("what this phone sent last is not news, even where the server writes it another way", () => {
  const own = held({ sent: { rev: 12, fields: ["name"] } });
  expect(tell(own, now(12, { name: "BARN", note: null }), came, silent)).toBeUndefined();
  expect(newsSince(tell(own, now(12, { name: "BARN", note: "leaks" }), came, silent), look)?.fields).toEqual(["note"]);
  expect(newsSince(tell(own, now(13, { name: "Granary", note: null }), came, silent), look)?.fields).toEqual(["name"]);
});

test("a deletion is news, one this phone made or never had the row of is not", () => {
  expect(newsSince(tell(held(), gone(12), came, silent), look)).toEqual({ what: "gone", fields: [], rev: 12 });
  expect(tell(held({ deleted: true }), gone(12), came, silent)).toBeUndefined();
  expect(tell(undefined, gone(12), came, silent)).toBeUndefined();
});

test("new and gone between two looks is nothing, gone and back is nothing, back after a look is news", () => {
  const fresh = tell(undefined, now(11), came, silent);
  expect(newsSince(tell(held({ told: fresh }), gone(12), came, silent), look)).toBeNull();
  const dropped = tell(held(), gone(12), came, silent);
  const back = tell(held({ deleted: true, told: dropped }), now(13), came, silent);
  expect(newsSince(back, look)).toBeNull();
  expect(newsSince(back, { ...look, rev: 12 })).toEqual({ what: "back", fields: [], rev: 13 });
});

test("a new row that was also edited is new, once; after the look only the edit counts", () => {
  const fresh = tell(undefined, now(11), came, silent);
  const edited = tell(held({ told: fresh }), now(12, { name: "Granary", note: null }), came, silent);
  expect(newsSince(edited, look)?.what).toBe("fresh");
  expect(newsSince(edited, { ...look, rev: 11 })).toEqual({ what: "fields", fields: ["name"], rev: 12 });
  expect(newsSince(edited, { ...look, rev: 12 })).toBeNull();
});

test("after a restored server, which counts from lower again, what came since the look is still news", () => {
  const told = tell(undefined, now(4), { epoch: "e2", at: "2026-11-11T10:00:00.000Z" }, silent);
  expect(newsSince(told, look)?.what).toBe("fresh");
  expect(newsSince(tell(undefined, now(11), came, silent), { rev: 2, epoch: "e2", at: "2026-11-12T10:00:00.000Z" })).toBeNull();
});
