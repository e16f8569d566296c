import { expect, test } from "vitest";
import { type Gone, comesBack, deeds } from "./kin";

const at = "2026-11-10T10:00:00.000Z";
const gone = (type: Gone["type"], id: string, fields: Record<string, unknown> = {}, when = at): Gone => ({ type, id, fields, at: when });
const barn = gone("structure", "barn");
const north = gone("elevation", "north", { structure_id: "barn" });
const crack = gone("defect", "crack", { elevation_id: "north" });
const gale = gone("storm", "gale");
const ids = (rows: readonly Gone[]) => rows.map((one) => one.id);

test("what went with a wall stands under it, and comes back with it, the wall first", () => {
  const found = deeds([crack, gale, north, barn]);
  expect(ids(found.map((one) => one.row))).toEqual(["gale", "barn"]);
  const deed = found.find((one) => one.row === barn);
  expect(deed && ids(comesBack(deed, [crack, gale, north, barn]))).toEqual(["barn", "north", "crack"]);
});

test("what was deleted before its wall stands by itself, and brings back what it stands on, but nothing else of that", () => {
  const early = gone("defect", "early", { elevation_id: "north" }, "2026-11-01T10:00:00.000Z");
  const all = [barn, north, crack, early];
  const found = deeds(all);
  expect(ids(found.map((one) => one.row))).toEqual(["barn", "early"]);
  const deed = found.find((one) => one.row === early);
  expect(deed && ids(comesBack(deed, all))).toEqual(["barn", "north", "early"]);
});
