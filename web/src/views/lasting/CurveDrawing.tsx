/** The share still sound over rain or days. Within a hatched box nobody knows when it fell: only before it and after it. */
import type { IntervalCurve } from "../../model/lasting/turnbull";
import type { Measure } from "../../model/lasting/group";
import { showAmount } from "../../parts/lasting/lastedWords";
import { t } from "../../words";
import { showPercent } from "../../words/measures";
import { ticks } from "./Bars";

const [WIDE, HIGH, LEFT, TOP, RIGHT, FOOT] = [320, 198, 44, 26, 12, 38];
type Drop = { from: number; to: number | null; before: number; after: number };

/** The falls of the curve, in order; `to` null: never seen to fall. */
export function dropsOf(curve: IntervalCurve): Drop[] {
  let share = 1;
  return curve.support.flatMap(([from, to], i): Drop[] => {
    const before = share;
    if (!Number.isFinite(to)) return [];
    share -= curve.mass[i] ?? 0;
    return (curve.mass[i] ?? 0) > 1e-6 ? [{ from, to, before, after: Math.max(0, share) }] : [];
  });
}

/** `held`: how far each of those that held was seen to stand; beyond the longest of these the curve knows nothing of them. */
type Props = { curve: IntervalCurve; measure: Measure; most: number; hatch: string; held: readonly number[] };

export function CurveDrawing({ curve, measure, most, hatch, held }: Props) {
  const drops = dropsOf(curve);
  const x = (at: number) => LEFT + ((WIDE - LEFT - RIGHT) * Math.min(at, most)) / most;
  const y = (share: number) => TOP + (HIGH - TOP - FOOT) * (1 - share);
  const last = drops.at(-1);
  const flats = drops.map((drop, i) => ({ from: drops[i - 1]?.to ?? 0, to: drop.from, share: drop.before }));
  if (last?.to !== undefined && last.to !== null && last.after > 0) flats.push({ from: last.to, to: most, share: last.after });
  const steps = ticks(most);
  const end = steps.at(-1) ?? most;
  const words = drops.map((one) => t("curve_drop", { share: showPercent(one.after), from: showAmount(one.from, measure), to: showAmount(one.to ?? 0, measure) }));
  if (held.length) words.push(t("curve_rest", { n: held.length, amount: showAmount(Math.max(...held), measure) }));
  return (
    <figure class="curve">
      <svg viewBox={`0 0 ${WIDE} ${HIGH}`} role="img" aria-label={t("curve_words", { n: Math.round(curve.followed) })}>
        {[0, 0.5, 1].map((share) => <g key={share}><path class="curve-line" d={`M${LEFT} ${y(share)}H${WIDE - RIGHT}`} /><text x={LEFT - 5} y={y(share) + 4} text-anchor="end">{showPercent(share)}</text></g>)}
        <text x="0" y="13">{t("curve_sound")}</text>
        {steps.map((at) => <path key={at} class="curve-tick" d={`M${x(at)} ${y(0)}v5`} />)}
        <text x={LEFT} y={y(0) + 18}>0</text><text x={Math.min(WIDE - 2, x(end) + 12)} y={y(0) + 18} text-anchor="end">{showAmount(end, measure)}</text>
        <text x={WIDE - RIGHT} y={HIGH - 4} text-anchor="end">{t(`curve_along_${measure}`)}</text>
        {drops.map((one) => <rect key={one.from} class="bar-between" x={x(one.from)} y={y(one.before)} width={Math.max(1.5, x(one.to ?? most) - x(one.from))} height={y(one.after) - y(one.before)} fill={`url(#${hatch})`} />)}
        {flats.map((one) => <path key={one.from} class="curve-flat" d={`M${x(one.from)} ${y(one.share)}H${x(one.to)}`} />)}
      </svg>
      <figcaption><ul class="said">{words.map((one) => <li key={one}>{one}</li>)}</ul></figcaption>
    </figure>
  );
}
