import { describe, expect, test } from "vitest";
import erosionVectors from "../../../../shared/vectors/erosion.json";
import ledger from "../../../../shared/vectors/ledger.json";
import turnbull from "../../../../shared/vectors/turnbull.json";
import { Refusal } from "../refusal";
import { type KindVerdicts, type RainOn, type Side, follow } from "./follow";
import { type Measure, curveOf, group } from "./group";
import { intervalCurve } from "./turnbull";
import { type DatedDepth, erosion } from "./wear";

const TOLERANCE = 1e-9;

function same(got: unknown, expected: unknown, where: string): void {
  if (typeof expected === "number" && typeof got === "number") {
    expect(Math.abs(got - expected), where).toBeLessThanOrEqual(TOLERANCE * Math.abs(expected) + 1e-12);
  } else if (expected !== null && typeof expected === "object" && got !== null && typeof got === "object") {
    expect(Object.keys(got).sort(), where).toEqual(Object.keys(expected).sort());
    for (const key of Object.keys(expected)) same((got as never)[key], (expected as never)[key], `${where}.${key}`);
  } else expect(got, where).toEqual(expected);
}

function codeOf(run: () => unknown): string {
  try {
    run();
  } catch (error) {
    return error instanceof Refusal ? error.code : String(error);
  }
  return "nothing refused";
}

describe("ledger.json", () => {
  test.each(ledger.cases.map((one) => [one.name, one] as const))("%s", (name, one) => {
    const side = one.in.side as unknown as Omit<Side, "rain"> & { rain: RainOn[] };
    const rain = Object.fromEntries(side.finishes.map(({ id }) => [id, side.rain]));
    const found = follow({ ...side, rain }, one.in.verdicts as KindVerdicts);
    same(found.map(({ sightings: _sightings, ...rest }) => rest), one.out.finishes, name);
    same(group(found, one.in.measure as Measure), one.out.group, name);
  });

  test("there are at least 40 cases", () => expect(ledger.cases.length).toBeGreaterThanOrEqual(40));
});

type Asked = { intervals: [number, number | null][]; weights: number[] | null; sound_at_left: boolean };

describe("turnbull.json", () => {
  const run = ({ intervals, weights, sound_at_left }: Asked) => intervalCurve(intervals.map(([left, right]) => ({ left, right })), weights, sound_at_left);
  const cases = turnbull.cases as unknown as { name: string; in: Asked; out?: Record<string, unknown>; error?: string }[];

  test.each(cases.map((one) => [one.name, one] as const))("%s", (name, one) => {
    if (one.error) return expect(codeOf(() => run(one.in))).toBe(one.error);
    const { support, mass, followed, failed, too_few } = run(one.in);
    return same({ support: support.map(([a, b]) => [a, b === Infinity ? null : b]), mass, followed, failed, too_few }, one.out, name);
  });

  // C13: with failures seen on the day itself the masses are Kaplan and Meier's steps (6-MP, published).
  test("the 6-MP data through the same curve the page draws", () => {
    const gone = [6, 6, 6, 7, 10, 13, 16, 22, 23].map((at) => ({ left: at, right: at }));
    const sound = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35].map((at) => ({ left: at, right: null }));
    const members = [...gone, ...sound].map((days) => ({ id: "a", verdict: days.right === null ? ("held" as const) : ("let_go" as const), looks: 1, days, l_m2: null, sightings: [] }));
    const curve = curveOf(members, "days");
    const shares = [0.8571, 0.8067, 0.7529, 0.6902, 0.6275, 0.5378, 0.4482];
    expect(curve?.support.slice(0, 7).map(([at]) => at)).toEqual([6, 7, 10, 13, 16, 22, 23]);
    shares.forEach((share, i) => expect(1 - (curve?.mass.slice(0, i + 1).reduce((x, y) => x + y) ?? 0)).toBeCloseTo(share, 4));
    expect(group(members, "days")).toMatchObject({ followed: 21, held: 12, let_go: 9, too_few: false });
  });

  test("no curve on a handful", () => {
    const held = { id: "a", verdict: "held" as const, looks: 1, days: { left: 12, right: null }, l_m2: { left: 12, right: null }, sightings: [] };
    const gone = { ...held, verdict: "let_go" as const, l_m2: { left: 5, right: 9 } };
    expect(curveOf([held, held, held, gone], "l_m2")).toBeNull();
    expect(curveOf([...Array.from({ length: 5 }, () => held), ...Array.from({ length: 5 }, () => gone)], "l_m2")?.mass).toEqual([0.5, 0.5]);
  });
});

describe("erosion.json", () => {
  type Given = { depths: DatedDepth[]; coat_mm: number; last_storm_l_m2: number | null };
  const cases = erosionVectors.cases as unknown as { name: string; in: Given; out?: unknown; error?: string }[];
  const run = ({ depths, coat_mm, last_storm_l_m2 }: Given) => erosion(depths, coat_mm, last_storm_l_m2);

  test.each(cases.map((one) => [one.name, one] as const))("%s", (name, one) => {
    if (one.error) return expect(codeOf(() => run(one.in))).toBe(one.error);
    return same(run(one.in), one.out, name);
  });
});
