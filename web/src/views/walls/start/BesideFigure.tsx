/** A flat wall to scale with a figure beside it: an eye judges metres by people. */
import type { Surface } from "../../../model/types";
import { SmallWall } from "../../../parts/drawing/WallGround";
import { seenWidth, surfaceHeight } from "../../../model/surface";
import { t } from "../../../words";
import { showMetres } from "../../../words/measures";

const FIGURE_M = 1.7;
const [WIDEST_PX, HIGHEST_PX] = [150, 128];

export function BesideFigure({ surface }: { surface: Surface }) {
  const px_per_m = Math.min(WIDEST_PX / (seenWidth(surface) + 0.8), HIGHEST_PX / Math.max(FIGURE_M, surfaceHeight(surface)));
  const elevation = { id: "", site_id: "", rev: 0, made_at: "", made_by: "", structure_id: "", name: "", surface, bearing_deg: 0, openings: null, backdrop: null };
  const height = FIGURE_M * px_per_m;
  return (
    <div class="beside-figure">
      <svg viewBox="0 0 24 68" width={(height * 24) / 68} height={height} aria-hidden="true">
        <path d="M12 2a5 5 0 1 0 .1 0zM12 13Q20 14 19 38H15L15 67H9L9 38H5Q4 14 12 13z" fill="var(--ink)" />
      </svg>
      <SmallWall elevation={elevation} px_per_m={px_per_m} label={t("start_drawn", { height: showMetres(FIGURE_M) })} />
    </div>
  );
}
