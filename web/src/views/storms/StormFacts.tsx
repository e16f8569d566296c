/** What is recorded of a storm, as terms and figures; what was not recorded says so. */
import type { ComponentChildren } from "preact";
import { beaufort } from "../../model/storm/scales";
import type { Storm } from "../../model/types";
import { t } from "../../words";
import { showMm } from "../../words/measures";
import { peakAside, rainAside, rainWords, showHours, showSpeed, windWords } from "./weather";

function Fact({ term, children, aside }: { term: string; children: ComponentChildren; aside?: string | null }) {
  return (
    <div class="fact">
      <dt>{term}</dt>
      <dd>{children}{aside ? <small>{aside}</small> : null}</dd>
    </div>
  );
}

function hailWords(hail: boolean | null): string {
  if (hail === null) return t("not_recorded");
  return t(hail ? "storms_hail_yes" : "storms_hail_no");
}

/** The wettest hour with its class, and the wettest day; on the storm's own page "not recorded" where nobody measured. */
function Worst({ storm, whole }: { storm: Storm; whole?: boolean }) {
  const { rain_1h_mm: hour, rain_24h_mm: day } = storm;
  return (
    <>
      {hour !== null || whole ? <Fact term={t("storms_rain_1h")} aside={hour === null ? null : peakAside(hour)}>{hour === null ? t("not_recorded") : showMm(hour)}</Fact> : null}
      {day !== null || whole ? <Fact term={t("storms_rain_24h")}>{day === null ? t("not_recorded") : showMm(day)}</Fact> : null}
    </>
  );
}

export function StormFacts({ storm, whole }: { storm: Storm; whole?: boolean }) {
  const { wind_m_s: wind, gust_m_s: gust, hail, rain_mm: rain, duration_h: hours } = storm;
  return (
    <dl class="facts">
      <Fact term={t("storms_rain")} aside={whole ? null : rainAside(storm)}>{rainWords(storm)}</Fact>
      {rain === null && hours !== null ? <Fact term={t("storms_lasted")}>{showHours(hours)}</Fact> : null}
      <Worst storm={storm} whole={whole} />
      <Fact term={t("storms_wind")} aside={wind === null ? null : t("storms_force", { n: beaufort(wind) })}>{windWords(storm)}</Fact>
      <Fact term={t("storms_gust")} aside={gust === null ? null : t("storms_gust_force", { n: beaufort(gust) })}>
        {gust === null ? t("not_recorded") : showSpeed(gust)}
      </Fact>
      {whole || hail ? <Fact term={t("storms_hail")}>{hailWords(hail)}</Fact> : null}
    </dl>
  );
}
