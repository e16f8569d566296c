/** What is on this wall here, and since when: tap a spot, read every finish that ever lay there, newest first. */
import { useState } from "preact/hooks";
import { viewsOf } from "../../model/drawing/projection";
import { laidAt } from "../../model/lasting/place";
import type { Elevation, Finish, View, WallPoint } from "../../model/types";
import { row, whole } from "../../store";
import { finishesOf, structureOf } from "../../store/lookup";
import { CoatLayers } from "../../parts/drawing/CoatLayers";
import { WallDrawing } from "../../parts/drawing/WallDrawing";
import { Card, Chip } from "../../parts/frame/Card";
import { Pick } from "../../parts/frame/Field";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import type { Params } from "../../parts/frame/route";
import { dayWords, standWords } from "../../parts/lasting/lastedWords";
import { entryOf } from "../../parts/lasting/ledger";
import { t } from "../../words";
import { showDate } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";
import { NotHere } from "../NotHere";
import "./lasting.css";

function Layer({ finish, wallLabel, on }: { finish: Finish; wallLabel: string; on: boolean }) {
  const followed = entryOf(finish.id)?.followed;
  const when = finish.ended_on ? t("here_from_to", { from: dayWords(finish.made_on), to: showDate(finish.ended_on) }) : finish.made_on ? t("finish_since", { date: showDate(finish.made_on) }) : t("here_since_unknown");
  return (
    <Card title={finish.name} aside={<Chip strong={on}>{t(on ? "here_now" : finish.ended_on ? "here_gone" : "here_under")}</Chip>}>
      <p>{when}{finish.by ? <> · {finish.by}</> : null}</p>
      <CoatLayers coats={finish.coats} wallLabel={wallLabel} />
      {followed ? <p>{standWords(followed, "l_m2")}</p> : null}
      <Link class="plain-link" to={`/finish/${finish.id}`}>{t("here_more")}</Link>
    </Card>
  );
}

/** Without a tap, everything on the side: what a keyboard or a screen reader reads. */
function Layers({ elevation, spot, view }: { elevation: Elevation; spot: WallPoint | undefined; view: View }) {
  const all = spot
    ? laidAt(elevation.surface, finishesOf(elevation.id), { view, shape: "pin", points_m: [spot] })
    : [...finishesOf(elevation.id)].reverse();
  const label = vocabularyWord("wall_materials", structureOf(elevation)?.wall_material ?? null);
  const top = spot ? (all.find((one) => !one.ended_on && one.region) ?? all.find((one) => !one.ended_on)) : undefined;
  return (
    <>
      <p role="status">{spot ? t("here_found", { n: all.length }) : t("here_tap")}</p>
      {all.map((one) => <Layer key={one.id} finish={one} wallLabel={label} on={spot ? one === top : !one.ended_on} />)}
    </>
  );
}

function Here({ elevation }: { elevation: Elevation }) {
  const [spot, setSpot] = useState<readonly WallPoint[]>([]);
  const [view, setView] = useState<View>("seen");
  const views = viewsOf(elevation.surface);
  const name = [structureOf(elevation)?.name, elevation.name].filter(Boolean).join(" · ");
  return (
    <Page title={t("here_title")} sub={name} place="walls" back={`/elevation/${elevation.id}`} wide>
      <div>
        {views.length > 1 ? (
          <Pick legend={t("elevation_view")} hideLegend columns={views.length === 2 ? 2 : 3} value={view} options={views.map((id) => ({ id, label: t(`elevation_view_${id}`) }))}
            onPick={(next) => {
              setView(next);
              setSpot([]);
            }}
          />
        ) : null}
        <WallDrawing elevation={elevation} view={view} marks={[]} mode="pin" draft={spot} onDraft={setSpot} finishes={finishesOf(elevation.id)} label={t("here_drawing", { name })} ask={t(spot.length ? "here_again" : "here_ask")} />
      </div>
      <div><Layers elevation={elevation} spot={spot.at(-1)} view={view} /></div>
    </Page>
  );
}

export function HereView({ params }: { params: Params }) {
  const elevation = row("elevation", params.id);
  if (!elevation) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  return <Here elevation={elevation} />;
}
