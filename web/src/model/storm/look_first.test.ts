import { expect, test } from "vitest";
import shared from "../../../../shared/look_first.json";
import vocabulary from "../../../../shared/vocabulary.json";
import type { LookFirstRules } from "../catalogue";
import { type Side, lookFirst } from "./look_first";

const RULES = shared as unknown as LookFirstRules;
const side = (id: string, more: Partial<Side> = {}): Side => ({ id, name: id, dose_l_m2: 0, bare: false, openings: [], defects: [], tickets: [], ...more });
const order = (sides: Side[]) => lookFirst(sides, RULES).map((one) => one.id);

test("without anything else the rain decides, and the lee comes last", () => {
  expect(order([side("lee"), side("side", { dose_l_m2: 10 }), side("hit", { dose_l_m2: 40 })])).toEqual(["hit", "side", "lee"]);
  const [hit, half] = lookFirst([side("half", { dose_l_m2: 20 }), side("hit", { dose_l_m2: 40 })], RULES);
  expect([hit?.points, half?.points]).toEqual([RULES.dose.points, RULES.dose.points / 2]);
});

test("every reason moves a side up, with its points and its number", () => {
  const weak = { kind: "spalling", urgency: "keep_watch" } as const;
  const reasons: [string, Partial<Side>][] = [
    ["urgent", { defects: [{ kind: "spalling", urgency: "make_safe_now" }] }], ["weak", { defects: [weak] }], ["unfinished", { tickets: ["done"] }],
    ["unfinished", { tickets: ["taken"] }], ["bare", { bare: true }], ["gutter", { openings: ["gutter"] }], ["ledge", { openings: ["ledge"] }],
  ];
  for (const [id, more] of reasons) {
    const [first] = lookFirst([side("a"), side("z", more)], RULES);
    expect(first).toMatchObject({ id: "z", reasons: [{ id, n: 1, points: RULES.reasons[id as keyof typeof RULES.reasons].points }] });
  }
});

test("no reason counts without end", () => {
  const many = Array.from({ length: 50 }, () => ({ kind: "crazing", urgency: "keep_watch" as const }));
  expect(lookFirst([side("a", { defects: many })], RULES)[0]).toMatchObject({ points: RULES.reasons.weak.at_most, reasons: [{ n: 50 }] });
});

test("open and checked tickets, doors and windows are no reason", () => {
  expect(lookFirst([side("a", { tickets: ["open", "checked"], openings: ["door", "window", "niche"] })], RULES)[0]).toMatchObject({ points: 0, reasons: [] });
});

test("a storm that cannot be reckoned leaves the order to the reasons", () => {
  expect(order([side("a", { dose_l_m2: null }), side("b", { dose_l_m2: null, openings: ["ledge"] })])).toEqual(["b", "a"]);
  expect(lookFirst([], RULES)).toEqual([]);
});

test("a wall laid bare by a defect counts as bare, once", () => {
  const bare = lookFirst([side("a", { bare: true, defects: [{ kind: "exposed_substrate", urgency: "keep_watch" }] })], RULES)[0];
  expect(bare?.reasons.find((one) => one.id === "bare")?.points).toBe(RULES.reasons.bare.points);
  const kinds = Object.keys(vocabulary.kinds);
  expect(RULES.bare_kinds.filter((kind) => !kinds.includes(kind) && !JSON.stringify(vocabulary.kinds).includes(`"${kind}"`))).toEqual([]);
});
