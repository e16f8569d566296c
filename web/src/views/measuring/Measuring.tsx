/** Measuring on a photo, step by step: photo, four points, outline, wall. Whatever was answered is found again. */
import { useMemo } from "preact/hooks";
import { STAGES, type Stage } from "../../model/measuring/draft";
import type { Measured } from "../../model/measuring/measure";
import { frameOf } from "../../model/measuring/placing";
import type { Mark } from "../../model/types";
import { Button } from "../../parts/frame/Button";
import { Page } from "../../parts/frame/Page";
import { useShown } from "../../parts/photo/useShown";
import { refusalWords, t } from "../../words";
import { showArea } from "../../words/measures";
import { OutlineStep, outlineTrouble } from "./OutlineStep";
import { PhotoStep } from "./PhotoStep";
import { PointsStep, pointsTrouble } from "./PointsStep";
import { WallStep } from "./WallStep";
import { type Desk, type Outcome, type Shot, measured, tried } from "./desk";

/** `keep` takes the mark and a sentence on how sure its size is. */
type Props = { desk: Desk; name: string; back: string; keep: (mark: Mark, words: string) => void };

/** The chosen photo in frame pixels; a code where it cannot be measured on; null while it comes. */
function useShot({ asked, choices }: Desk): Outcome<Shot> | null {
  const choice = choices.find((one) => one.photo.sha256 === asked.of);
  const shown = useShown(choice ? choice.photo.sha256 : null, async () => (await choice?.large()) ?? null);
  return useMemo(() => {
    if (!choice || shown === "none") return { found: null, code: "photo_not_shown" };
    return shown ? tried(() => ({ url: shown.url, size: frameOf(shown.size.width_px, shown.size.height_px) })) : null;
  }, [shown, choice === undefined]);
}

/** Whether a step has all that the next one needs. */
function ready(desk: Desk, stage: Stage, shot: Shot, outcome: Outcome<Measured | null> | null): boolean {
  if (stage === "points") return desk.asked.points.length === 4 && pointsTrouble(desk, shot) === null;
  if (stage === "outline") return desk.asked.outline.length > 2 && outlineTrouble(desk) === null;
  return stage === "wall" && outcome?.found != null;
}

type DeedProps = Props & { shot: Shot; outcome: Outcome<Measured | null> | null };

function Deeds({ desk, keep, shot, outcome }: DeedProps) {
  const { asked, change } = desk;
  const at = STAGES.indexOf(asked.stage);
  const [before, next] = [STAGES[at - 1], STAGES[at + 1]];
  const fine = ready(desk, asked.stage, shot, outcome);
  const onKeep = () => {
    const found = outcome?.found;
    if (!found) return;
    const words = t("measuring_note", { area: showArea(found.area_m2), low: showArea(found.low_m2), high: showArea(found.high_m2) });
    keep({ view: found.view, shape: "outline", points_m: found.points_m }, words);
  };
  return (
    <>
      {before ? <Button onPress={() => change({ stage: before })}>{t("measuring_before")}</Button> : null}
      {next ? <Button kind="primary" disabled={!fine} onPress={() => change({ stage: next })}>{t(`measuring_next_${next as "outline" | "wall"}`)}</Button> : <Button kind="primary" disabled={!fine} onPress={onKeep}>{t("measuring_keep")}</Button>}
    </>
  );
}

export function Measuring(props: Props) {
  const { desk, name, back } = props;
  const { asked, change } = desk;
  const shot = useShot(desk);
  const stage = asked.stage !== "photo" && shot?.code ? "photo" : asked.stage;
  const outcome = useMemo(() => (stage === "wall" && shot?.found ? measured(desk, shot.found.size) : null), [asked, shot, stage, desk.elevation]);
  const sub = t("measuring_step", { n: STAGES.indexOf(stage) + 1, step: t(`measuring_stage_${stage}`) });
  const deeds = stage === "photo" ? (shot?.found && asked.points.length ? <Button kind="primary" onPress={() => change({ stage: "points" })}>{t("measuring_next_points")}</Button> : null)
    : shot?.found ? <Deeds {...props} shot={shot.found} outcome={outcome} /> : null;
  return (
    <Page title={t("measuring_title")} sub={<>{sub}<br />{name}</>} place="walls" back={back} wide actions={deeds}>
      {stage === "photo" ? (
        <div>
          {asked.of && shot?.code ? <p class="wrong" role="alert">{shot.code === "photo_not_shown" ? t("measuring_not_shown") : refusalWords(shot.code)}</p> : null}
          <PhotoStep {...desk} />
        </div>
      ) : null}
      {stage !== "photo" && !shot?.found ? <p role="status">{t("loading")}</p> : null}
      {shot?.found && stage === "points" ? <PointsStep desk={desk} shot={shot.found} /> : null}
      {shot?.found && stage === "outline" ? <OutlineStep desk={desk} shot={shot.found} /> : null}
      {outcome ? <WallStep desk={desk} outcome={outcome} /> : null}
    </Page>
  );
}
