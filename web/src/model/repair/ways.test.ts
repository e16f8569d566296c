import { describe, expect, test } from "vitest";
import table from "../../../../shared/methods.json";
import mixesOf from "../../../../shared/mixes.json";
import type { Method, Mix } from "../catalogue";
import { asLaid, plannedMixes, wayOf } from "./ways";

const methods = table.methods as unknown as Record<string, Method>;
const method = (id: string): Method => methods[id] as Method;
// The server works out the hazards of a mix from its materials; here those with lime are known by their parts.
const limes = new Set(["nhl_2", "nhl_3_5", "nhl_5", "hydrated_lime", "lime_putty", "quicklime"]);
const recipes = mixesOf.mixes as unknown as Record<string, { parts: { material: string }[] }>;
const mixes = Object.fromEntries(Object.entries(recipes).map(([id, one]) => [id, { hazards: one.parts.some((part) => limes.has(part.material)) ? ["lime_burns"] : [] } as unknown as Mix]));

describe("a method in the words of what it lays", () => {
  test.each(Object.keys(methods).filter((id) => method(id).earth))("%s: earth on earth and on a bare wall, its own on lime", (id) => {
    const usual = method(id);
    for (const finish_kind of ["earth", "none"] as const) expect(asLaid(usual, { finish_kind }, [], mixes).words).toEqual(usual.earth?.words);
    expect(asLaid(usual, { finish_kind: "lime" }, [], mixes)).toBe(usual);
  });

  test("own coats decide over the finish, and take the days of their mixes alone; waits of the filling stay", () => {
    const own = [{ mix: "lime_finish", thickness_mm: 4 }];
    const laid = asLaid(method("recob_in_lifts"), { finish_kind: "earth", coats: own }, [], mixes);
    expect(laid.words).toEqual(method("recob_in_lifts").words);
    expect(laid.cure.map((one) => one.wait)).toEqual(["lift", "filling"]);
    expect(asLaid(method("patch_two_coats"), { finish_kind: "lime", coats: own }, [], mixes).cure).toEqual([]);
  });

  test("what is planned is known before any size is; a ticket over both is told as lime", () => {
    expect(plannedMixes({ finish_kind: "earth" }, method("fill_crack"))).toEqual(["earth_filler"]);
    expect(plannedMixes({}, method("fill_crack"))).toEqual(["crack_filler"]);
    expect(plannedMixes({}, method("keep_watch"))).toEqual([]);
    const usual = method("patch_three_coats");
    const [earth, lime] = (["earth", "lime"] as const).map((finish_kind) => asLaid(usual, { finish_kind }, [], mixes));
    expect(wayOf([earth, earth] as Method[], usual)).toBe(earth);
    expect(wayOf([earth, lime] as Method[], usual)).toBe(usual);
    expect(wayOf([], usual)).toBe(usual);
  });

  test("words from a catalogue that has none for earth stay the method's own", () => {
    const { earth: _, ...old } = method("patch_one_coat");
    expect(asLaid(old as Method, { finish_kind: "earth" }, [], mixes)).toBe(old);
  });
});
