/** What each finish was seen to stand, as bars on one scale: full where it was seen sound, hatched where it let go somewhere, an arrow where it still stands. */
import { type Measure, spanOf } from "../../model/lasting/group";
import { Link } from "../../parts/frame/Link";
import { showAmount, standWords } from "../../parts/lasting/lastedWords";
import type { Entry } from "../../parts/lasting/ledger";
import { t } from "../../words";

type BarProps = { entry: Entry; measure: Measure; most: number; hatch: string };

const HIGH = 22;
/** Room on the right for the arrow of what still stands. */
const SHARE = 0.94;
const pct = (value: number, most: number) => `${(100 * SHARE * value) / most}%`;

function End({ at, open }: { at: string; open: boolean }) {
  return (
    <svg x={at} y="0" width="1" height={HIGH} overflow="visible">
      {open ? <path class="bar-on" d={`M0 11h11m-5 -5l6 5l-6 5`} /> : <path class="bar-gone" d="M-5 5l10 12m0 -12l-10 12" />}
    </svg>
  );
}

function Bar({ entry, measure, most, hatch }: BarProps) {
  const span = spanOf(entry.followed, measure);
  if (!span) return <svg class="lasted-bar" width="100%" height={HIGH} aria-hidden="true"><path class="bar-none" d="M0 11h400" /></svg>;
  const { left, right } = span;
  return (
    <svg class="lasted-bar" width="100%" height={HIGH} aria-hidden="true">
      <rect class={entry.followed.verdict === "worn" ? "bar-stood bar-worn" : "bar-stood"} x="0" y="5" width={pct(left, most)} height="12" />
      {right !== null && right > left ? <rect x={pct(left, most)} y="5" width={pct(right - left, most)} height="12" fill={`url(#${hatch})`} class="bar-between" /> : null}
      <path class="bar-foot" d="M1 2v18" />
      <End at={pct(right ?? left, most)} open={right === null} />
    </svg>
  );
}

/** Round steps of a scale, none beyond `most`. */
export function ticks(most: number): number[] {
  const rough = most / 4;
  const tens = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((n) => n * tens).find((one) => one >= rough) ?? rough;
  return Array.from({ length: Math.floor(most / step) + 1 }, (_, i) => i * step);
}

function Axis({ measure, most }: { measure: Measure; most: number }) {
  const all = ticks(most);
  return (
    <svg class="lasted-bar bar-axis" width="100%" height="30" aria-hidden="true">
      {all.map((at, i) => (
        <svg key={at} x={pct(at, most)} y="0" width="1" height="30" overflow="visible">
          <path d="M0 0v6" />
          {i === 0 || i === all.length - 1 ? <text x={i === 0 ? 0 : 8} y="22" text-anchor={i === 0 ? "start" : "end"}>{i === 0 ? "0" : showAmount(at, measure)}</text> : null}
        </svg>
      ))}
    </svg>
  );
}

export function BarHatch({ id }: { id: string }) {
  return (
    <svg width="0" height="0" class="bar-hatches" aria-hidden="true">
      <defs>
        <pattern id={id} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="6" height="6" fill="#fff" /><path d="M0 0v6" stroke="var(--clay)" stroke-width="3.5" /></pattern>
      </defs>
    </svg>
  );
}

export function Bars({ entries, measure, most, hatch }: { entries: readonly Entry[]; measure: Measure; most: number; hatch: string }) {
  return (
    <>
      <ul class="bars">
        {entries.map((entry) => (
          <li key={entry.finish.id}>
            <Link class="bar-link" to={`/finish/${entry.finish.id}`}>
              <span><b>{entry.finish.name}</b> <small>{[entry.structure?.name, entry.elevation.name].filter(Boolean).join(" · ")}{entry.finish.sample_panel ? ` · ${t("finish_panel")}` : ""}</small></span>
              <Bar entry={entry} measure={measure} most={most} hatch={hatch} />
              <small class="bar-words">{standWords(entry.followed, measure)}</small>
            </Link>
          </li>
        ))}
      </ul>
      <Axis measure={measure} most={most} />
    </>
  );
}
