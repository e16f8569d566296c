/** What a storm drove onto each side, and where to look first, looked up for the screens. */
import { type Ranked, type Side, lookFirst } from "../../../model/storm/look_first";
import { type Told, type ToldDose, partsOf, toldDose, upright } from "../../../model/storm/told";
import { convert } from "../../../model/units";
import type { Elevation, Id, Storm, Structure, Survey } from "../../../model/types";
import { catalogue, row, table } from "../../../store";
import { defectsOf, standingFinishes, structureOf, ticketsOf } from "../../../store/lookup";
import { isClosed, judged, ticketState } from "../../../parts/judged";
import { t } from "../../../words";
import { isUs, showBearing, showNumber } from "../../../words/measures";

/** Litres per square metre are millimetres of water; in US measures inches. */
export const doseNumber = (l_m2: number): string => (isUs() ? showNumber(convert(l_m2, "mm", "in"), 2) : showNumber(l_m2, l_m2 < 10 ? 1 : 0));
export const doseUnit = (): string => (isUs() ? "in" : "L/m²");
export const showDose = (l_m2: number): string => `${doseNumber(l_m2)}\u00a0${doseUnit()}`;

/** A dose with its range, its unit left to what stands above or after it. */
export function doseFigures(dose: ToldDose | null): string {
  if (!dose) return t("rain_not_reckoned");
  const likely = doseNumber(dose.likely);
  if (dose.missing_h > 0) return t("rain_at_least", { dose: likely });
  return dose.by === "hours" ? likely : t("rain_about", { dose: likely, low: doseNumber(dose.low), high: doseNumber(dose.high) });
}

export const doseWords = (dose: ToldDose | null): string => (dose ? `${doseFigures(dose)}\u00a0${doseUnit()}` : doseFigures(dose));

/** Where a side faces; of a round one, that its rain is that on its worst part. */
export function facesWords({ surface, bearing_deg }: Elevation): string {
  return surface.kind === "flat" ? showBearing(bearing_deg) : t("rain_round", { point: showBearing(bearing_deg) });
}

export type SideRow = { elevation: Elevation; structure: Structure | undefined; name: string; dose: ToldDose | null };

/** A flat wall as it faces, upright, as the sums of what lasted take it; a round one as its worst sector. */
function sideDose(elevation: Elevation, storm: Told): ToldDose | null {
  if (elevation.surface.kind === "flat") return toldDose(storm, upright(elevation.bearing_deg));
  const doses = partsOf(elevation.surface, elevation.bearing_deg, 1).map((part) => toldDose(storm, upright(part.face.bearing_deg)));
  return doses.reduce((worst, one) => (one && (!worst || one.likely > worst.likely) ? one : worst), null);
}

/** Every side that stands, the most driven rain first. */
export function sidesBy(storm: Told): SideRow[] {
  const rows = [...table("elevation").value.values()].map((elevation) => {
    const structure = structureOf(elevation);
    return { elevation, structure, name: t("storms_wall", { structure: structure?.name ?? "", elevation: elevation.name }), dose: sideDose(elevation, storm) };
  });
  return rows.sort((a, b) => (b.dose?.likely ?? -1) - (a.dose?.likely ?? -1) || a.name.localeCompare(b.name));
}

function sideOf({ elevation, name, dose }: SideRow): Side {
  const open = defectsOf(elevation.id).filter((one) => !isClosed(one));
  const tickets = new Map(defectsOf(elevation.id).flatMap((one) => ticketsOf(one.id)).map((one) => [one.id, one]));
  return {
    id: elevation.id, name, dose_l_m2: dose?.likely ?? null, bare: standingFinishes(elevation.id).length === 0,
    openings: (elevation.openings ?? []).map((one) => one.kind), tickets: [...tickets.values()].map(ticketState),
    defects: open.map((one) => ({ kind: one.kind, urgency: judged(one)?.urgency ?? null })),
  };
}

export type Walk = { side: SideRow; ranked: Ranked };

/** The walking list after a storm; null while its rules have not come. */
export function walkAfter(storm: Storm): Walk[] | null {
  const rules = catalogue.value?.look_first;
  if (!rules) return null;
  const sides = new Map(sidesBy(storm).map((one) => [one.elevation.id, one]));
  return lookFirst([...sides.values()].map(sideOf), rules).flatMap((ranked) => {
    const side = sides.get(ranked.id);
    return side ? [{ side, ranked }] : [];
  });
}

export const lookedAt = (survey: Survey | undefined): ReadonlySet<Id> => new Set(row("survey", survey?.id)?.elevation_ids ?? []);
