/** Where it is: a pin, a line or an outline on the drawn wall, in the view where it shows best. */
import { useId, useMemo } from "preact/hooks";
import { LEAST_SHOWN, carried, viewsOf } from "../../../model/drawing/projection";
import { type Drawn, markOfDrawn, refusalOf, sizeOfDrawn } from "../../../model/marking/marking";
import type { Elevation, MarkShape, View } from "../../../model/types";
import { type DrawnMark, WallDrawing } from "../../../parts/drawing/WallDrawing";
import { Button } from "../../../parts/frame/Button";
import { Pick } from "../../../parts/frame/Field";
import { drawnMark } from "../../../parts/judged";
import { defectsOf, standingFinishes } from "../../../store/lookup";
import { refusalWords, t } from "../../../words";
import { areaWords, steepWords } from "../sizes";
import { wallName } from "../trade";

type Props = { elevation: Elevation; drawn: Drawn; onChange: (drawn: Partial<Drawn>) => void; without?: string | null; onPhoto: () => void;
  /** The id of a sentence elsewhere that says what is still missing here. */
  wrongBy?: string;
};

const SHAPES: MarkShape[] = ["pin", "line", "outline"];

/** The other marks on this wall, pale behind the pen; laid out anew only when one of them changed. */
function useOthers(elevation: Elevation, without: string | null): DrawnMark[] {
  const found = defectsOf(elevation.id);
  return useMemo(() => found.filter((one) => one.id !== without).map(drawnMark).filter((one) => one !== null), [found, without]);
}

/** Points of one view as they lie in another; those that do not show there are set anew. */
function intoView(elevation: Elevation, drawn: Drawn, view: View): Partial<Drawn> {
  return { view, points_m: carried(elevation.surface, drawn.view, view, drawn.points_m, LEAST_SHOWN[drawn.shape]) ?? [] };
}

function ViewPick({ elevation, drawn, onChange }: Omit<Props, "onPhoto">) {
  const views = viewsOf(elevation.surface);
  if (views.length < 2) return null;
  return (
    <div class="mark-views">
      <Pick
        legend={t("elevation_view")} hideLegend columns={views.length === 2 ? 2 : 3} value={drawn.view} onPick={(view) => onChange(intoView(elevation, drawn, view))}
        options={views.map((id) => ({ id, label: t(`elevation_view_${id}`) }))}
      />
    </div>
  );
}

/** What is still missing, and what the drawing says about the size. */
function SizeWords({ elevation, drawn, id }: Props & { id: string }) {
  const mark = markOfDrawn(drawn);
  if (!mark) return null;
  const size = sizeOfDrawn(drawn, elevation);
  const refused = refusalOf(size);
  if (refused) return <p class="wrong" id={id} role="alert">{refusalWords(refused)}</p>;
  if (mark.shape !== drawn.shape) return <p class="hint" role="status">{t(drawn.shape === "line" ? "mark_few_line" : mark.shape === "pin" ? "mark_few_outline_1" : "mark_few_outline_2")}</p>;
  const words = size ? areaWords(size) : null;
  const steep = steepWords(size);
  return <div role="status">{words ? <p><strong>{words}</strong></p> : null}{steep ? <p class="hint">{steep}</p> : null}</div>;
}

export function WhereStep(props: Props) {
  const { elevation, drawn, onChange, without, onPhoto } = props;
  const { points_m, shape, view } = drawn;
  const id = useId();
  const refused = markOfDrawn(drawn) !== null && refusalOf(sizeOfDrawn(drawn, elevation)) !== null;
  return (
    <section aria-label={t("mark_where")} class="mark-where">
      <ViewPick {...props} />
      <Pick
        legend={t("mark_shape")} hideLegend columns={3} value={shape} onPick={(next) => onChange({ shape: next })}
        options={SHAPES.map((id) => ({ id, label: t(`mark_shape_${id}`) }))}
      />
      <WallDrawing
        elevation={elevation} view={view} marks={useOthers(elevation, without ?? null)} mode={shape} draft={points_m} finishes={standingFinishes(elevation.id)}
        onDraft={(points) => onChange({ points_m: points })} label={t("mark_drawing", { wall: wallName(elevation) })} wrongBy={refused ? id : props.wrongBy}
      />
      <SizeWords {...props} id={id} />
      {shape === "line" && points_m.length === 0 ? null : (
        <div class="deeds">
          {shape !== "pin" && points_m.length > 0 ? (
            <>
              <Button onPress={() => onChange({ points_m: points_m.slice(0, -1) })}>{t("mark_back_one")}</Button>
              <Button onPress={() => onChange({ points_m: [] })}>{t("mark_start_over")}</Button>
            </>
          ) : null}
          {shape === "line" ? null : <Button onPress={onPhoto}>{t("mark_on_photo")}</Button>}
        </div>
      )}
    </section>
  );
}
