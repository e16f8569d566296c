/** The first steps of the site on the screen, and where each of them is done. */
import { newestOf, startOf, type Start, type StartStep } from "../../model/start/start";
import { currentSite, me, setSettings, settings, table, whole } from "../../store";
import { ticketsOf } from "../../store/lookup";
import { may } from "../may";

const rowsOf = <T extends "elevation" | "defect" | "ticket">(type: T) => table(type).value.values();

/** How far they have come, put away or not; null for who has no part in them, and once the site has outgrown them. */
function startHere(): Start | null {
  if (me.value?.may_found !== true || !whole.value) return null;
  if (currentSite.value && !(may("make", "elevation") && may("make", "defect") && may("make", "ticket"))) return null;
  const [elevations, defects, tickets] = [table("elevation").value.size, table("defect").value.size, table("ticket").value.size];
  return startOf({ elevations, defects, tickets, steps: table("step").value.size, storms: table("storm").value.size });
}

export const isPutAway = (): boolean => settings.value.startAway.includes(currentSite.value ?? "");

export function startNow(): Start | null {
  return isPutAway() ? null : startHere();
}

/** Put away, and not outgrown: worth offering again. */
export const canComeBack = (): boolean => isPutAway() && startHere() !== null;

export async function putAway(away: boolean): Promise<void> {
  const others = settings.value.startAway.filter((one) => one !== currentSite.value);
  await setSettings({ startAway: away && currentSite.value ? [...others, currentSite.value] : others });
}

/** The defect the first ticket is for: the newest that has none. */
export function defectWithoutTicket() {
  const free = [...rowsOf("defect")].filter((one) => ticketsOf(one.id).length === 0);
  return newestOf(free) ?? newestOf(rowsOf("defect"));
}

export const newestWall = () => newestOf(rowsOf("elevation"));

/** Where a step is done. */
export function wayTo(step: StartStep): string {
  if (step === "wall") return "/start";
  if (step === "defect") return `/mark/new?elevation=${newestWall()?.id ?? ""}`;
  return `/ticket/new?defects=${defectWithoutTicket()?.id ?? ""}`;
}

/** Where what a step made is seen. */
export function wayBackTo(step: StartStep): string {
  if (step === "wall") return `/elevation/${newestWall()?.id ?? ""}`;
  if (step === "defect") return `/defect/${newestOf(rowsOf("defect"))?.id ?? ""}`;
  return `/ticket/${newestOf(rowsOf("ticket"))?.id ?? ""}`;
}
