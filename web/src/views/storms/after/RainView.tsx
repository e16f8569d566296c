/** What one storm drove onto each side: the rose, the table, each wall by height, and what the sum cannot tell. */
import { NoSides } from "./NoSides";
import { useState } from "preact/hooks";
import { limitsOf } from "../../../model/storm/rain_drawing";
import type { Storm } from "../../../model/types";
import { row, whole } from "../../../store";
import { Button } from "../../../parts/frame/Button";
import { Card } from "../../../parts/frame/Card";
import { Link } from "../../../parts/frame/Link";
import { Page } from "../../../parts/frame/Page";
import { go } from "../../../parts/frame/route";
import { t } from "../../../words";
import { showBearing } from "../../../words/measures";
import { NotHere } from "../../NotHere";
import { type SideRow, doseFigures, doseUnit, facesWords, sidesBy } from "./doses";
import { RainLegend } from "./RainHatch";
import { RainWall } from "./RainWall";
import { Rose } from "./Rose";
import "./after.css";

/** Drawn at once; the rest on asking, so that a site of thirty sides opens quickly on an old phone. */
const WALLS_FIRST = 6;

function SidesTable({ sides }: { sides: readonly SideRow[] }) {
  return (
    <table class="rain-sides">
      <caption class="unseen">{t("rain_sides")}</caption>
      <thead><tr><th scope="col">{t("rain_side")}</th><th scope="col">{t("rain_faces")}</th><th scope="col">{t("rain_dose")}, {doseUnit()}</th></tr></thead>
      <tbody>
        {sides.map(({ elevation, name, dose }) => (
          <tr key={elevation.id}>
            <th scope="row"><Link to={`/elevation/${elevation.id}`} class="plain-link">{name}</Link></th>
            <td>{facesWords(elevation)}</td>
            <td>{doseFigures(dose)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Limits({ storm }: { storm: Storm }) {
  return (
    <Card title={t("rain_limits")}>
      <ul class="rain-limits">
        {limitsOf(storm).map((limit) => <li key={limit}><b>{t(`rain_limit_${limit}`)}</b></li>)}
        <li>{t("rain_limit_standard")}</li>
        <li>{t("rain_limit_place")}</li>
        <li>{t("rain_limit_height")}</li>
        <li>{t("rain_limit_steps")}</li>
      </ul>
    </Card>
  );
}

function Walls({ sides, storm }: { sides: readonly SideRow[]; storm: Storm }) {
  const [all, setAll] = useState(false);
  const shown = all ? sides : sides.slice(0, WALLS_FIRST);
  return (
    <Card title={t("rain_walls")}>
      <RainLegend />
      <div class="rain-walls">{shown.map((side) => <RainWall key={side.elevation.id} side={side} storm={storm} />)}</div>
      {shown.length < sides.length ? <Button onPress={() => setAll(true)}>{t("rain_walls_more", { n: sides.length - shown.length })}</Button> : null}
    </Card>
  );
}

export function RainView({ params }: { params: Record<string, string> }) {
  const storm = row("storm", params.id);
  if (!storm) return whole.value ? <NotHere /> : <p class="splash">{t("loading")}</p>;
  const sides = sidesBy(storm);
  const known = sides.some((one) => one.dose);
  return (
    <Page title={t("rain_title")} sub={storm.name} place="storms" back={`/storm/${storm.id}`}
      actions={<Button kind="primary" onPress={() => go(`/storm/${storm.id}/first`)}>{t("first_title")}</Button>}>
      {known ? (
        <>
          <div class="rain-top"><Rose storm={storm} sides={sides} /><Card title={t("rain_sides")} help="dose"><SidesTable sides={sides} /></Card></div>
          <Walls sides={sides} storm={storm} />
        </>
      ) : sides.length ? <Card><p>{t("rain_unknown")}</p></Card> : <NoSides />}
      <Limits storm={storm} />
    </Page>
  );
}
