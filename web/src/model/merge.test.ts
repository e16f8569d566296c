import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { type Edit, type FieldValues, type Held, type Lost, merge, replay, sameValue } from "./merge";

type Case = {
  name: string;
  in: { row: Held | null; ops: Edit[]; replay: boolean };
  out: { fields: FieldValues | null; fv: Held["fv"]; lost: Lost[] };
};
const { cases } = JSON.parse(readFileSync(new URL("../../../shared/vectors/merge.json", import.meta.url), "utf8")) as { cases: Case[] };

describe("merge.json", () => {
  test.each(cases.map((one) => [one.name, one] as const))("%s", (_name, one) => {
    let row = one.in.row;
    const lost: Lost[] = [];
    for (const op of one.in.ops) {
      const merged = merge(row, op);
      row = merged.row;
      lost.push(...merged.lost);
    }
    expect({ fields: row && !row.deleted ? row.fields : null, fv: row?.fv ?? {}, lost }).toEqual(one.out);
  });

  const own = cases.filter((one) => one.in.replay && one.in.row && !one.in.row.deleted);
  test.each(own.map((one) => [one.name, one] as const))("%s: the phone shows the same before sending", (_name, one) => {
    expect(replay(one.in.row?.fields ?? null, one.in.ops)).toEqual(one.out.fields);
  });
  test("some cases are one phone's own", () => expect(own.length).toBeGreaterThan(15));
});

describe("replay", () => {
  test("nothing waiting shows the base row", () => expect(replay({ note: "a" }, [])).toEqual({ note: "a" }));
  test("nothing there and nothing waiting shows nothing", () => expect(replay(null, [])).toBeNull());
  test("the base row is left as it was", () => {
    const base = { note: "a" };
    expect(replay(base, [{ kind: "put", set: { note: "b" } }])).toEqual({ note: "b" });
    expect(base).toEqual({ note: "a" });
  });
  test("deleted, then edited, is there again with its fields", () => {
    expect(replay({ note: "a", kind: "crazing" }, [{ kind: "del" }, { kind: "put", set: { note: "b" } }])).toEqual({ note: "b", kind: "crazing" });
  });
});

describe("sameValue", () => {
  test.each([
    [1, 1, true], [1, 2, false], [null, null, true], [null, {}, false], [[1, 2], [1, 2], true], [[1, 2], [2, 1], false],
    [{ a: 1, b: [2] }, { b: [2], a: 1 }, true], [{ a: 1 }, { a: 1, b: undefined }, false], [[], {}, false], ["1", 1, false],
  ])("%o and %o: %s", (one, other, same) => expect(sameValue(one, other)).toBe(same));
});
