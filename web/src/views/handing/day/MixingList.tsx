/** What is mixed when: each batch with its time, and what goes into it. */
import { mixName } from "../../../model/catalogue";
import type { Batch } from "../../../model/planning/shapes";
import { catalogue, row } from "../../../store";
import { language, t } from "../../../words";
import { showVolume } from "../../../words/measures";
import { PartsBar } from "../../../parts/ticket/PartsBar";
import { RecipeLines } from "../../../parts/ticket/BatchCards";
import { clockWords, jobName } from "./dayWords";

function OneBatch({ batch }: { batch: Batch }) {
  const mix = catalogue.value?.mixes[batch.mix];
  if (!mix) return null;
  const place = row("structure", batch.place)?.name ?? "";
  const tickets = batch.jobs.map(jobName).join(", ");
  return (
    <details class="batch">
      <summary>
        <strong>{t("batch_at", { time: clockWords(batch.at_h), volume: showVolume(batch.litres), mix: mixName(mix, language()) })}</strong>
        <span class="block">{[place, tickets, t("batch_until", { time: clockWords(batch.until_h) })].filter(Boolean).join(" · ")}</span>
      </summary>
      <PartsBar mix={mix} />
      <RecipeLines mix={mix} litres={batch.litres} />
    </details>
  );
}

export function MixingList({ batches }: { batches: readonly Batch[] }) {
  if (batches.length === 0) return <p class="hint">{t("mixing_none")}</p>;
  return (
    <>
      <h3>{t("mixing_title")}</h3>
      {batches.map((batch) => <OneBatch key={`${batch.mix}${batch.place}${batch.at_h}`} batch={batch} />)}
    </>
  );
}
