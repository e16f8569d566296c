/** One side with the rain driven onto its parts, by colour and hatch; the table below it says the same. */
import { useId } from "preact/hooks";
import { extentOf } from "../../../model/drawing/projection";
import { partOutline, stepOf } from "../../../model/storm/rain_drawing";
import { type Part, type Told, type ToldDose, partDoses, partsOf } from "../../../model/storm/told";
import { t } from "../../../words";
import { lowEnd, showBearing, showMetres } from "../../../words/measures";
import { WallGround, pathOf } from "../../../parts/drawing/WallGround";
import { type SideRow, doseNumber, doseUnit } from "./doses";
import { RainHatches } from "./RainHatch";

const BANDS = 4;
const [LARGEST_PX, HIGHEST_PX] = [300, 190];

type Wet = { part: Part; dose: ToldDose | null };

function Parts({ wet, surface, prefix }: { wet: readonly Wet[]; surface: SideRow["elevation"]["surface"]; prefix: string }) {
  return (
    <g aria-hidden="true">
      {wet.map(({ part, dose }, i) => dose === null ? null : (
        <path key={i} class="rain-part" d={pathOf(partOutline(surface, part), true)} fill={`url(#${prefix}-${stepOf(dose.likely)})`} />
      ))}
    </g>
  );
}

function PartsTable({ wet }: { wet: readonly Wet[] }) {
  const turns = [...new Set(wet.map(({ part }) => part.turn_deg))];
  const bands = [...new Set(wet.map(({ part }) => part.low_m))].reverse();
  const cell = (turn: number, low: number) => wet.find(({ part }) => part.turn_deg === turn && part.low_m === low);
  const bearing = (turn: number) => showBearing(wet.find(({ part }) => part.turn_deg === turn)?.part.face.bearing_deg ?? 0);
  const height = (low: number, high: number) => t("rain_from_to", { from: lowEnd(showMetres(low), showMetres(high)), to: showMetres(high) });
  return (
      <table class="rain-parts">
        <caption>{t("rain_parts_table", { unit: doseUnit() })}</caption>
        <thead><tr><th scope="col">{t("rain_height")}</th>{turns.map((turn) => <th key={turn} scope="col">{bearing(turn)}</th>)}</tr></thead>
        <tbody>
          {bands.map((low) => (
            <tr key={low}>
              <th scope="row">{height(low, cell(turns[0] ?? 0, low)?.part.high_m ?? low)}</th>
              {turns.map((turn) => <td key={turn} data-face={bearing(turn)}>{doseNumber(cell(turn, low)?.dose?.likely ?? 0)}</td>)}
            </tr>
          ))}
        </tbody>
      </table>
  );
}

export function RainWall({ side, storm }: { side: SideRow; storm: Told }) {
  const prefix = `rain${useId()}`;
  const { elevation } = side;
  const parts = partsOf(elevation.surface, elevation.bearing_deg, BANDS);
  const doses = partDoses(storm, parts);
  const wet = parts.map((part, i): Wet => ({ part, dose: doses[i] ?? null }));
  const box = extentOf(elevation.surface, "seen");
  const [wide, high] = [box.x1 - box.x0, box.y1 - box.y0];
  const m_per_px = Math.max(wide / LARGEST_PX, high / HIGHEST_PX);
  const edge = 6 * m_per_px;
  return (
    <div class="rain-wall">
      <h3>{side.name}</h3>
      <svg class="small-wall" role="img" aria-label={t("rain_wall_said", { side: side.name })} width={Math.round((wide + 2 * edge) / m_per_px)} height={Math.round((high + 2 * edge) / m_per_px)}
        viewBox={`${box.x0 - edge} ${-box.y1 - edge} ${wide + 2 * edge} ${high + 2 * edge}`}>
        <RainHatches prefix={prefix} scale={m_per_px} />
        <WallGround elevation={elevation} view="seen" m_per_px={m_per_px} />
        <Parts wet={wet} surface={elevation.surface} prefix={prefix} />
        <WallGround elevation={elevation} view="seen" m_per_px={m_per_px} seeThrough />
      </svg>
      <details><summary>{t("rain_parts_show")}</summary><PartsTable wet={wet} /></details>
    </div>
  );
}
