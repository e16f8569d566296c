/** What was deleted lately, with what went with it. */
import { deeds } from "../../model/finding/kin";
import { nowIso, type GoneRow } from "../../store";

const WEEKS_MS = 8 * 7 * 86_400_000;

/** The deeds of the last eight weeks, newest first. */
export function recent(gone: readonly GoneRow[]): ReturnType<typeof deeds<GoneRow>> {
  const since = new Date(Date.parse(nowIso()) - WEEKS_MS).toISOString();
  return deeds(gone.filter((one) => one.at > since));
}
