/** What is still to be paid and carried, in loads a person can carry. */
import { type Line, loadsOf, totalsOf } from "../../model/materials/buying";
import { UNITS } from "../../model/units";
import { t } from "../../words";
import { isUs, showMass } from "../../words/measures";
import { Card } from "../../parts/frame/Card";
import { Pick } from "../../parts/frame/Field";
import { totalWords } from "./lineWords";

const POUND_KG = UNITS.lb[1];
/** Loads to choose from, as people say them; assumed, nobody's limit. */
const LOADS_KG = [10, 15, 18, 25];
const LOADS_LB = [20, 30, 40, 50];
const usualLoads = (): number[] => (isUs() ? LOADS_LB.map((pounds) => pounds * POUND_KG) : LOADS_KG);

/** The load chosen, or the nearest there is in this device's measures. */
export function loadNow(chosen: number | null): number {
  const wanted = chosen ?? 18;
  return usualLoads().reduce((best, one) => (Math.abs(one - wanted) < Math.abs(best - wanted) ? one : best));
}

export function loadsWords(lines: readonly Line[], load_kg: number): string {
  const loads = loadsOf(lines, load_kg);
  return loads.count === 0 ? "" : t("buying_loads", { n: loads.count, mass: showMass(totalsOf(lines).carry_kg), each: showMass(loads.each_kg) });
}

type Props = { lines: readonly Line[]; load_kg: number; onLoad: (load_kg: number) => void };

export function TotalsCard({ lines, load_kg, onLoad }: Props) {
  const totals = totalsOf(lines);
  const loads = loadsOf(lines, load_kg);
  if (lines.length === 0) return null;
  const done = lines.every((line) => line.have);
  return (
    <Card title={t("buying_totals")}>
      <div role="status">
        {done ? <p><strong>{t("buying_total_done")}</strong></p> : null}
        {totalWords(totals).map((words) => <p key={words}>{words}</p>)}
        {loads.count > 0 ? <p><strong>{loadsWords(lines, load_kg)}</strong></p> : null}
        {loads.bag_too_heavy ? <p>{t("buying_bag_heavy")}</p> : null}
      </div>
      {loads.count > 0 ? (
        <Pick
          legend={t("buying_load_most")} columns={4} value={String(load_kg)} onPick={(load) => onLoad(Number(load))}
          options={usualLoads().map((load) => ({ id: String(load), label: showMass(load) }))}
        />
      ) : null}
    </Card>
  );
}
