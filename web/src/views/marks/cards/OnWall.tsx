/** A mark on its wall, in the view it was drawn in: to look at, not to draw on. */
import { extentOf } from "../../../model/drawing/projection";
import type { Elevation } from "../../../model/types";
import type { DrawnMark } from "../../../parts/drawing/WallDrawing";
import { SmallWall } from "../../../parts/drawing/WallGround";

const DRAWN_PX = { width: 320, height: 210 };

export function OnWall({ elevation, mark, label }: { elevation: Elevation; mark: DrawnMark; label: string }) {
  const box = extentOf(elevation.surface, mark.mark.view);
  const px_per_m = Math.min(DRAWN_PX.width / (box.x1 - box.x0), DRAWN_PX.height / (box.y1 - box.y0));
  return <div class="mark-on-wall"><SmallWall elevation={elevation} marks={[mark]} view={mark.mark.view} px_per_m={px_per_m} pins={1.5} label={label} /></div>;
}
