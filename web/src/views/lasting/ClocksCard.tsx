/** Woven bag or straw laid bare: weeks since it was first seen so, on a clock with its bounds. */
import { type Bare, bareClock } from "../../model/lasting/clocks";
import { dayOf } from "../../model/storm/limits";
import { catalogue, row, table } from "../../store";
import { readingsOf } from "../../store/lookup";
import { Card } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { defectLabel, isClosed } from "../../parts/judged";
import { today } from "../../parts/lasting/ledger";
import { sourceIn } from "../../parts/ticket/Basis";
import { kindWords, wallWords } from "../../parts/ticket/gathered";
import { t } from "../../words";
import { showDate } from "../../words/measures";

/** What lies bare, the longest first. */
export function bareNow(): Bare[] {
  const clocks = catalogue.value?.lasting?.clocks ?? [];
  const now = today();
  return [...table("defect").value.values()].flatMap((defect) => {
    const wall = row("structure", row("elevation", defect.elevation_id)?.structure_id)?.wall_material ?? null;
    const found = isClosed(defect) ? null : bareClock(defect, readingsOf(defect.id), wall, clocks, now, dayOf);
    return found ? [found] : [];
  }).sort((a, b) => b.stage - a.stage || b.weeks - a.weeks);
}

const SEGMENT = 30;

/** One box a bound, filled as far as it is passed. */
function Dial({ bare }: { bare: Bare }) {
  const n = bare.clock.weeks.length;
  return (
    <svg width={n * SEGMENT + 2} height="22" aria-hidden="true" class="dial">
      {bare.clock.weeks.map((bound, i) => <g key={bound}><rect x={1 + i * SEGMENT} y="1" width={SEGMENT} height="20" class={i < bare.stage ? "dial-on" : "dial-off"} /><text x={1 + i * SEGMENT + SEGMENT / 2} y="16" text-anchor="middle" class={i < bare.stage ? "dial-on" : "dial-off"}>{bound}</text></g>)}
    </svg>
  );
}

export function ClocksCard() {
  const all = bareNow();
  if (!all.length) return null;
  const first = all[0]?.clock;
  return (
    <Card title={t("clock_title")} tone="caution">
      <ul class="rows">
        {all.map((one) => (
          <li key={one.defect.id}>
            <Link class="row-link" to={`/defect/${one.defect.id}`}>
              <span class="grow">{defectLabel(one.defect)} {kindWords(one.defect)}<small class="block">{wallWords(one.defect)}</small><small class="block">{t(`clock_${one.clock.id}`, { n: one.weeks, date: showDate(one.since) })}</small></span>
              <Dial bare={one} />
            </Link>
          </li>
        ))}
      </ul>
      <p class="hint">{t("clock_hint", { source: sourceIn(first?.source ?? "") })}</p>
    </Card>
  );
}
