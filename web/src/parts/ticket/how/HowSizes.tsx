/** The first steps of an estimate: true size, the band cut back round it, and the depth to fill. */
import type { Method } from "../../../model/catalogue";
import { coatsFor, thicknessTotalMm } from "../../../model/materials/coats";
import type { Part, Repair } from "../../../model/repair/repair";
import { catalogue, row } from "../../../store";
import { t } from "../../../words";
import { showArea, showMetres, showMm } from "../../../words/measures";
import { defectLabel } from "../../judged";
import { Source, Step } from "./HowSteps";

type Props = { repair: Repair; method: Method };

const labelOf = (part: Part): string => {
  const defect = row("defect", part.defect_id);
  return defect ? defectLabel(defect) : "";
};

function sizeWords(part: Part): string {
  const { size, job } = part;
  const mark = labelOf(part);
  if (size.as_drawn_m2 !== null && size.area_m2 !== null) return t("how_size_drawn", { mark, area: showArea(size.area_m2), drawn: showArea(size.as_drawn_m2) });
  if (size.area_m2 !== null) return t("how_size_given", { mark, area: showArea(size.area_m2) });
  if (size.length_m !== null) return t("how_size_length", { mark, length: showMetres(size.length_m) });
  if (job.count) return t("how_size_count", { mark, n: job.count });
  return t("how_size_unknown", { mark });
}

function bandWords(part: Part): string {
  const { estimate, job } = part;
  const words = { mark: labelOf(part), mm: showMm(estimate.margin_mm), band: showArea(estimate.margin_area_m2), coated: showArea(estimate.coated_area_m2) };
  if (job.perimeter_m == null) return t("how_band_circle", words);
  return t("how_band", { ...words, perimeter: showMetres(job.perimeter_m) });
}

/** What of the depth is left after the coats; null where nothing is filled. */
function depthWords(part: Part, method: Method): string | null {
  const mixes = catalogue.value?.mixes ?? {};
  const depth_mm = part.job.depth_mean_mm ?? part.job.depth_max_mm ?? 0;
  const coats_mm = thicknessTotalMm(coatsFor(part.job, method), mixes);
  if (!method.dub_out_mix || part.estimate.area_m2 === 0) return null;
  const mark = labelOf(part);
  if (depth_mm === 0) return t("how_depth_unknown", { mark });
  const left_mm = Math.max(0, depth_mm - coats_mm);
  const words = { mark, depth: showMm(depth_mm), coats: showMm(coats_mm), left: showMm(left_mm) };
  if (left_mm === 0) return t("how_depth_none", words);
  return t(left_mm > method.dub_out_over_mm ? "how_depth_fill" : "how_depth_with", words);
}

export function HowSizes({ repair, method }: Props) {
  const bands = repair.parts.filter((part) => part.estimate.margin_area_m2 > 0);
  const depths = repair.parts.map((part) => depthWords(part, method)).filter((words) => words !== null);
  return (
    <>
      <Step title={t("how_size_title")}>
        {repair.parts.map((part) => <p key={part.defect_id}>{sizeWords(part)}</p>)}
        <Source basis="derived" source={t("how_size_source")} />
      </Step>
      {bands.length > 0 ? (
        <Step title={t("how_band_title")}>
          {bands.map((part) => <p key={part.defect_id}>{bandWords(part)}</p>)}
          <Source basis="derived" source={t("how_band_source")} />
        </Step>
      ) : null}
      {depths.length > 0 ? (
        <Step title={t("how_depth_title")}>
          {depths.map((words) => <p key={words}>{words}</p>)}
        </Step>
      ) : null}
    </>
  );
}
