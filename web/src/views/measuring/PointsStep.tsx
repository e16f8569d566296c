/** Second step: four corners of something whose size or place is known. */
import { type Reference, isCard, isKnown, placedOf, withPoints } from "../../model/measuring/draft";
import { placeOnPlane } from "../../model/measuring/placing";
import { roundFromUpperLeft, standsUpright } from "../../model/measuring/reference";
import { whereWords } from "../../parts/drawing/Pen";
import { Button } from "../../parts/frame/Button";
import { NumberField, Pick } from "../../parts/frame/Field";
import { refusalWords, t } from "../../words";
import { isUs, lengthUnit, metresFromTyped, typedFromMetres } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";
import { PhotoPen } from "./PhotoPen";
import { type Desk, type Shot, tried } from "./desk";

const CARDS = ["a4", "letter", "bank", "own"] as const;

/** Why four points cannot be used, or null. Four places on the wall are tried out with the outline, in the last step. */
export function pointsTrouble({ asked, elevation }: Desk, shot: Shot): string | null {
  return tried(() => {
    const placed = placedOf(asked, elevation, shot.size);
    if (placed) placeOnPlane(placed.photo, placed.plane_m);
  }).code;
}

function ReferencePick({ asked, change, elevation }: Desk) {
  const openings = (elevation.openings ?? []).map((one, i) => ({
    id: `opening ${i}` as Reference, label: t("measuring_opening", { kind: vocabularyWord("opening_kinds", one.kind) }), kind: one.kind,
    hint: whereWords(elevation.surface, "seen", [one.x_m + one.width_m / 2, one.y_m + one.height_m / 2]),
  }));
  const cards = isUs() ? (["letter", "a4", "bank", "own"] as const) : CARDS;
  return (
    <Pick<Reference>
      legend={t("measuring_reference")} value={asked.reference} onPick={(reference) => change({ reference, lies: null })}
      options={[
        ...cards.map((id) => ({ id: id as Reference, label: t(`measuring_card_${id}`), hint: t(`measuring_card_${id}_hint`) })),
        ...openings.filter((one) => one.kind === "door" || one.kind === "window" || one.kind === "niche"),
        ...(elevation.surface.kind === "flat" ? [{ id: "corners" as Reference, label: t("measuring_corners") }] : []),
      ]}
    />
  );
}

/** How a card lies; a person may say better what the photo seems to show. */
function CardAsks({ asked, change }: Desk) {
  const { own, reference, points, lies } = asked;
  const shown = points.length === 4 ? (standsUpright(roundFromUpperLeft(points)) ? "upright" : "across") : null;
  return (
    <>
      {reference === "own" ? (
        <div class="pair">
          <NumberField label={t("measuring_own_width")} unit={lengthUnit()} value={typedFromMetres(own.width_m)} onInput={(typed) => change({ own: { ...own, width_m: metresFromTyped(typed) } })} />
          <NumberField label={t("measuring_own_height")} unit={lengthUnit()} value={typedFromMetres(own.height_m)} onInput={(typed) => change({ own: { ...own, height_m: metresFromTyped(typed) } })} />
        </div>
      ) : null}
      {isCard(reference) && shown ? (
        <Pick
          legend={t("measuring_lies")} value={lies ?? shown} onPick={(next) => change({ lies: next })}
          options={(["across", "upright"] as const).map((id) => ({ id, label: t(`measuring_lies_${id}`), hint: lies === null && id === shown ? t("measuring_lies_seen") : undefined }))}
        />
      ) : null}
      <Pick
        legend={t("measuring_level")} value={asked.level} onPick={(level) => change({ level })}
        options={(["card", "photo"] as const).map((id) => ({ id, label: t(`measuring_level_${id}`) }))}
      />
    </>
  );
}

export function PointsStep({ desk, shot }: { desk: Desk; shot: Shot }) {
  const { asked, change } = desk;
  const left = 4 - asked.points.length;
  const trouble = left === 0 ? pointsTrouble(desk, shot) : null;
  return (
    <>
      <div>
        <PhotoPen
          url={shot.url} size={shot.size} mode="outline" most={4} points={asked.points} label={t("measuring_points_photo", { n: asked.points.length })}
          ask={left > 0 ? t("measuring_points_tap", { n: left }) : t("measuring_points_all")}
          onPoints={(points, seen_px) => change(withPoints(asked, points, seen_px))}
          onChecked={(index, seen_px) => change({ seen_px: asked.seen_px.map((one, i) => (i === index ? Math.min(one, seen_px) : one)) })}
        />
        {trouble ? <p class="wrong" role="alert">{refusalWords(trouble)}</p> : null}
        {asked.points.length ? <div class="deeds"><Button onPress={() => change({ points: [], seen_px: [] })}>{t("measuring_points_again")}</Button></div> : null}
      </div>
      <div>
        <ReferencePick {...desk} />
        {isKnown(asked.reference) ? null : <CardAsks {...desk} />}
      </div>
    </>
  );
}
