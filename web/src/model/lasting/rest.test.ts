import { describe, expect, test } from "vitest";
import type { LastingRules } from "../catalogue";
import type { Defect, Finish, Reading, Storm } from "../types";
import { bareClock } from "./clocks";
import { duePanels, triedMixes } from "./due";
import { cell, lastedCsv } from "./exported";
import type { Followed, Verdict } from "./follow";
import rules from "../../../../shared/lasting.json";
import tried from "../../../../shared/vectors/tried.json";
import { type Standing, daysOfWork, seasonPlan } from "./season";
import { classOf, keyOf, sorted } from "./sort";

const RULES = rules as unknown as LastingRules;
const finish = (fields: Partial<Finish> = {}): Finish => ({
  id: "f", site_id: "s", rev: 1, made_at: "", made_by: "", elevation_id: "e", name: "A", coats: [{ mix: "lime_coat", thickness_mm: 8 }], region: null,
  made_on: "2026-03-01", ended_on: null, sample_panel: true, ticket_id: null, by: null, weather: null, batches: null, sand: null, water: null, cure: null, note: null, ...fields,
});
const followed = (verdict: Followed["verdict"], looks: string[] = [], left = 0): Followed => ({
  id: "f", verdict, looks: looks.length, days: { left: 10, right: verdict === "let_go" ? 20 : null }, l_m2: { left, right: verdict === "let_go" ? left + 9 : null },
  sightings: looks.map((on) => ({ on, verdict: "held" as Verdict, source: "score", id: on })),
});
const storm = (began_on: string): Storm => ({
  id: began_on, site_id: "s", rev: 1, made_at: "", made_by: "", name: began_on, began_on, duration_h: null, rain_mm: null, wind_m_s: null, wind_from_deg: null, gust_m_s: null,
  hail: null, rain_1h_mm: null, rain_24h_mm: null, hours: null, source: null, note: null,
});
const panel = (made_on: string, looks: string[] = [], verdict: Followed["verdict"] = "held", fields: Partial<Finish> = {}) => ({
  finish: finish({ made_on, ...fields }), followed: followed(verdict, looks), structure: "barn",
});

describe("panels that want a look", () => {
  const due = (one: ReturnType<typeof panel>, storms: Storm[], today: string) => duePanels([one], storms, today, RULES.panels).map(({ why }) => why);

  test("a young one each week", () => {
    expect(due(panel("2026-03-01"), [], "2026-03-07")).toEqual([]);
    expect(due(panel("2026-03-01"), [], "2026-03-08")).toEqual(["weekly"]);
    expect(due(panel("2026-03-01", ["2026-03-08"]), [], "2026-03-14")).toEqual([]);
    expect(due(panel("2026-03-01", ["2026-03-08"]), [], "2026-03-15")).toEqual(["weekly"]);
    expect(due(panel("2026-03-01"), [], "2026-03-30")).toEqual([]);
  });

  test("after a storm until it is looked at, and not for ever", () => {
    const old = panel("2025-03-01", ["2026-05-01"]);
    expect(due(old, [storm("2026-05-22")], "2026-05-23")).toEqual(["after_storm"]);
    expect(due(panel("2025-03-01", ["2026-05-22"]), [storm("2026-05-22")], "2026-05-23")).toEqual(["after_storm"]);
    expect(due(panel("2025-03-01", ["2026-05-23"]), [storm("2026-05-22")], "2026-05-24")).toEqual([]);
    expect(due(old, [storm("2026-05-22")], "2026-06-06")).toEqual([]);
    expect(due(panel("2026-05-23"), [storm("2026-05-22")], "2026-05-24")).toEqual([]);
  });

  test("not what let go, came off, or is no panel", () => {
    const storms = [storm("2026-05-22")];
    expect(due(panel("2025-03-01", [], "let_go"), storms, "2026-05-23")).toEqual([]);
    expect(due(panel("2025-03-01", [], "held", { ended_on: "2026-01-01" }), storms, "2026-05-23")).toEqual([]);
    expect(due(panel("2025-03-01", [], "held", { sample_panel: null }), storms, "2026-05-23")).toEqual([]);
  });

  test.each(tried.cases.map((one) => [one.name, one] as const))("tried as the server counts: %s", (_name, { in: { panels, structure, needed }, out }) => {
    const laid = panels.map((one) => ({
      finish: finish({ sample_panel: one.sample_panel, coats: one.mixes.map((mix) => ({ mix, thickness_mm: 8 })) }),
      followed: followed(one.verdict as Followed["verdict"]), structure: one.structure,
    }));
    expect(triedMixes(laid, structure, needed)).toEqual(out.tried);
  });
});

describe("sorts", () => {
  const one = { coats: [{ mix: "a", thickness_mm: 8 }, { mix: "b", thickness_mm: 4 }], wall: "cob", faces_deg: 350 };
  test("keys", () => {
    expect((["coats", "mix", "thickness", "wall", "face"] as const).map((by) => keyOf(one, by, [10, 20]))).toEqual(["a+b", "b", "1", "cob", "0"]);
    expect([9.9, 10, 20, 99].map((mm) => classOf(mm, [10, 20]))).toEqual([0, 1, 2, 2]);
  });
  test("groups keep all", () => {
    const all = [350, 10, 90, 181].map((faces_deg) => ({ ...one, faces_deg }));
    expect(sorted(all, (x) => x, "face", []).map(({ key, members }) => [key, members.length])).toEqual([["0", 2], ["90", 1], ["180", 1]]);
  });
});

describe("the table for others", () => {
  test("no cell is read as a formula, and quotes are doubled", () => {
    expect([cell("=1+1"), cell("+1"), cell("-x"), cell("@a"), cell("\t=1"), cell(" =1")]).toEqual(["'=1+1", "'+1", "'-x", "'@a", "'\t=1", "' =1"]);
    expect([cell('say "no"'), cell("a,b"), cell("a\nb"), cell(-3), cell(null)]).toEqual(['"say ""no"""', '"a,b"', '"a\nb"', "-3", ""]);
  });
  test("one finish a line", () => {
    const text = lastedCsv([{ site: "Farm", building: "Barn", side: "S", faces_deg: 190, wall_material: "cob", finish: "A", coats: "a 8 mm; b 4 mm", outer_mix: "b", cover_mm: 12,
      sample_panel: "yes", laid_on: "2026-03-01", came_off_on: null, followed: followed("let_go", ["x"], 12.3456) }]);
    expect(text.split("\r\n")[1]).toBe("Farm,Barn,S,190,cob,A,a 8 mm; b 4 mm,b,12,yes,2026-03-01,,let_go,1,10,20,12.35,21.35");
  });
});

describe("bag and straw laid bare", () => {
  const defect = (kind: string, signs: string[] = []): Defect => ({ id: "d", site_id: "s", rev: 1, made_at: "2026-03-01T10:00:00Z", made_by: "", number: 1, elevation_id: "e", kind, mark: { view: "seen", shape: "pin", points_m: [[1, 1]] }, cause: null, signs, note: null });
  const reading = (at: string, state: Reading["state"]): Reading => ({ id: at, site_id: "s", rev: 1, made_at: at, made_by: "", defect_id: "d", survey_id: null, at, mark: null, area_m2: null, length_m: null, depth_mean_mm: null, depth_max_mm: null, crack_width_mm: null, count: null, state, note: null });
  const clock = (one: Defect, readings: Reading[], wall: string, today: string) => bareClock(one, readings, wall, RULES.clocks, today, (at) => at.slice(0, 10));
  test("weeks since the first look, and the bounds passed", () => {
    expect(clock(defect("bag_decay"), [reading("2026-03-01T10:00:00Z", "new")], "earthbag", "2026-04-27")).toMatchObject({ weeks: 8, stage: 2, clock: { id: "bag_in_sun" } });
    expect(clock(defect("holes", ["wet_straw"]), [], "straw_bale", "2026-03-09")).toMatchObject({ weeks: 1, stage: 1, clock: { id: "straw_wet" } });
  });
  test("no clock on other walls or once repaired", () => {
    expect(clock(defect("missing_render"), [], "cob", "2026-04-27")).toBeNull();
    expect(clock(defect("bag_decay"), [reading("2026-03-01T10:00:00Z", "new"), reading("2026-04-01T10:00:00Z", "repaired")], "earthbag", "2026-04-27")).toBeNull();
  });
});

describe("the next season", () => {
  const standing = (fields: Partial<Standing> = {}): Standing => ({
    finish: { id: "f", name: "A", sample_panel: false, ended: false, coats: [] }, elevation: "e1", structure: "barn", followed: followed("held", [], 50), mended: false, storms_left: null, breached: false, ...fields,
  });
  const whys = (plan: ReturnType<typeof seasonPlan>) => plan.map((one) => [one.elevation, ...one.reasons.map(({ why }) => why)]);
  test("nothing is due where all holds", () => expect(seasonPlan([standing()], [], [], 2)).toEqual([]));
  test("most pressing first, with a hint from the panels of that building", () => {
    const good = standing({ finish: { id: "p", name: "P", sample_panel: true, ended: false, coats: [] }, elevation: "e9" });
    const all = [standing({ followed: followed("worn") }), standing({ elevation: "e2", followed: followed("let_go") }), standing({ elevation: "e3", storms_left: 1.6 }), good];
    expect(whys(seasonPlan(all, [{ ticket: "t", elevations: ["e3", "e4"], hours: null }], [{ defect: "d", elevation: "e4" }], 2))).toEqual([
      ["e4", "bare", "open"], ["e2", "let_go", "better"], ["e3", "wear", "open", "better"], ["e1", "worn"],
    ]);
  });
  test("what was mended or has come off asks for nothing; without a good panel a trial comes first", () => {
    expect(seasonPlan([standing({ followed: followed("let_go"), mended: true })], [], [], 2)).toEqual([]);
    expect(seasonPlan([standing({ followed: followed("let_go"), finish: { id: "f", name: "A", sample_panel: false, ended: true, coats: [] } })], [], [], 2)).toEqual([]);
    expect(whys(seasonPlan([standing({ breached: true })], [], [], 2))).toEqual([["e1", "let_go", "untested"]]);
    expect(seasonPlan([standing({ breached: true })], [], [], 2)[0]?.without_ticket).toBe(true);
  });
  test("days of work are rounded up, unknown ones are counted apart", () => {
    expect(daysOfWork([{ low: 5, likely: 10, high: 20 }, { low: 1, likely: 3, high: 6 }, null], 2, 6)).toEqual({ hours: { low: 6, likely: 13, high: 26 }, days: 2, unknown: 1 });
  });
});
