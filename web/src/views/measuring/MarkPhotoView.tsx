/** Measuring on a photo for a mark that is being made or changed. */
import type { MarkDraft } from "../../model/marking/marking";
import { emptyMark, markOfDrawn } from "../../model/marking/marking";
import { beginOnPhoto } from "../../model/measuring/draft";
import type { Elevation } from "../../model/types";
import { type Params, goBack } from "../../parts/frame/route";
import { drafts, readDraft, row, whole } from "../../store";
import { t } from "../../words";
import { isUs } from "../../words/measures";
import { NotHere } from "../NotHere";
import { defectName, kindName, wallName } from "../marks/trade";
import { useDraft } from "../marks/useDraft";
import { useMarkTidy } from "../marks/useTidy";
import { Measuring } from "./Measuring";
import { choicesOf } from "./choices";
import { middleOf, noted } from "./noted";

export function MarkPhotoView({ params }: { params: Params }) {
  const key = `mark/${params.draft}`;
  const elevation = row("elevation", readDraft<MarkDraft>(key)?.elevation_id);
  if (!elevation) return drafts.value.has(key) && !whole.value ? <p class="splash">{t("loading")}</p> : <NotHere />;
  return <OfMark key={key} draftKey={key} elevation={elevation} />;
}

function OfMark({ draftKey, elevation }: { draftKey: string; elevation: Elevation }) {
  const drafted = useDraft<MarkDraft>(draftKey, emptyMark(elevation.id));
  useMarkTidy(draftKey, drafted);
  const { value, change } = drafted;
  const mark = markOfDrawn(value);
  const begun = beginOnPhoto(value.view, mark ? middleOf(mark) : null, isUs() ? "letter" : "a4");
  // A place tapped after the photo was begun counts too.
  const asked = value.on_photo?.middle || value.view !== value.on_photo?.view ? (value.on_photo ?? begun) : { ...value.on_photo, middle: begun.middle };
  const defect = row("defect", value.defect_id);
  const about = defect ? defectName(defect) : t("mark_about", { kind: kindName(value.kind).toLocaleLowerCase(), wall: wallName(elevation) });
  const desk = {
    asked, elevation, draftKey, about, choices: choicesOf(draftKey, value.defect_id), change: (part: Partial<typeof asked>) => change({ on_photo: { ...asked, ...part } }),
  };
  return (
    <Measuring
      desk={desk} name={defect ? defectName(defect) : wallName(elevation)} back={`/${draftKey}`}
      keep={(mark, words) => {
        change({ ...mark, ...noted(value, asked, words) });
        void drafted.finish().then(() => goBack(`/${draftKey}`));
      }}
    />
  );
}
