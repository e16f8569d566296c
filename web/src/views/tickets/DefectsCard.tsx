/** The defects of a ticket, each on its wall and with its photos. */
import { row } from "../../store";
import { photosOf } from "../../store/lookup";
import { t } from "../../words";
import { showArea, showMm } from "../../words/measures";
import { familyOfKind } from "../../parts/drawing/KindDrawing";
import { type DrawnMark, WallDrawing } from "../../parts/drawing/WallDrawing";
import { Card } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { defectLabel, isClosed } from "../../parts/judged";
import { PhotoStrip } from "../../parts/photo/PhotoStrip";
import { type Known, kindWords, sizeWords, wallWords } from "../../parts/ticket/gathered";

export function drawnOf(known: Known): DrawnMark {
  const { defect, judged } = known;
  const label = defectLabel(defect);
  return { id: defect.id, label, mark: judged.mark, family: familyOfKind(defect.kind), name: [label, kindWords(defect), sizeWords([known])].filter(Boolean).join(", "), closed: isClosed(defect) };
}

function SmallWalls({ known }: { known: readonly Known[] }) {
  const walls = [...new Set(known.map((one) => one.defect.elevation_id))];
  return (
    <div class="ticket-walls">
      {walls.map((id) => {
        const elevation = row("elevation", id);
        const here = known.filter((one) => one.defect.elevation_id === id);
        const first = here[0];
        if (!elevation || !first) return null;
        const name = wallWords(first.defect);
        return (
          <figure key={id}>
            <WallDrawing elevation={elevation} marks={here.map(drawnOf)} compact={1.5} label={t("wall_with_marks", { wall: name, marks: here.map((one) => drawnOf(one).name).join("; ") })} />
            <figcaption><Link to={`/elevation/${id}`}>{name}</Link></figcaption>
          </figure>
        );
      })}
    </div>
  );
}

function DefectLine({ one }: { one: Known }) {
  const { defect, judged } = one;
  const { size, facts } = judged;
  const curved = size.area_m2 !== null && size.as_drawn_m2 !== null && Math.abs(size.area_m2 - size.as_drawn_m2) > 0.01 * size.area_m2;
  const about = `${defectLabel(defect)} ${kindWords(defect)}`;
  return (
    <li>
      <Link to={`/defect/${defect.id}`} class="row-link">
        <strong class="number">{defectLabel(defect)}</strong>
        <span class="grow">
          {kindWords(defect)}
          <small class="block">
            {[curved ? t("area_curved", { area: showArea(size.area_m2 ?? 0), drawn: showArea(size.as_drawn_m2 ?? 0) }) : sizeWords([one]),
              facts.depth_max_mm === null ? "" : t("defect_deep", { mm: showMm(facts.depth_max_mm) }),
              facts.crack_width_mm === null ? "" : t("defect_wide", { mm: showMm(facts.crack_width_mm) })].filter(Boolean).join(" · ")}
          </small>
        </span>
      </Link>
      {photosOf(defect.id).length > 0 ? <PhotoStrip ownerId={defect.id} about={about} /> : null}
    </li>
  );
}

export function DefectsCard({ known, past }: { known: readonly Known[]; past?: boolean }) {
  return (
    <Card title={t(past ? "defects_title_past" : "defects_title")}>
      <SmallWalls known={known} />
      {known.length > 0 ? <ul class="rows">{known.map((one) => <DefectLine key={one.defect.id} one={one} />)}</ul> : <p>{t("defects_gone")}</p>}
    </Card>
  );
}
