/** One mix as a card for the mixing place: parts, so many litres of it measured out, times, cautions and where it comes from. */
import { type Mix, mixName } from "../../model/catalogue";
import { type Params, go } from "../../parts/frame/route";
import { catalogue } from "../../store";
import { language, t } from "../../words";
import { showArea, showMm, showNumber } from "../../words/measures";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { Page } from "../../parts/frame/Page";
import { Source } from "../../parts/ticket/how/HowSteps";
import { HazardCard } from "../../parts/ticket/HazardCard";
import { PartsBar, partsWords } from "../../parts/ticket/PartsBar";
import { WarningCard } from "../../parts/ticket/Warnings";
import { PerLitreLines } from "../../parts/ticket/PerLitre";
import { oneUnit, rangeWords } from "../../parts/ticket/amountWords";
import { daysWords } from "../../parts/ticket/CoatsTimeline";
import { LitresCard } from "./LitresCard";
import "./mixes.css";

const whole = (value: number): string => showNumber(value, 0);

function TimesCard({ mix }: { mix: Mix }) {
  const lines: [string, string][] = [
    [t("mix_working"), t("mix_hours", { range: rangeWords(mix.working_h, whole) })],
    [t("mix_damp"), mix.damp_days.high > 0 ? daysWords(mix.damp_days) : t("mix_damp_none")],
    [t("mix_interval"), daysWords(mix.interval_days)],
    ...(mix.coat_mm ? [[t("mix_coat"), rangeWords(mix.coat_mm, showMm)] as [string, string]] : []),
    ...(mix.coverage_m2_per_l ? [[t("mix_coverage"), rangeWords(mix.coverage_m2_per_l, showArea)] as [string, string]] : []),
  ];
  return (
    <Card title={t("mix_times")}>
      <dl class="times">{lines.map(([name, value]) => <div key={name}><dt>{name}</dt><dd>{value}</dd></div>)}</dl>
    </Card>
  );
}

/** Kilograms and litres for one litre on the wall, with their range. */
function PerLitreCard({ mix }: { mix: Mix }) {
  return (
    <Card title={t("how_per_unit", { unit: oneUnit() })}>
      <PerLitreLines mix={mix} />
      <p class="hint">{t("how_yield")}</p>
    </Card>
  );
}

export function MixView({ params }: { params: Params }) {
  const id = params.id ?? "";
  const mix = catalogue.value?.mixes[id];
  if (!mix) {
    return (
      <Page title={t("not_here_title")} place="mixes" back="/mixes" actions={<Button kind="primary" onPress={() => go("/mixes")}>{t("mixes_all")}</Button>}>
        <p>{t("mix_unknown")}</p>
      </Page>
    );
  }
  return (
    <Page title={mixName(mix, language())} sub={mix.words[language()].use} place="mixes" back="/mixes">
      <div class="mix-columns">
        <div>
          <Card title={t("mix_parts")}><PartsBar mix={mix} /><p>{partsWords(mix)}</p><p class="hint">{t("mix_parts_say")}</p></Card>
          <LitresCard id={id} mix={mix} />
          <HazardCard hazards={mix.hazards} />
          <WarningCard warnings={mix.warnings} />
        </div>
        <div>
          <TimesCard mix={mix} />
          <PerLitreCard mix={mix} />
          <Card title={t("mix_source")}><Source basis={mix.basis} source={mix.source} /><p class="hint">{t("mix_panel")}</p></Card>
        </div>
      </div>
    </Page>
  );
}
