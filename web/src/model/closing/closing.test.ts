import { describe, expect, it } from "vitest";
import type { Step, Storm, TicketState } from "../types";
import { type Counted, burnDown, overdue, totals } from "./board";
import { type Look, isOwnWork, lacks, lacksAgain, lastDone, pointsOf } from "./closing";
import { comparedWith } from "./compare";
import { newSteps } from "./hands";
import { type Job, ownFigures } from "./own_figures";
import { lastLook, nextLook, recheckDue, stormSince } from "./recheck";
import ticketStates from "../../../../shared/ticket_states.json";
import vocabulary from "../../../../shared/vocabulary.json";
import methods from "../../../../shared/methods.json";
import type { TicketStates } from "../ticket";

const STATES = ticketStates as unknown as TicketStates;
let count = 0;
const step = (kind: Step["kind"], day: string, more: Partial<Step> = {}): Step => ({
  id: `s${++count}`, site_id: "site", rev: 1, made_at: `${day}T09:00:00.000Z`, made_by: "Ada", ticket_id: "t", kind, at: `${day}T09:00:00.000Z`, used: null,
  batches: null, area_m2: null, thickness_mm: null, checks: null, own_work: null, storm_id: null, note: null, ...more,
});
const storm = (id: string, began_on: string): Storm => ({ id, name: id, began_on }) as Storm;
const LOOK: Look = {
  by: "Ben", done_by: "Ada", own_work: false, may_own_work: false, photos: 1, cured_on: "2026-11-20", today: "2026-11-25", points: ["tap", "edges"],
  answers: { tap: "ok", edges: "ok" },
};

describe("the second look", () => {
  it("closes with nothing lacking", () => expect(lacks(LOOK)).toEqual([]));
  it("is for somebody else", () => {
    expect(lacks({ ...LOOK, by: "Ada" })).toEqual(["own_work"]);
    expect(isOwnWork({ by: "Ada", done_by: "Ada" })).toBe(true);
  });
  it("lets a keeper check their own work only if they say so", () => {
    expect(lacks({ ...LOOK, by: "Ada", may_own_work: true })).toEqual(["own_work"]);
    expect(lacks({ ...LOOK, by: "Ada", may_own_work: true, own_work: true })).toEqual([]);
    expect(lacks({ ...LOOK, by: "Ada", own_work: true })).toEqual(["own_work"]);
  });
  it("waits for the cure, to the day", () => {
    expect(lacks({ ...LOOK, today: "2026-11-19" })).toEqual(["curing"]);
    expect(lacks({ ...LOOK, today: "2026-11-20" })).toEqual([]);
    expect(lacks({ ...LOOK, cured_on: null })).toEqual([]);
  });
  it("wants a photo and every point", () => {
    expect(lacks({ ...LOOK, photos: 0, answers: { tap: "ok", edges: "not_looked" } })).toEqual(["photo", "points"]);
  });
  it("says not sound rather than unfinished when a point failed", () => {
    expect(lacks({ ...LOOK, answers: { tap: "not_ok" } })).toEqual(["not_sound"]);
    expect(lacksAgain({ ...LOOK, photos: 0, by: "Ada", answers: { tap: "not_ok", edges: "ok" } })).toEqual(["not_sound"]);
  });
  it("asks every method for at least one point", () => {
    for (const id of Object.keys(methods.methods)) {
      const points = pointsOf(id, vocabulary.checks);
      expect(points.length, id).toBeGreaterThan(0);
    }
    expect(pointsOf(null, vocabulary.checks)).toEqual(["cracks", "nothing_new"]);
  });
  it("names only methods that there are", () => {
    const known = Object.keys(methods.methods);
    expect(vocabulary.checks.flatMap((one) => one.methods).filter((one) => !known.includes(one))).toEqual([]);
  });
  it("finds who did it last", () => expect(lastDone([step("done", "2026-01-01"), step("reopened", "2026-01-02"), step("done", "2026-01-03")])?.at).toContain("01-03"));
});

describe("looking again", () => {
  const closed = [step("done", "2026-03-01"), step("checked", "2026-03-05")];
  it("is due after a storm that came later", () => {
    const storms = [storm("old", "2026-02-01"), storm("same day", "2026-03-05"), storm("new", "2026-03-09"), storm("newer", "2026-03-10")];
    expect(stormSince(closed, storms)?.id).toBe("newer");
    expect(recheckDue(closed, storms, "2026-03-06")).toMatchObject({ why: "storm", storm: { id: "newer" } });
    expect(stormSince([...closed, step("rechecked", "2026-03-11")], storms)).toBeNull();
  });
  it("is due a week and a month after it was done, each once", () => {
    expect(nextLook(closed)).toBe("2026-03-08");
    expect(recheckDue(closed, [], "2026-03-07")).toBeNull();
    expect(recheckDue(closed, [], "2026-03-08")).toEqual({ why: "date", on: "2026-03-08" });
    const again = [...closed, step("rechecked", "2026-03-08")];
    expect(nextLook(again)).toBe("2026-03-31");
    expect(nextLook([...again, step("rechecked", "2026-04-02")])).toBeNull();
  });
  it("is not due for what is open", () => {
    const opened = [...closed, step("reopened", "2026-03-06")];
    expect(lastLook(opened)).toBeNull();
    expect(recheckDue(opened, [storm("new", "2026-03-09")], "2026-04-20")).toBeNull();
    expect(lastLook([])).toBeNull();
  });
});

describe("the site's own figures", () => {
  const job = (used_kg: number, laid_mm: number | null = null): Job => ({ used_kg, planned_kg: 100, planned_loss: 0.1, laid_mm, planned_mm: 20 });
  it("say nothing on fewer than three jobs", () => expect(ownFigures([job(110), job(110), job(0)])).toBeNull());
  it("give back the planned loss when all went as planned", () => {
    expect(ownFigures([job(100), job(100), job(100)])?.loss).toBeCloseTo(0.1, 12);
  });
  it("tell loss from thickness where it was measured", () => {
    // Laid 1.2 times as thick with a loss of a fifth: used = planned x 1.2 x 1.2 / 1.1.
    const used = (100 * 1.2 * 1.2) / 1.1;
    const found = ownFigures([job(used, 24), job(used, 24), job(used, 24)]);
    expect(found?.thickness_factor).toBeCloseTo(1.2, 12);
    expect(found?.loss).toBeCloseTo(0.2, 12);
  });
  it("stay within what can be", () => {
    expect(ownFigures([job(1000), job(1000), job(1000)])?.loss).toBe(0.6);
    expect(ownFigures([job(10), job(10), job(10)])?.loss).toBe(0);
  });
  it("weigh jobs by their size", () => {
    const found = ownFigures([job(110), job(110), { ...job(1320), planned_kg: 1000 }]);
    expect(found?.used_over_planned).toBeCloseTo(1540 / 1200, 12);
  });
  it("compare only what both sides tell by mass", () => {
    const need = (unit: "kg" | "l", amount: number) => ({ unit, amount: { low: amount, likely: amount, high: amount } });
    const planned = { sand: need("kg", 40), lime: need("kg", 10), water: need("l", 9) } as never;
    expect(comparedWith({ sand: { kg: 44 }, water: { l: 12 }, hair: { kg: 1 } }, planned)).toEqual({ used_kg: 44, planned_kg: 40 });
    expect(comparedWith({ water: { l: 12 } }, planned)).toBeNull();
    expect(comparedWith(null, planned)).toBeNull();
  });
});

describe("the board", () => {
  const at = (state: TicketState, urgency: Counted["urgency"], opened_on: string, steps: Step[] = [], area_m2 = 1): Counted => ({ id: "t", urgency, opened_on, area_m2, steps, state });
  it("knows what is late", () => {
    expect(overdue(at("open", "make_safe_now", "2026-11-20"), "2026-11-21", [])).toBeNull();
    expect(overdue(at("open", "make_safe_now", "2026-11-20"), "2026-11-22", [])).toBe("safe_now");
    expect(overdue(at("taken", "before_next_rain", "2026-11-20"), "2026-11-25", ["2026-11-19"])).toBeNull();
    expect(overdue(at("taken", "before_next_rain", "2026-11-20"), "2026-11-25", ["2026-11-22"])).toBe("rained_on");
    expect(overdue(at("open", "this_season", "2026-01-01"), "2026-11-25", [])).toBe("season");
    expect(overdue(at("open", "keep_watch", "2020-01-01"), "2026-11-25", ["2026-01-01"])).toBeNull();
    expect(overdue(at("done", "make_safe_now", "2026-01-01", [step("done", "2026-11-20")]), "2026-11-25", [])).toBeNull();
    expect(overdue(at("done", "keep_watch", "2026-01-01", [step("done", "2026-11-01")]), "2026-11-25", [])).toBe("second_look");
    expect(overdue(at("checked", "make_safe_now", "2020-01-01"), "2026-11-25", [])).toBeNull();
  });
  it("adds up what is open, closed and was opened again", () => {
    const all = [at("open", "keep_watch", "2026-01-01", [step("reopened", "2026-01-02")], 2), at("checked", "keep_watch", "2026-01-01", [], 3), at("done", "keep_watch", "2026-01-01", [], 4)];
    expect(totals(all)).toEqual({ open: { tickets: 2, area_m2: 6 }, closed: { tickets: 1, area_m2: 3 }, reopened: { tickets: 1, area_m2: 2 } });
  });
  it("burns down and up again", () => {
    const steps = [step("done", "2026-11-08"), step("checked", "2026-11-10"), step("reopened", "2026-11-24")];
    const weeks = burnDown([at("open", "keep_watch", "2026-11-05", steps, 2)], STATES, "2026-11-25", 4);
    expect(weeks.map((week) => [week.ends_on, week.open.area_m2])).toEqual([["2026-11-04", 0], ["2026-11-11", 0], ["2026-11-18", 0], ["2026-11-25", 2]]);
  });
  it("counts a ticket from the day it was opened", () => {
    const weeks = burnDown([at("open", "keep_watch", "2026-11-11", [], 2)], STATES, "2026-11-18", 3);
    expect(weeks.map((week) => week.open.tickets)).toEqual([0, 1, 1]);
  });
});

describe("changed hands", () => {
  it("tells each step of others once, and none of one's own", () => {
    const [mine, theirs, later] = [step("taken", "2026-01-01"), step("done", "2026-01-02", { made_by: "Ben" }), step("checked", "2026-01-03", { made_by: "Ben" })];
    const known = new Set<string>();
    expect(newSteps(known, [mine, theirs], "Ada")).toEqual([theirs]);
    expect(newSteps(known, [mine, theirs, later], "Ada")).toEqual([later]);
    expect(newSteps(known, [mine, theirs, later], "Ada")).toEqual([]);
  });
});
