import { describe, expect, test } from "vitest";
import type { Reading, Survey } from "../types";
import { dayOf } from "./limits";
import { countKinds, firstSeenIn, foundIn, stillToLook, tally } from "./survey";

const read = (id: string, at: string, survey_id: string | null, sizes: Partial<Reading> = {}): Reading => ({
  id, at, survey_id, site_id: "s", rev: 1, made_at: at, made_by: "Robin", defect_id: "d", mark: null, area_m2: null, length_m: null,
  depth_mean_mm: null, depth_max_mm: null, crack_width_mm: null, count: null, state: null, note: null, ...sizes,
});
const MARCH = read("a", "2031-03-12T09:00:00Z", "march", { area_m2: 1 });
const MAY = read("b", "2031-05-24T09:00:00Z", "may", { area_m2: 2 });
const JULY = read("c", "2031-07-24T09:00:00Z", "july", { area_m2: 2 });

describe("what a survey found of a defect", () => {
  test("its first reading is new, also seen from years later", () => {
    expect(foundIn("march", [JULY, MAY, MARCH])?.growth?.state).toBe("new");
  });

  test("later readings do not count: grown in May, held in July", () => {
    expect(foundIn("may", [MARCH, MAY, JULY])?.growth?.state).toBe("grown");
    expect(foundIn("july", [MARCH, MAY, JULY])?.growth?.state).toBe("held");
  });

  test("two looks in one survey are one: a new defect stays new", () => {
    const again = read("a2", "2031-03-12T15:00:00Z", "march", { depth_max_mm: 12 });
    expect(foundIn("march", [MARCH, again])?.growth?.state).toBe("new");
  });

  test("two looks in one survey give their answers together", () => {
    const deeper = read("b2", "2031-05-24T15:00:00Z", "may", { depth_max_mm: 12 });
    expect(foundIn("may", [MARCH, MAY, deeper])?.growth?.changes.area_m2).toMatchObject({ before: 1, now: 2 });
  });

  test("looked at without a number or a word says nothing; not looked at is another thing", () => {
    expect(foundIn("may", [MARCH, read("b", "2031-05-24T09:00:00Z", "may")])).toEqual({ growth: null });
    expect(foundIn("june", [MARCH, MAY])).toBeNull();
  });

  test("tally counts each state once", () => {
    const looked = foundIn("may", [MARCH, read("b", "2031-05-24T09:00:00Z", "may")]);
    const found = [foundIn("march", [MARCH]), foundIn("may", [MARCH, MAY]), foundIn("may", [MARCH, MAY]), looked].filter((one) => one !== null);
    expect(tally(found)).toEqual({ new: 1, grown: 2, held: 0, repaired: 0, looked: 1 });
  });
});

describe("first seen, and still to look at", () => {
  const survey = (made_at: string, on: string): Survey => ({ id: "may", site_id: "s", rev: 1, made_at, made_by: "Robin", on, storm_id: null, note: null });
  const sameDay = survey("2031-05-24T08:00:00Z", dayOf("2031-05-24T08:00:00Z"));
  const defect = { made_at: "2031-05-24T07:00:00Z" };

  test("the survey of the earliest reading saw it first, in whatever order they came", () => {
    expect(firstSeenIn(new Set(["march"]), [MAY, MARCH])).toBe(true);
    expect(firstSeenIn(new Set(["may", "july"]), [MAY, MARCH])).toBe(false);
    expect(firstSeenIn(new Set(["may"]), [])).toBe(false);
  });

  test("known before and without a reading in it", () => {
    expect(stillToLook(sameDay, defect, [MARCH])).toBe(true);
    expect(stillToLook(sameDay, defect, [MARCH, MAY])).toBe(false);
    expect(stillToLook(sameDay, defect, [JULY])).toBe(false);
  });

  test("known from the morning of the same day, or without any reading", () => {
    expect(stillToLook(sameDay, defect, [read("x", "2031-05-24T07:30:00Z", "dawn")])).toBe(true);
    expect(stillToLook(sameDay, defect, [read("x", "2031-05-24T08:30:00Z", null)])).toBe(false);
    expect(stillToLook(sameDay, defect, [])).toBe(true);
  });

  test("a survey written up later began with its day", () => {
    const late = survey("2031-06-02T20:00:00Z", "2031-05-24");
    expect(stillToLook(late, defect, [read("x", "2031-05-30T12:00:00Z", null)])).toBe(false);
    expect(stillToLook(late, defect, [MARCH])).toBe(true);
  });
});

test("kinds are counted, most first, the unnamed last among equals", () => {
  const kinds = ["spalling", null, "washout", "spalling"].map((kind) => ({ kind }));
  expect(countKinds(kinds)).toEqual([{ kind: "spalling", n: 2 }, { kind: "washout", n: 1 }, { kind: null, n: 1 }]);
});
