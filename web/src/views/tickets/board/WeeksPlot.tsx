/** How much was still open week by week: bars with their areas, and the same as a table. */
import type { Week } from "../../../model/closing/board";
import { t } from "../../../words";
import { isUs, showArea, showDate, showNumber, typedFromArea } from "../../../words/measures";

const [WIDTH, HEIGHT, FOOT] = [360, 120, 98];

const areaNumber = (area_m2: number): string => showNumber(typedFromArea(area_m2) ?? 0, area_m2 < 10 && !isUs() ? 1 : 0);

/** The areas to write over the bars: the first, the last, and each that differs from the week before; all twelve would touch. */
function labels(weeks: readonly Week[]): string[] {
  const all = weeks.map((week) => areaNumber(week.open.area_m2));
  return all.map((one, i) => (i === 0 || i === all.length - 1 || one !== all[i - 1] ? one : ""));
}

function Bars({ weeks, full }: { weeks: readonly Week[]; full: number }) {
  const step = WIDTH / weeks.length;
  const words = labels(weeks);
  return (
    <>
      {weeks.map((week, i) => {
        const height = (84 * week.open.area_m2) / full;
        return (
          <g key={week.ends_on}>
            <rect class="week-bar" x={i * step + 3} y={FOOT - height} width={step - 6} height={height} />
            <text x={i * step + step / 2} y={FOOT - height - 3} text-anchor="middle">{words[i]}</text>
          </g>
        );
      })}
      <path d={`M0 ${FOOT}H${WIDTH}`} stroke="var(--ink)" stroke-width="1.5" />
    </>
  );
}

export function WeeksPlot({ weeks }: { weeks: readonly Week[] }) {
  const full = Math.max(...weeks.map((one) => one.open.area_m2), 0.01);
  const [first, last] = [weeks[0], weeks.at(-1)];
  if (!first || !last) return null;
  const words = t("board_weeks_alt", { n: weeks.length, first: showArea(first.open.area_m2), last: showArea(last.open.area_m2) });
  return (
    <>
      <svg class="weeks-plot" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-label={words}>
        <Bars weeks={weeks} full={full} />
        <text x="2" y={HEIGHT - 6}>{showDate(first.ends_on)}</text>
        <text x={WIDTH - 2} y={HEIGHT - 6} text-anchor="end">{showDate(last.ends_on)}</text>
      </svg>
      <details class="how">
        <summary>{t("board_as_table")}</summary>
        <table class="plain">
          <thead><tr><th scope="col">{t("board_week")}</th><th scope="col">{t("place_tickets")}</th><th scope="col">{t("board_totals")}</th></tr></thead>
          <tbody>{weeks.map((week) => <tr key={week.ends_on}><th scope="row">{showDate(week.ends_on)}</th><td>{week.open.tickets}</td><td>{showArea(week.open.area_m2)}</td></tr>)}</tbody>
        </table>
      </details>
    </>
  );
}
