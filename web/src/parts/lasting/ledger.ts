/** What every finish of the site was seen to stand: put together once per state of the rows it follows from. */
import { computed } from "@preact/signals";
import type { Followed } from "../../model/lasting/follow";
import { follow } from "../../model/lasting/follow";
import { type Gathered, kindVerdicts, sideOf } from "../../model/lasting/gather";
import { type Due, type Panel, duePanels, triedMixes } from "../../model/lasting/due";
import { dayOf } from "../../model/storm/limits";
import type { Elevation, Finish, Id, RowType, Rows, Score, Structure } from "../../model/types";
import { catalogue, nowIso, row, table } from "../../store";
import { defectsOf, finishesOf, readingsOf } from "../../store/lookup";
import { faceDose } from "./dose";

export type Entry = { finish: Finish; elevation: Elevation; structure: Structure | undefined; followed: Followed; rows: Gathered };

const all = <T extends RowType>(type: T): Rows[T][] => [...table(type).value.values()];

export const today = (): string => dayOf(nowIso());

/** The rows of one side, as the sums take them. */
export function gatheredOf(elevation: Elevation): Gathered {
  return {
    elevation, finishes: finishesOf(elevation.id), scores: all("score"), surveys: all("survey"), steps: all("step"), storms: all("storm"),
    defects: defectsOf(elevation.id).map((defect) => ({ defect, readings: readingsOf(defect.id) })), dose: faceDose, day: dayOf,
  };
}

/** Every finish, side by side as the walls are named. */
export const ledger = computed((): readonly Entry[] => {
  const verdicts = kindVerdicts(catalogue.value?.lasting);
  return all("elevation").flatMap((elevation): Entry[] => {
    const finishes = finishesOf(elevation.id);
    if (!finishes.length) return [];
    const rows = gatheredOf(elevation);
    const structure = row("structure", elevation.structure_id);
    return follow(sideOf(rows), verdicts).flatMap((followed, i) => (finishes[i] ? [{ finish: finishes[i], elevation, structure, followed, rows }] : []));
  });
});

export const entryOf = (finish: Id): Entry | undefined => ledger.value.find((one) => one.finish.id === finish);

const panels = computed((): Panel[] => ledger.value.filter((one) => one.finish.sample_panel).map(({ finish, followed, structure }) => ({ finish, followed, structure: structure?.id ?? null })));

export function dueToday(): Due[] {
  const rules = catalogue.value?.lasting?.panels;
  return rules ? duePanels(panels.value, all("storm"), today(), rules) : [];
}

/** Mixes tried on the walls of a structure: enough panels, looked at, none of these let go. Null while the rules have not come. */
export function triedOn(structure: Id | null | undefined): string[] | null {
  const rules = catalogue.value?.lasting?.panels;
  return rules ? triedMixes(panels.value, structure ?? null, rules.needed) : null;
}

/** The score sheets of a finish, oldest first. */
export const scoresOf = (finish: Id): Score[] => all("score").filter((one) => one.finish_id === finish).sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.id < b.id ? -1 : 1));
