/** Third step: the outline on the photo, suggested by colour from one tap, or drawn. */
import { useEffect, useState } from "preact/hooks";
import { toFrame, toPicture } from "../../model/measuring/draft";
import { MOST_STEPS, suggestOutline } from "../../model/measuring/suggest";
import { checkRing } from "../../model/outline";
import type { PhotoPoint } from "../../model/types";
import type { Pixels } from "../../parts/drawing/warp";
import { Button } from "../../parts/frame/Button";
import { Pick } from "../../parts/frame/Field";
import { refusalWords, t } from "../../words";
import { PhotoPen } from "./PhotoPen";
import { type Desk, type Shot, tried } from "./desk";
import { usePicture } from "./usePicture";

/** Why what was drawn is no outline, or null. */
export const outlineTrouble = ({ asked }: Desk): string | null => tried(() => checkRing(asked.outline)).code;

function lookFor(picture: Pixels, tap: PhotoPoint, steps: number) {
  const longer_px = Math.max(picture.width, picture.height);
  return tried(() => suggestOutline(picture, toPicture(tap, longer_px), steps).map((point) => toFrame(point, longer_px)));
}

function ByColour({ desk, shot }: { desk: Desk; shot: Shot }) {
  const { asked, change } = desk;
  const picture = usePicture(shot.url);
  const [refused, setRefused] = useState<string | null>(null);
  const look = (tap: PhotoPoint | null, steps: number) => {
    const found = tap && picture && picture !== "none" ? lookFor(picture, tap, steps) : null;
    setRefused(found?.code ?? null);
    change({ tap, steps, outline: found?.found ?? [] });
  };
  // A tap that came before the small picture was made.
  useEffect(() => {
    if (picture && asked.tap && asked.outline.length === 0) look(asked.tap, asked.steps);
  }, [picture]);
  if (picture === "none") return <p class="wrong" role="alert">{t("measuring_no_pixels")}</p>;
  const ask = asked.outline.length > 2 ? t("measuring_colour_found") : asked.tap && !picture ? t("measuring_colour_wait") : t("measuring_colour_tap");
  return (
    <>
      <PhotoPen
        url={shot.url} size={shot.size} mode="pin" points={asked.tap ? [asked.tap] : []} line={asked.outline} label={t("measuring_outline_photo")} ask={ask}
        onPoints={([tap]) => look(tap ?? null, 0)}
      />
      {refused ? <p class="wrong" role="alert">{refusalWords(refused)}</p> : null}
      {asked.tap ? (
        <div class="deeds">
          <Button disabled={asked.steps <= -MOST_STEPS} onPress={() => look(asked.tap, asked.steps - 1)}>{t("measuring_less")}</Button>
          <Button disabled={asked.steps >= MOST_STEPS} onPress={() => look(asked.tap, asked.steps + 1)}>{t("measuring_more")}</Button>
        </div>
      ) : null}
    </>
  );
}

function ByHand({ desk, shot }: { desk: Desk; shot: Shot }) {
  const { asked, change } = desk;
  const trouble = asked.outline.length > 2 ? outlineTrouble(desk) : null;
  return (
    <>
      <PhotoPen
        url={shot.url} size={shot.size} mode="outline" points={asked.outline} label={t("measuring_outline_photo")} ask={t("measuring_hand_draw")}
        onPoints={(outline) => change({ outline })}
      />
      {trouble ? <p class="wrong" role="alert">{refusalWords(trouble)}</p> : null}
      {asked.outline.length ? (
        <div class="deeds">
          <Button onPress={() => change({ outline: asked.outline.slice(0, -1) })}>{t("mark_back_one")}</Button>
          <Button onPress={() => change({ outline: [], tap: null, steps: 0 })}>{t("mark_start_over")}</Button>
        </div>
      ) : null}
    </>
  );
}

export function OutlineStep({ desk, shot }: { desk: Desk; shot: Shot }) {
  const { asked, change } = desk;
  return (
    <>
      <div>{asked.by === "colour" ? <ByColour desk={desk} shot={shot} /> : <ByHand desk={desk} shot={shot} />}</div>
      <div>
        <Pick
          legend={t("measuring_by")} value={asked.by} onPick={(by) => change({ by })}
          options={(["colour", "hand"] as const).map((id) => ({ id, label: t(`measuring_by_${id}`), hint: t(`measuring_by_${id}_hint`) }))}
        />
      </div>
    </>
  );
}
