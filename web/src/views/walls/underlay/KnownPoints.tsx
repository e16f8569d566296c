/** Which four points of the wall are shown on the photo: corners of the wall, of an opening, or points one has measured. */
import { cornersOf, openingRing } from "../../../model/drawing/projection";
import type { Elevation, WallPoint } from "../../../model/types";
import { whereWords } from "../../../parts/drawing/Pen";
import { NumberField, Pick } from "../../../parts/frame/Field";
import { t } from "../../../words";
import { lengthUnit, metresFromTyped, typedFromMetres } from "../../../words/measures";
import { vocabularyWord } from "../../../words/vocabulary";

export type TypedPoint = { x_m: number | null; y_m: number | null };
/** "corners", "typed", or the place of an opening in the list. */
export type Choice = string;

/** From the upper left, as one reads: upper left, upper right, lower right, lower left. */
function openingCorners(elevation: Elevation, index: number): WallPoint[] | null {
  const opening = elevation.openings?.[index];
  if (!opening) return null;
  const [a, b, c, d] = openingRing({ ...opening, head: "flat" });
  return a && b && c && d ? [d, c, b, a] : null;
}

/** The four wall points of a choice, null where one is not given yet. */
export function wallPoints(elevation: Elevation, choice: Choice, typed: readonly TypedPoint[]): (WallPoint | null)[] {
  if (choice === "typed") return typed.map(({ x_m, y_m }) => (x_m === null || y_m === null ? null : [x_m, y_m]));
  return (choice === "corners" ? null : openingCorners(elevation, Number(choice))) ?? cornersOf(elevation.surface);
}

export function pointWords(elevation: Elevation, point: WallPoint | null): string {
  return point ? whereWords(elevation.surface, "seen", point) : t("underlay_point_unset");
}

type Props = { elevation: Elevation; choice: Choice; typed: readonly TypedPoint[]; onChoice: (choice: Choice) => void; onTyped: (typed: TypedPoint[]) => void };

export function KnownPoints({ elevation, choice, typed, onChoice, onTyped }: Props) {
  const flat = elevation.surface.kind === "flat";
  const openings = (elevation.openings ?? []).map((one, i) => ({ id: String(i), label: t("underlay_opening", { kind: vocabularyWord("opening_kinds", one.kind) }), kind: one.kind, hint: whereWords(elevation.surface, "seen", [one.x_m + one.width_m / 2, one.y_m + one.height_m / 2]) }));
  const set = (i: number, fields: Partial<TypedPoint>) => onTyped(typed.map((point, k) => (k === i ? { ...point, ...fields } : point)));
  return (
    <>
      <Pick
        legend={t("underlay_points")} value={choice} onPick={onChoice}
        options={[
          { id: "corners", label: t(flat ? "underlay_corners" : "underlay_rectangle") },
          ...openings.filter((one) => one.kind === "door" || one.kind === "window" || one.kind === "niche"),
          { id: "typed", label: t("underlay_typed") },
        ]}
      />
      {choice === "typed" ? typed.map((point, i) => (
        <div class="pair" key={i}>
          <NumberField label={t(flat ? "underlay_across" : "underlay_across_middle", { n: i + 1 })} unit={lengthUnit()} value={typedFromMetres(point.x_m)} onInput={(value) => set(i, { x_m: metresFromTyped(value) })} />
          <NumberField label={t("underlay_up", { n: i + 1 })} unit={lengthUnit()} value={typedFromMetres(point.y_m)} onInput={(value) => set(i, { y_m: metresFromTyped(value) })} />
        </div>
      )) : null}
    </>
  );
}
