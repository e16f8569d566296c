/** What the site's own jobs say of loss and thickness: shown, taken into estimates or refused. */
import { comparedWith } from "../../../model/closing/compare";
import { type Job, type OwnFigures, ownFigures } from "../../../model/closing/own_figures";
import type { Site } from "../../../model/types";
import { catalogue, put, table } from "../../../store";
import { stepsOf } from "../../../store/lookup";
import { t } from "../../../words";
import { showNumber, showPercent } from "../../../words/measures";
import { Button } from "../../../parts/frame/Button";
import { Card } from "../../../parts/frame/Card";
import { may } from "../../../parts/may";
import { reckonUsual, siteNow } from "../../../parts/ticket/gathered";

/** One job for each ticket whose last "done" told amounts; planned as the methods say, without figures taken before. */
function jobs(): Job[] {
  const book = catalogue.value;
  return [...table("ticket").value.values()].flatMap((ticket) => {
    const done = [...stepsOf(ticket.id)].reverse().find((step) => step.kind === "done" && step.used !== null);
    const reckoned = done ? reckonUsual(ticket, book) : null;
    if (!done || !reckoned || !("repair" in reckoned)) return [];
    const { repair } = reckoned;
    const compared = comparedWith(done.used, repair.materials);
    const planned_mm = repair.coated_area_m2 > 0 ? repair.in_place_l.likely / repair.coated_area_m2 : null;
    return compared ? [{ ...compared, planned_loss: repair.loss.likely, laid_mm: done.thickness_mm, planned_mm }] : [];
  });
}

const thicknessWords = (found: OwnFigures): string => (found.thickness_factor === null ? "" : t("own_taken_thickness", { factor: showNumber(found.thickness_factor, 2) }));

function Offer({ found, site, set }: { found: OwnFigures; site: Site; set: (fields: Partial<Site>) => void }) {
  return (
    <>
      <p>{t("own_loss", { loss: showPercent(found.loss), before: site.loss === null ? t("own_usual") : showPercent(site.loss) })}</p>
      {found.thickness_factor === null ? null : <p>{t("own_thickness", { factor: showNumber(found.thickness_factor, 2) })}</p>}
      <div class="deeds">
        <Button onPress={() => set({ own_figures: false })}>{t("own_refuse")}</Button>
        <Button kind="primary" onPress={() => set({ own_figures: true, loss: found.loss, thickness_factor: found.thickness_factor })}>{t("own_take")}</Button>
      </div>
    </>
  );
}

export function OwnFiguresCard() {
  const found = ownFigures(jobs());
  const site = siteNow();
  if (!found || !site) return null;
  const set = (fields: Partial<Site>) => void put("site", site.id, fields, site.rev);
  const mine = may("edit", "site");
  const words = { loss: showPercent(found.loss), thickness: thicknessWords(found) };
  return (
    <Card title={t("own_title")}>
      <p>{t("own_say", { n: found.jobs, percent: showPercent(found.used_over_planned) })}</p>
      {site.own_figures === null && mine ? <Offer found={found} site={site} set={set} /> : null}
      {site.own_figures === true ? <p>{t("own_taken", { loss: showPercent(site.loss ?? found.loss), thickness: site.thickness_factor === null ? "" : t("own_taken_thickness", { factor: showNumber(site.thickness_factor, 2) }) })}</p> : null}
      {site.own_figures === false ? <p>{t("own_refused", words)}</p> : null}
      {site.own_figures === true && mine ? <Button onPress={() => set({ own_figures: false, loss: null, thickness_factor: null })}>{t("own_back")}</Button> : null}
      {site.own_figures === false && mine ? <Button onPress={() => set({ own_figures: null })}>{t("change")}</Button> : null}
    </Card>
  );
}
