/** Dated steps of a plan, one line per coat with its bar on a common scale of days: drawing and words together. */
import type { ComponentChildren } from "preact";
import { type CuringPlan, type DatedStep, type LaidCoat, dayNumber } from "../../model/waiting/curing";
import { catalogue } from "../../store";
import { t } from "../../words";
import { showDate } from "../../words/measures";
import { BasisMark } from "../ticket/Basis";
import { coatThenMix } from "../ticket/coatWords";

/** First day and last day of the drawing, as days since 1970. */
type Scale = { first: number; last: number };
const WIDTH = 340;
const EDGE = 8;

const place = (date: string, { first, last }: Scale): number => EDGE + ((WIDTH - 2 * EDGE) * (dayNumber(date) - first)) / Math.max(1, last - first);

function Bar({ scale, children }: { scale: Scale; children: ComponentChildren }) {
  const weeks = Array.from({ length: Math.min(60, Math.floor((scale.last - scale.first) / 7)) }, (_, i) => EDGE + ((WIDTH - 2 * EDGE) * 7 * (i + 1)) / Math.max(1, scale.last - scale.first));
  return (
    <svg class="curing-bar" viewBox={`0 0 ${WIDTH} 20`} aria-hidden="true" preserveAspectRatio="none">
      <path d={`M${EDGE} 10H${WIDTH - EDGE}${weeks.map((x) => `M${x} 7V13`).join("")}`} stroke="var(--line)" stroke-width="1.5" />
      {children}
    </svg>
  );
}

/** A block for the day of laying with strokes to its earliest and latest day, dots while it is kept damp. */
function CoatBar({ lay, damp, scale }: { lay: DatedStep; damp: DatedStep; scale: Scale }) {
  const x = (date: string) => place(date, scale);
  return (
    <Bar scale={scale}>
      <path d={`M${x(lay.likely)} 10H${x(damp.likely)}`} stroke="var(--indigo)" stroke-width="8" stroke-dasharray="2.5 3.5" />
      <path d={`M${x(lay.earliest)} 10H${x(lay.latest)}M${x(lay.earliest)} 5V15M${x(lay.latest)} 5V15`} stroke="var(--indigo)" stroke-width="1.6" fill="none" />
      <rect x={x(lay.likely) - 5} y="2" width="10" height="16" rx="2" fill="var(--indigo)" />
    </Bar>
  );
}

function CoatLine({ coat, lay, damp, scale }: { coat: LaidCoat; lay: DatedStep; damp: DatedStep; scale: Scale }) {
  const dates = { date: showDate(lay.likely), early: showDate(lay.earliest), late: showDate(lay.latest) };
  return (
    <li>
      <p><strong>{t(lay.earliest === lay.latest ? "curing_lay" : "curing_lay_spread", dates)}</strong></p>
      <CoatBar lay={lay} damp={damp} scale={scale} />
      <p class="hint">{t("curing_coat", { coat: coatThenMix(coat.place) })} {coat.damp_days.high > 0 ? t("curing_damp", { date: showDate(damp.likely) }) : t("curing_damp_none")}</p>
    </li>
  );
}

/** The basis that is known least well among the coats' frost figures. */
const frostBasis = (coats: readonly LaidCoat[]): string => {
  const bases = coats.map((coat) => catalogue.value?.mixes[coat.place.mix]?.frost_free_days?.basis ?? "assumed");
  return bases.includes("assumed") ? "assumed" : (bases.find((basis) => basis !== "read") ?? "read");
};

function FrostLine({ step, start, scale, coats }: { step: DatedStep; start: string; scale: Scale; coats: readonly LaidCoat[] }) {
  const [from, to] = [place(start, scale), place(step.likely, scale)];
  return (
    <li>
      <p><strong>{t("curing_frost", { date: showDate(step.likely) })}</strong> <BasisMark basis={frostBasis(coats)} /></p>
      <Bar scale={scale}><path d={`M${from} 10H${to}`} stroke="var(--ochre)" stroke-width="3" /><path d={`M${to} 3V17`} stroke="var(--ochre)" stroke-width="4" /></Bar>
      <p class="hint">{t("curing_frost_say")}</p>
    </li>
  );
}

function CheckLines({ checks, scale }: { checks: readonly DatedStep[]; scale: Scale }) {
  return (
    <li>
      <p><strong>{t("curing_check")}</strong> {checks.map((step) => showDate(step.likely)).join("; ")}</p>
      <Bar scale={scale}>
        {checks.map((step) => { const x = place(step.likely, scale); return <path key={step.likely} d={`M${x} 2L${x + 7} 10L${x} 18L${x - 7} 10z`} fill="#fff" stroke="var(--ink)" stroke-width="2" />; })}
      </Bar>
      <p class="hint">{t("curing_after_storm")}</p>
    </li>
  );
}

export function CuringList({ plan, coats }: { plan: CuringPlan; coats: readonly LaidCoat[] }) {
  const days = plan.steps.flatMap((step) => [dayNumber(step.likely), ...(step.kind === "lay" ? [dayNumber(step.latest)] : [])]);
  const scale: Scale = { first: Math.min(...days), last: Math.max(...days) };
  const of = (kind: DatedStep["kind"]) => plan.steps.filter((step) => step.kind === kind);
  const [laid, damped] = [of("lay"), of("damp_until")];
  const frost = of("frost_free_until")[0];
  const start = laid[0]?.likely ?? "";
  const dates = plan.steps.map((step) => step.likely);
  return (
    <>
      <ol class="curing">
        {coats.map((coat, i) => {
          const [lay, damp] = [laid.find((step) => step.coat === i), damped.find((step) => step.coat === i)];
          return lay && damp ? <CoatLine key={i} coat={coat} lay={lay} damp={damp} scale={scale} /> : null;
        })}
        {frost ? <FrostLine step={frost} start={start} scale={scale} coats={coats} /> : null}
        <CheckLines checks={of("check")} scale={scale} />
      </ol>
      <p class="hint curing-scale">{t("curing_scale", { from: showDate(dates[0] ?? start), to: showDate(dates.at(-1) ?? start) })}</p>
    </>
  );
}
