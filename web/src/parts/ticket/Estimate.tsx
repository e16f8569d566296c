/** The estimate on one card: what is laid, what it takes, and the way to how the numbers came about. */
import { nameOf } from "../../model/catalogue";
import type { Repair } from "../../model/repair/repair";
import { catalogue } from "../../store";
import { language, t } from "../../words";
import { showArea, showMm, showPercent, showVolume } from "../../words/measures";
import { rangeWords } from "./amountWords";
import { MaterialTable } from "./MaterialTable";

/** "0.62 m² on the curve, 0.55 as drawn", where the two differ. */
export function areaWords(repair: Repair): string {
  const { area_m2, as_drawn_m2 } = repair;
  if (area_m2 === 0) return "";
  if (Math.abs(area_m2 - as_drawn_m2) < 0.01 * area_m2) return t("area_flat", { area: showArea(area_m2) });
  return t("area_curved", { area: showArea(area_m2), drawn: showArea(as_drawn_m2) });
}

/** "12 + 8 + 4 mm" in the order of laying. */
export function coatsWords(repair: Repair): string {
  const layers = repair.parts[0]?.estimate.layers ?? [];
  return layers.flatMap((layer) => (layer.thickness_mm === null ? [] : [showMm(layer.thickness_mm)])).join(" + ");
}

export function EstimateLines({ repair }: { repair: Repair }) {
  const loss = repair.loss;
  const layers = repair.parts[0]?.estimate.layers ?? [];
  const book = catalogue.value;
  return (
    <>
      {repair.in_place_l.likely > 0 ? (
        <p>
          {t("in_place", { volume: showVolume(repair.in_place_l.likely), loss: showPercent(loss.likely), total: showVolume(repair.with_loss_l.likely) })}{" "}
          <small>{rangeWords(repair.with_loss_l, showVolume)}</small>
        </p>
      ) : null}
      {areaWords(repair) ? <p class="hint">{areaWords(repair)}</p> : null}
      {book && repair.parts.length === 1 && layers.length > 0 ? (
        <p class="hint">{layers.map((layer) => [nameOf(book, "mixes", layer.mix, language()), layer.thickness_mm === null ? "" : showMm(layer.thickness_mm)].filter(Boolean).join(", ")).join(" → ")}</p>
      ) : null}
    </>
  );
}

export function EstimateBody({ repair, past }: { repair: Repair; past?: boolean | undefined }) {
  return <><EstimateLines repair={repair} /><MaterialTable repair={repair} past={past} /></>;
}
