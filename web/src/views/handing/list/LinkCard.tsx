/** How a hand-out reaches its helper: a one-time link as a code for their camera, and a sheet of paper. */
import { useState } from "preact/hooks";
import type { Handout } from "../../../model/types";
import { type Invite, currentSite, invite, paperAddress, settings, syncNow } from "../../../store";
import { t } from "../../../words";
import { showDate } from "../../../words/measures";
import { Button } from "../../../parts/frame/Button";
import { Card } from "../../../parts/frame/Card";
import { LinkCode } from "../../../parts/frame/LinkCode";
import { useAsking } from "../../phone/asking";

export function LinkCard({ handout, unsaved }: { handout: Handout; unsaved: boolean }) {
  const [made, setMade] = useState<Invite | null>(null);
  const { ask, trouble, asking } = useAsking();
  const make = () => ask(async () => {
    // The link opens only what the server knows of.
    await syncNow();
    if (currentSite.value) setMade(await invite(currentSite.value, "helper", handout.id));
  });
  const sheet = paperAddress(handout.site_id, "handout", { id: handout.id, language: handout.language ?? settings.value.language, measures: settings.value.measures });
  return (
    <Card title={t("handout_reach")}>
      {unsaved ? <p class="wrong">{t("handout_keep_first")}</p> : null}
      <p>{t("handout_reach_say")}</p>
      <div class="deeds">
        <Button kind="primary" disabled={asking} onPress={() => void make()}>{t(made ? "handout_link_another" : "handout_link")}</Button>
        <a class="btn" href={sheet} target="_blank" rel="noopener">{t("handout_print")}</a>
      </div>
      <p class="hint">{t("handout_print_say")}</p>
      {trouble ? <p class="wrong" role="alert">{trouble}</p> : null}
      {made ? <p>{t("handout_link_say", { date: showDate(made.expires_at) })}</p> : null}
      {made ? <LinkCode key={made.token} link={made.link} svg={made.qr_svg} alt={t("handout_code")} title={t("handout_title")} /> : null}
    </Card>
  );
}
