import { expect, test } from "vitest";
import { listForAll, listsOf } from "./lists";
import type { Block, Plan } from "./shapes";

const block = (worker: number, job: string, from_h: number): Block => ({ worker, job, visit: 0, from_h, to_h: from_h + 1 });
const day = (on: string, blocks: Block[]) => ({ on, blocks, batches: [], waits: [], cautions: [] });
const plan: Plan = {
  days: [day("2026-05-01", [block(0, "a", 0), block(0, "b", 1), block(1, "c", 0.5)]), day("2026-05-09", [block(1, "a", 0)])],
  left_out: [], goes_on: [],
};
const withEngineer: Plan = { ...plan, left_out: [{ job: "e", code: "engineer_first" }, { job: "m", code: "no_size" }, { job: "w", code: "wall_wet" }] };
const crew = ["Ada", "Ben", "Cleo"].map((person) => ({ person, hours: 6, skills: [] }));

test("each person gets their own tickets once, and what nobody touches", () => {
  expect(listsOf(withEngineer, crew)).toEqual([{ person: "Ada", ticket_ids: ["a", "b", "m", "e"] }, { person: "Ben", ticket_ids: ["c", "a", "m", "e"] }]);
});

test("the list for all goes by the time the work begins", () => {
  expect(listForAll(plan)).toEqual(["a", "c", "b"]);
  expect(listForAll(withEngineer)).toEqual(["a", "c", "b", "m", "e"]);
});

test("what nobody has measured can be handed out without a plan; what only an engineer may see cannot", () => {
  expect(listForAll({ ...withEngineer, days: [] })).toEqual(["m", "e"]);
  expect(listForAll({ ...withEngineer, days: [], left_out: [{ job: "e", code: "engineer_first" }] })).toEqual([]);
});
