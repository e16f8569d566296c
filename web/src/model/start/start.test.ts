import { describe, expect, test } from "vitest";
import { type Counts, newestOf, startOf } from "./start";

const NOTHING: Counts = { elevations: 0, defects: 0, tickets: 0, steps: 0, storms: 0 };

describe("the first three steps", () => {
  test.each([
    ["an empty site", {}, [], "wall"],
    ["a wall", { elevations: 1 }, ["wall"], "defect"],
    ["a wall and a defect", { elevations: 1, defects: 1 }, ["wall", "defect"], "ticket"],
    ["all three", { elevations: 1, defects: 1, tickets: 1 }, ["wall", "defect", "ticket"], null],
    ["a storm before the first wall", { storms: 2 }, [], "wall"],
    ["many walls and defects without a ticket", { elevations: 9, defects: 80, storms: 1 }, ["wall", "defect"], "ticket"],
    ["a wall that was deleted after its ticket was opened", { tickets: 1 }, ["ticket"], "wall"],
  ] as const)("%s", (_name, counts, done, next) => {
    expect(startOf({ ...NOTHING, ...counts })).toEqual({ done, next });
  });

  test.each([
    ["a second ticket", { tickets: 2 }],
    ["work on the first ticket", { steps: 1 }],
    ["a storm after the first ticket", { storms: 1 }],
  ])("outgrown by %s", (_name, counts) => {
    expect(startOf({ elevations: 1, defects: 1, tickets: 1, steps: 0, storms: 0, ...counts })).toBeNull();
  });
});

test("the newest row is the one made last, whatever the order", () => {
  const rows = [{ id: "a", made_at: "2026-03-01T10:00:00Z" }, { id: "c", made_at: "2026-03-02T10:00:00Z" }, { id: "b", made_at: "2026-03-02T10:00:00Z" }];
  expect(newestOf(rows)?.id).toBe("c");
  expect(newestOf([...rows].reverse())?.id).toBe("c");
  expect(newestOf([])).toBeNull();
});
