/** Defects listed wall by wall, as one comes past them; each row leads on. */
import type { Growth, Measure } from "../../model/growth";
import type { Defect } from "../../model/types";
import { Link } from "../../parts/frame/Link";
import { defectLabel, judged } from "../../parts/judged";
import { StandingChip } from "../../parts/StandingChip";
import { KindDrawing } from "../../parts/drawing/KindDrawing";
import { t } from "../../words";
import { showArea, showMetres, showMm, showNumber } from "../../words/measures";
import { kindWord } from "./KindBars";
import { type OnWall, byWall } from "./seen";
import { StateWord } from "./SurveyRow";

type Marked = { defect: Defect; growth?: Growth | null };
type Props = { marks: readonly Marked[]; to: (defect: Defect) => string; aside?: string };

const SHOW: Record<Measure, (value: number) => string> = {
  area_m2: showArea, length_m: showMetres, depth_max_mm: showMm, crack_width_mm: showMm, count: (value) => showNumber(value, 0),
};

/** The measures that grew, or the first that was taken both times. */
function changeWords(growth: Growth): string[] {
  const all = Object.entries(growth.changes) as [Measure, { before: number; now: number; grew: boolean }][];
  const grown = all.filter(([, one]) => one.grew);
  return (grown.length ? grown : all.slice(0, 1)).map(([measure, { before, now }]) => {
    const words = { measure: t(`survey_measure_${measure}`), before: SHOW[measure](before), now: SHOW[measure](now) };
    return t(words.before === words.now ? "survey_stayed" : "survey_changed", words);
  });
}

function Row({ mark: { defect, growth }, to, aside }: { mark: Marked } & Omit<Props, "marks">) {
  const found = judged(defect);
  return (
    <li>
      <Link to={to(defect)} class="row-link">
        <span class="mark-number">{defectLabel(defect)}</span>
        <span class="mark-drawing">{defect.kind ? <KindDrawing kind={defect.kind} /> : null}</span>
        <span class="grow">
          <b>{kindWord(defect.kind)}</b>
          {growth === undefined ? null : <small class="under"><StateWord state={growth?.state ?? "looked"} />{growth ? changeWords(growth).map((words) => <span key={words}> · {words}</span>) : null}</small>}
          {growth === undefined && found ? <span class="under"><StandingChip defect={defect} found={found} /></span> : null}
        </span>
        <span class="mark-aside">{aside ? <small>{aside} </small> : null}<span aria-hidden="true">›</span></span>
      </Link>
    </li>
  );
}

function wallName({ structure, elevation }: OnWall<Marked>): string {
  return elevation ? t("storms_wall", { structure: structure?.name ?? "", elevation: elevation.name }) : t("storms_wall_gone");
}

export function WallMarks({ marks, ...row }: Props) {
  return (
    <div class="on-walls">
      {byWall(marks).map((wall) => (
        <section key={wall.id} class="on-wall">
          <h3>{wallName(wall)} <small>({showNumber(wall.marks.length, 0)})</small></h3>
          <ul class="rows">{wall.marks.map((mark) => <Row key={mark.defect.id} mark={mark} {...row} />)}</ul>
        </section>
      ))}
    </div>
  );
}
