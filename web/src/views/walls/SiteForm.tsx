/** The site: its name, and the few settings that estimates read. */
import { useState } from "preact/hooks";
import type { Site } from "../../model/types";
import { chooseSite, me, newId, putMany, row } from "../../store";
import { useDraft } from "../../parts/draft";
import { Button } from "../../parts/frame/Button";
import { NumberField, TextField } from "../../parts/frame/Field";
import { Page } from "../../parts/frame/Page";
import { type Params, go } from "../../parts/frame/route";
import { leadToWrong } from "../../parts/frame/wrong";
import { may } from "../../parts/may";
import { t } from "../../words";
import { litresFromTyped, showNumber, typedFromLitres, volumeUnit } from "../../words/measures";
import { NotHere } from "../NotHere";
import { NotAllowed } from "./DropAsk";
import { BagsFields, wrongBag } from "./fields/BagsFields";

type SiteDraft = Pick<Site, "name" | "note" | "currency" | "bucket_l" | "loss" | "bags">;
const begin = (site: Site | undefined): SiteDraft => ({
  name: site?.name ?? "", note: site?.note ?? null, currency: site?.currency ?? null, bucket_l: site?.bucket_l ?? null, loss: site?.loss ?? null,
  bags: site?.bags ?? null,
});
const outside = (value: number | null, low: number, high: number) =>
  (value !== null && !(value >= low && value <= high) ? t("form_number", { low: showNumber(low), high: showNumber(high) }) : null);

/** What is wrong with each field, in words. */
function wrongWith(site: SiteDraft) {
  return {
    name: site.name.trim() ? null : t("form_need_name"), bucket: outside(typedFromLitres(site.bucket_l), typedFromLitres(0.5) ?? 0, typedFromLitres(60) ?? 60),
    loss: outside(site.loss === null ? null : site.loss * 100, 0, 100), currency: site.currency && !/^[A-Za-z]{3}$/.test(site.currency) ? t("site_currency_hint") : null,
    bags: Object.values(site.bags ?? {}).map(wrongBag).map((one) => one.weight ?? one.price).find(Boolean) ?? null,
  };
}

function More({ site, change, wrong }: { site: SiteDraft; change: (fields: Partial<SiteDraft>) => void; wrong: ReturnType<typeof wrongWith> }) {
  return (
    <>
      <NumberField label={t("site_bucket")} hint={t("site_bucket_hint")} unit={volumeUnit()} value={typedFromLitres(site.bucket_l)} wrong={wrong.bucket} onInput={(value) => change({ bucket_l: litresFromTyped(value) })} />
      <NumberField
        label={t("site_loss")} hint={t("site_loss_hint")} unit="%" value={site.loss === null ? null : Math.round(site.loss * 1000) / 10} wrong={wrong.loss}
        onInput={(value) => change({ loss: value === null ? null : value / 100 })}
      />
      <TextField label={t("site_currency")} hint={t("site_currency_hint")} value={site.currency ?? ""} max={3} wrong={wrong.currency} onInput={(currency) => change({ currency: currency.toUpperCase() || null })} />
      <BagsFields bags={site.bags ?? {}} currency={site.currency ?? ""} change={(bags) => change({ bags })} />
      <TextField label={t("site_note")} long value={site.note ?? ""} max={4000} onInput={(note) => change({ note: note || null })} />
    </>
  );
}

export function SiteForm({ params }: { params: Params }) {
  const id = params.id ?? null;
  const known = row("site", id);
  const key = `site/${id ?? "new"}`;
  const [site, change] = useDraft(key, () => begin(known));
  const [tried, setTried] = useState(false);
  if (id && !known) return <NotHere />;
  const allowed = id ? may("edit", "site") : me.value?.may_found === true;
  const wrong = wrongWith(site);
  const keep = async () => {
    setTried(true);
    if ((await leadToWrong()) || Object.values(wrong).some(Boolean)) return;
    const [kept = ""] = await putMany([{ type: "site", id: id ?? newId(), set: { ...site, name: site.name.trim() } }], { draft: key });
    await chooseSite(kept);
    go("/walls", true);
  };
  return (
    <Page title={t(id ? "site_edit" : "site_new")} place="walls" back="/walls" actions={allowed ? <Button kind="primary" onPress={() => void keep()}>{t("site_keep")}</Button> : null}>
      {allowed ? (
        <form class="form" onSubmit={(event) => { event.preventDefault(); void keep(); }}>
          <TextField label={t("site_name")} hint={t("site_name_hint")} value={site.name} max={120} wrong={tried ? wrong.name : null} onInput={(name) => change({ name })} />
          {id ? <More site={site} change={change} wrong={wrong} /> : <details><summary>{t("site_more")}</summary><More site={site} change={change} wrong={wrong} /></details>}
        </form>
      ) : <NotAllowed />}
    </Page>
  );
}
