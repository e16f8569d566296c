/** Hands the ledger over as a file, without a server. */
import { coverOf } from "../../model/defect";
import { lastedCsv } from "../../model/lasting/exported";
import { currentSite, row } from "../../store";
import { today, type Entry } from "../../parts/lasting/ledger";

/** One line a finish, in words and units that do not change with the device. */
export function tableOf(entries: readonly Entry[]): string {
  const site = row("site", currentSite.value)?.name ?? null;
  return lastedCsv(entries.map(({ finish, elevation, structure, followed }) => ({
    site, building: structure?.name ?? null, side: elevation.name, faces_deg: elevation.bearing_deg, wall_material: structure?.wall_material ?? null, finish: finish.name,
    coats: finish.coats.map((coat) => `${coat.mix} ${coat.thickness_mm} mm`).join("; "), outer_mix: finish.coats.at(-1)?.mix ?? null, cover_mm: coverOf(finish.coats),
    sample_panel: finish.sample_panel ? "yes" : "no", laid_on: finish.made_on, came_off_on: finish.ended_on, followed,
  })));
}

export function saveTable(entries: readonly Entry[]): void {
  const url = URL.createObjectURL(new Blob(["\ufeff", tableOf(entries)], { type: "text/csv;charset=utf-8" }));
  const link = document.createElement("a");
  link.href = url;
  link.download = `lasted-${today()}.csv`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
