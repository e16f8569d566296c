/** Walking the list: the survey that goes with a storm, begun at the first tick, and the sides looked at all over. */
import { dayOf } from "../../../model/storm/limits";
import type { Id, Storm, Survey } from "../../../model/types";
import { nowIso, put, row, setSettings } from "../../../store";
import { runningSurvey, surveysAfter } from "../seen";

/** The survey that ticks go into: the one running here if it follows this storm, else today's after it. */
export function surveyFor(storm: Storm): Survey | undefined {
  const running = runningSurvey();
  if (running?.storm_id === storm.id) return running;
  return surveysAfter(storm.id).find((one) => one.on === dayOf(nowIso()));
}

/** Begin the survey after this storm, or go on with it on this phone. */
export async function walk(storm: Storm): Promise<Id> {
  const found = surveyFor(storm);
  const id = found?.id ?? await put("survey", null, { on: dayOf(nowIso()), storm_id: storm.id });
  await setSettings({ currentSurvey: id });
  return id;
}

// One tick after the other, so that a second one sees the list the first one left.
let before: Promise<unknown> = Promise.resolve();

/** Note a side as looked at all over, or take that back. */
export function tick(storm: Storm, elevation: Id, looked: boolean): Promise<void> {
  const now = before.then(async () => {
    const id = await walk(storm);
    const survey = row("survey", id);
    const others = (survey?.elevation_ids ?? []).filter((one) => one !== elevation);
    await put("survey", id, { elevation_ids: looked ? [...others, elevation] : others }, survey?.rev ?? 0);
  });
  before = now.catch(() => undefined);
  return now;
}
