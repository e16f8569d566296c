/** One structure: its sides as small drawings to one scale, how many defects stand open, and the worst of them. */
import { extentOf } from "../../model/drawing/projection";
import { Refusal } from "../../model/refusal";
import type { Defect, Elevation, Structure } from "../../model/types";
import { defectsOf, elevationsOf } from "../../store/lookup";
import { Card, Empty } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { SmallWall } from "../../parts/drawing/WallGround";
import { byUrgency, drawnMark, isClosed, judged } from "../../parts/judged";
import { StandingChip } from "../../parts/StandingChip";
import { may } from "../../parts/may";
import { t } from "../../words";
import { showBearing } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";
import { useMyTurn } from "./turns";

const [WIDEST_PX, HIGHEST_PX] = [170, 84];
/** More marks than this would be a blot on a small drawing. */
const MOST_DRAWN = 80;

const openDefects = (elevation: Elevation): Defect[] => defectsOf(elevation.id).filter((one) => !isClosed(one));

/** How many stand open; nothing is claimed, null, before everything on this phone was read and it is this card's turn. */
function openWords(n: number | null): string {
  if (n === null) return t("walls_counting");
  return n ? t("walls_open_defects", { n }) : t("walls_no_defects");
}

/** One scale for all sides of a structure, so that they compare truly. */
function scaleFor(sides: readonly Elevation[]): number | undefined {
  try {
    const boxes = sides.map((side) => extentOf(side.surface, "seen"));
    return Math.min(...boxes.map((box) => Math.min(WIDEST_PX / (box.x1 - box.x0), HIGHEST_PX / box.y1)));
  } catch (error) {
    if (error instanceof Refusal) return undefined;
    throw error;
  }
}

function Side({ side, open, px_per_m }: { side: Elevation; open: Defect[] | null; px_per_m: number | undefined }) {
  const marks = (open ?? []).slice(0, MOST_DRAWN).map(drawnMark).filter((mark) => mark !== null);
  return (
    <Link class="side" to={`/elevation/${side.id}`}>
      {px_per_m === undefined ? null : <SmallWall elevation={side} marks={marks} px_per_m={px_per_m} label={t("elevation_preview", { name: side.name })} />}
      <span class="side-words">
        <span class="side-name">{t("walls_side_label", { name: side.name, bearing: showBearing(side.bearing_deg) })}</span>
        <small>{openWords(open && open.length)}</small>
      </span>
    </Link>
  );
}

/** `turn`: its place among the cards that count one after the other. */
export function StructureCard({ structure, turn }: { structure: Structure; turn: number }) {
  const counts = useMyTurn(turn);
  const sides = elevationsOf(structure.id);
  const open = counts ? sides.map(openDefects) : null;
  const all = open && open.flat();
  const worst = all ? byUrgency(all)[0] : undefined;
  const found = worst && judged(worst);
  const px_per_m = scaleFor(sides);
  return (
    <Card title={structure.name} aside={vocabularyWord("wall_materials", structure.wall_material)}>
      <p class="worst">
        {found ? <StandingChip defect={worst} found={found} /> : null}
        <span>{openWords(all && all.length)}</span>
      </p>
      {sides.length === 0 ? <Empty small scene="wall">{t("walls_no_elevation")}</Empty> : <div class="sides">{sides.map((side, i) => <Side key={side.id} side={side} open={open?.[i] ?? null} px_per_m={px_per_m} />)}</div>}
      <p class="card-links">
        {may("make", "elevation") ? <Link class="plain-link" to={`/elevation/new?structure=${structure.id}`}>{t("walls_add_elevation")}</Link> : null}
        {may("edit", "structure") ? <Link class="plain-link" to={`/structure/${structure.id}`}>{t("walls_edit_structure", { name: structure.name })}</Link> : null}
      </p>
    </Card>
  );
}
