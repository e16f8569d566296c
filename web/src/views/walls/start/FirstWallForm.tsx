/** The first wall in one form of one screen: a flat one, by eye, and with it whatever it needs to stand on. */
import { useMemo, useState } from "preact/hooks";
import { NEW_SKETCH, surfaceOf } from "../../../model/drawing/sketch";
import type { Id } from "../../../model/types";
import { type Put, currentSite, me, newId, putMany, row } from "../../../store";
import { useDraft } from "../../../parts/draft";
import { shortLabel } from "../../../parts/drawing/CoatSection";
import { Button } from "../../../parts/frame/Button";
import { Pick, TextField } from "../../../parts/frame/Field";
import { Page } from "../../../parts/frame/Page";
import { type Params, go } from "../../../parts/frame/route";
import { may } from "../../../parts/may";
import { refusalWords, t } from "../../../words";
import { isUs, metresFromTyped, showBearing } from "../../../words/measures";
import { vocabularyList, vocabularyWord } from "../../../words/vocabulary";
import { NotAllowed } from "../DropAsk";
import { POINTS } from "../fields/BearingFields";
import { BesideFigure } from "./BesideFigure";
import { SizeStepper } from "./SizeStepper";
import "../walls.css";

type FirstWall = { site: string; name: string; material: string | null; width_m: number | null; height_m: number | null; bearing_deg: number | null };
const KEY = "start";

const begin = (): FirstWall => ({
  site: t("start_site_named", { person: me.value?.person ?? "" }), name: t("start_wall_named"), material: null, bearing_deg: null,
  width_m: metresFromTyped(isUs() ? 12 : 4), height_m: metresFromTyped(isUs() ? 8 : 2.4),
});

const sketchOf = ({ name, width_m, height_m, bearing_deg }: FirstWall) => ({ ...NEW_SKETCH, name, width_m, height_m, bearing_deg });

/** What is missing or cannot be, in words. */
function wrongWith(wall: FirstWall, site: Id | null) {
  const { wrong } = surfaceOf(sketchOf(wall));
  return {
    site: site || wall.site.trim() ? null : t("form_need_name"), name: wall.name.trim() ? null : t("form_need_name"), material: wall.material ? null : t("form_need_material"),
    size: wrong ? (wrong.code === "missing" ? t("form_need_size") : refusalWords(wrong.code)) : null, bearing: wall.bearing_deg === null ? t("form_need_bearing") : null,
  };
}

/** Site (where there is none), wall and side in one transaction; resolves with the side's id. */
async function keepWall(wall: FirstWall, site: Id | null): Promise<Id> {
  const { surface } = surfaceOf(sketchOf(wall));
  const [grounds, structure, side] = [site ?? newId(), newId(), newId()];
  if (!surface || wall.material === null || wall.bearing_deg === null) throw new Error("kept before it was whole");
  const founding: Put[] = site ? [] : [{ type: "site", id: grounds, set: { name: wall.site.trim() } }];
  await putMany([
    ...founding,
    { type: "structure", id: structure, set: { name: wall.name.trim(), wall_material: wall.material } },
    { type: "elevation", id: side, set: { structure_id: structure, name: t("start_side_named"), surface, bearing_deg: wall.bearing_deg, openings: [] } },
  ], { draft: KEY, site: grounds });
  return side;
}

type PartProps = { wall: FirstWall; change: (fields: Partial<FirstWall>) => void; wrong: Partial<ReturnType<typeof wrongWith>>; site: Id | null };

function Names({ wall, change, wrong, site }: PartProps) {
  return (
    <div class={site ? "" : "pair"}>
      {site ? null : <TextField label={t("walls_site")} value={wall.site} max={120} wrong={wrong.site} onInput={(next) => change({ site: next })} />}
      <TextField label={t("start_wall_name")} value={wall.name} max={120} wrong={wrong.name} onInput={(name) => change({ name })} />
    </div>
  );
}

function Sizes({ wall, change, wrong }: PartProps) {
  const { surface } = surfaceOf(sketchOf(wall));
  const drawn = useMemo(() => surface, [wall.width_m, wall.height_m]);
  return (
    <>
      <div class="first-sizes">
        {drawn ? <BesideFigure surface={drawn} /> : <span />}
        <div>
          <SizeStepper label={t("elevation_width")} value_m={wall.width_m} onChange={(width_m) => change({ width_m })} />
          <SizeStepper label={t("elevation_height")} value_m={wall.height_m} onChange={(height_m) => change({ height_m })} />
        </div>
      </div>
      {wrong.size ? <p class="wrong" role="alert">{wrong.size}</p> : null}
    </>
  );
}

export function FirstWallForm(_props: { params: Params }) {
  const site = row("site", currentSite.value)?.id ?? null;
  const [wall, change] = useDraft<FirstWall>(KEY, begin);
  const [tried, setTried] = useState(false);
  const found = wrongWith(wall, site);
  const wrong: Partial<typeof found> = tried ? found : { size: wall.width_m !== null && wall.height_m !== null ? found.size : null };
  const allowed = site ? may("make", "structure") && may("make", "elevation") : me.value?.may_found === true;
  const keep = async () => {
    setTried(true);
    if (Object.values(found).some(Boolean)) return void requestAnimationFrame(() => document.querySelector(".first-wall .wrong")?.scrollIntoView({ block: "center" }));
    go(`/elevation/${await keepWall(wall, site)}`, true);
  };
  const part = { wall, change, wrong, site };
  return (
    <Page title={t("start_form")} sub={t("start_form_sub")} place="walls" back="/walls" actions={allowed ? <Button kind="primary" onPress={() => void keep()}>{t("start_keep")}</Button> : null}>
      {allowed ? (
        <div class="form first-wall">
          <Names {...part} />
          <Sizes {...part} />
          <Pick
            legend={t("structure_material")} columns={3} value={wall.material} wrong={wrong.material} onPick={(material) => change({ material })}
            options={vocabularyList("wall_materials").map(({ id }) => ({ id, label: shortLabel(vocabularyWord("wall_materials", id)) }))}
          />
          <Pick
            legend={t("elevation_faces")} help="bearing" columns={4} value={wall.bearing_deg === null ? null : String(wall.bearing_deg)} wrong={wrong.bearing} onPick={(deg) => change({ bearing_deg: Number(deg) })}
            options={POINTS.map((deg) => ({ id: String(deg), label: showBearing(deg) }))}
          />
        </div>
      ) : <NotAllowed />}
    </Page>
  );
}
