/** Last step: the outline as it lies on the wall, its true size, and how sure that is. */
import { carried, viewsOf } from "../../model/drawing/projection";
import { isKnown } from "../../model/measuring/draft";
import type { Measured } from "../../model/measuring/measure";
import type { Elevation, View, WallPoint } from "../../model/types";
import { type DrawnMark, WallDrawing } from "../../parts/drawing/WallDrawing";
import { Card } from "../../parts/frame/Card";
import { Pick } from "../../parts/frame/Field";
import { RangeBar } from "../../parts/ticket/RangeBar";
import { standingFinishes } from "../../store/lookup";
import { refusalWords, t } from "../../words";
import { showArea, showMetres } from "../../words/measures";
import type { Desk, Outcome } from "./desk";

const DOUBTS = ["far_from_points", "near_horizon", "points_small", "curves_away", "wide_range", "steep_view"] as const;

const drawnOutline = (found: Measured): DrawnMark => {
  const label = showArea(found.area_m2);
  return { id: "measured", label, name: label, family: "loss", mark: { view: found.view, shape: "outline", points_m: found.points_m } };
};

function ViewPick({ asked, change, elevation }: Desk) {
  const views = viewsOf(elevation.surface);
  if (views.length < 2) return null;
  const turn = (view: View) => change({ view, middle: asked.middle ? (carried(elevation.surface, asked.view, view, [asked.middle], 1)?.[0] ?? null) : null });
  return (
    <Pick
      legend={t("elevation_view")} hideLegend columns={views.length === 2 ? 2 : 3} value={asked.view} onPick={turn}
      options={views.map((id) => ({ id, label: t(`elevation_view_${id}`) }))}
    />
  );
}

function Result({ found, elevation }: { found: Measured; elevation: Elevation }) {
  const { area_m2, low_m2, high_m2, perimeter_m, warnings } = found;
  const doubts = DOUBTS.filter((one) => warnings.includes(one));
  return (
    <Card title={t("measuring_result")}>
      <p class="measured" role="status">{showArea(area_m2)}</p>
      <p class="measured-range">{t("measuring_range", { low: showArea(low_m2), high: showArea(high_m2) })}</p>
      <RangeBar range={{ low: low_m2, likely: area_m2, high: high_m2 }} />
      <p>{t("measuring_edge", { length: showMetres(perimeter_m) })}</p>
      {doubts.length ? <ul class="doubts">{doubts.map((one) => <li key={one}>{t(`measuring_doubt_${one}`)}</li>)}</ul> : null}
      <p class="hint">{t("measuring_range_why")}</p>
      {elevation.surface.kind === "flat" ? null : <p class="hint">{t("measuring_round")}</p>}
    </Card>
  );
}

export function WallStep({ desk, outcome }: { desk: Desk; outcome: Outcome<Measured | null> }) {
  const { asked, change, elevation } = desk;
  const { found, code } = outcome;
  const fixed = isKnown(asked.reference);
  const place = ([middle]: readonly WallPoint[]) => change({ middle: middle ?? null });
  return (
    <>
      <div>
        <ViewPick {...desk} />
        <WallDrawing
          elevation={elevation} view={asked.view} finishes={standingFinishes(elevation.id)} marks={found ? [drawnOutline(found)] : []}
          mode={fixed ? "look" : "pin"} draft={asked.middle && !fixed ? [asked.middle] : []} onDraft={place} label={t("measuring_wall_drawing")}
          ask={asked.middle ? t("measuring_wall_tap") : refusalWords("middle_missing")}
        />
        {code && code !== "middle_missing" ? <p class="wrong" role="alert">{refusalWords(code)}</p> : null}
      </div>
      <div>
        {found ? <Result found={found} elevation={elevation} /> : null}
      </div>
    </>
  );
}
