import { describe, expect, test } from "vitest";
import { Refusal } from "../refusal";
import table from "../../../../shared/urgency.json";
import { URGENCIES } from "../urgency";
import { ANYBODY } from "./hours";
import { byTurn, turnOf } from "./order";
import type { Job } from "./shapes";
import { planWork } from "./workDay";

const METHODS = ["cover", "dry_and_brush", "patch_coat"];
const MADE = "2026-11-20T08:00:00.000Z";

const ticket = (method: string | null, number: number | null, made_at = MADE) => ({ method, number, made_at });
const turn = (...given: Parameters<typeof ticket>) => turnOf(ticket(...given), METHODS);
const job = (id: string, fields: Partial<Job> = {}): Job => ({
  id, urgency: "this_season", turn: 0, wall: "Barn · north", place: "", left_out: null, wall_dry: null, wet_on: null, covered: false, visits: [], ...fields,
});
const inOrder = (...jobs: Job[]) => [...jobs].sort(byTurn).map(({ id }) => id);

describe("a ticket's place on its wall", () => {
  test("by method in the order of the catalogue, whatever the numbers are", () => {
    expect(turn("cover", 900_000)).toBeLessThan(turn("dry_and_brush", 1));
    expect(turn("dry_and_brush", 900_000)).toBeLessThan(turn("patch_coat", 1));
  });

  test("within a method by number, those not sent yet last and by the time they were made", () => {
    expect(turn("cover", 2)).toBeLessThan(turn("cover", 10));
    expect(turn("cover", 900_000)).toBeLessThan(turn("cover", null));
    expect(turn("cover", null, "2026-11-20T08:00:00.000Z")).toBeLessThan(turn("cover", null, "2026-11-20T08:00:00.001Z"));
    expect(turn("cover", null, "2100-01-01T00:00:00.000Z")).toBeLessThan(turn("dry_and_brush", 1));
  });

  test("a method the catalogue does not know comes before the first one it knows, never among others", () => {
    expect(turn("from_a_newer_server", null)).toBeLessThan(turn("cover", 1));
    expect(turn(null, null)).toBe(turn("from_a_newer_server", null));
  });
});

describe("the order of a plan", () => {
  test("urgencies stand as in the table", () => {
    expect(URGENCIES).toEqual(table.order);
  });

  test("urgency goes before the wall, the wall before the method, the method before the number", () => {
    const patch = (id: string, number: number, fields: Partial<Job> = {}) => job(id, { turn: turn("patch_coat", number), ...fields });
    const brush = (id: string, number: number, fields: Partial<Job> = {}) => job(id, { turn: turn("dry_and_brush", number), ...fields });
    expect(inOrder(
      patch("north patch 1", 1), brush("north brush 4", 4), patch("north patch 3", 3), brush("north brush 2", 2),
      patch("south now", 9, { urgency: "make_safe_now", wall: "Barn · south" }), brush("south later", 5, { wall: "Barn · south" }),
      brush("north watch", 6, { urgency: "keep_watch" }), brush("south rain", 7, { urgency: "before_next_rain", wall: "Barn · south" }),
    )).toEqual([
      "south now", "south rain", "north brush 2", "north brush 4", "north patch 1", "north patch 3", "south later", "north watch",
    ]);
  });

  test("the same on every phone, in whatever order the rows came", () => {
    const same = ["c", "a", "b"].map((id) => job(id));
    expect(inOrder(...same)).toEqual(["a", "b", "c"]);
    expect(inOrder(...[...same].reverse())).toEqual(["a", "b", "c"]);
  });

  test("a plan comes to its tickets in that order", () => {
    const work = [{ kind: "work" as const, skill: ANYBODY, hours: { low: 1, likely: 1, high: 1 }, portions: [], coat: null }];
    const jobs = [
      job("patch", { turn: turn("patch_coat", 1), visits: work }), job("brush", { turn: turn("dry_and_brush", 2), visits: work }),
      job("now", { turn: turn("patch_coat", 3), urgency: "make_safe_now", wall: "Tower", visits: work }),
    ];
    const plan = planWork({ start: "2026-11-27", days: 1, jobs, crew: [{ person: "Ada", hours: 8, skills: [] }], forecast: [], mixes: {}, covers: {} });
    expect(plan.days.flatMap((day) => day.blocks.map((block) => block.job))).toEqual(["now", "brush", "patch"]);
    expect(() => planWork({ start: "soon", days: 1, jobs, crew: [], forecast: [], mixes: {}, covers: {} })).toThrow(Refusal);
  });
});
