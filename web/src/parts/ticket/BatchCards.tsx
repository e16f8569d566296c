/** A card per mix with what goes into one batch, drawn as a bar of parts and measured out. */
import { type Material, type Mix, mixName } from "../../model/catalogue";
import { recipe } from "../../model/materials/batch";
import type { MixNeed } from "../../model/materials/job";
import { catalogue } from "../../store";
import { language, t } from "../../words";
import { showMass, showVolume } from "../../words/measures";
import { batchInMeasures, bigAmount, isWeighed } from "./amountWords";
import { PartsBar } from "./PartsBar";
import { materialsInOrder } from "./PerLitre";

/** The same amount by mass, and by volume where the big words are neither. */
function besides(material: Material, amount: number, loose_l: number | null): string {
  const big = bigAmount(material, amount, loose_l);
  const own = material.unit === "l" ? showVolume(amount) : isWeighed(material, loose_l) ? "" : showMass(amount);
  return [own, loose_l === null || material.small ? "" : showVolume(loose_l)].filter((words, i, all) => words && words !== big && all.indexOf(words) === i).join(" · ");
}

/** What goes into so many litres in place, one line per material. */
export function RecipeLines({ mix, litres }: { mix: Mix; litres: number }) {
  const book = catalogue.value;
  if (!book) return null;
  const amounts = recipe(mix.per_l, litres);
  return (
    <ul class="rows plain-rows">
      {materialsInOrder(mix).map(([id]) => {
        const each = amounts[id];
        const material = book.materials[id];
        if (!material || !each) return null;
        const amount = (material.unit === "l" ? each.l : each.kg)?.likely ?? 0;
        const note = mix.additions.find((one) => one.material === id)?.note[language()];
        return (
          <li key={id}>
            <span class="grow">{id === "water" ? t("material_water") : material.words[language()]}{note ? <small class="block">{note}</small> : null}</span>
            <span class="num"><strong>{bigAmount(material, amount, each.l?.likely ?? null)}</strong><small class="block">{besides(material, amount, each.l?.likely ?? null)}</small></span>
          </li>
        );
      })}
    </ul>
  );
}

export const batchWords = (need: MixNeed): string => t("batches", { n: need.batches.count, each: batchInMeasures(need.batches.each_l) });

function BatchCard({ need, mix }: { need: MixNeed; mix: Mix }) {
  return (
    <details class="batch">
      <summary><strong>{mixName(mix, language())}</strong><span class="block">{t("mix_amount", { volume: showVolume(need.wet_l.likely) })} {batchWords(need)}</span></summary>
      <PartsBar mix={mix} />
      <h3>{t("batch_one")}</h3>
      <RecipeLines mix={mix} litres={need.batches.each_l} />
      <p class="hint">{t(need.batches.limited_by === "time" ? "batch_by_time" : "batch_by_vessel", { hours: mix.working_h.low, vessel: showVolume(mix.container_l) })}</p>
    </details>
  );
}

export function BatchCards({ mixes }: { mixes: readonly MixNeed[] }) {
  const book = catalogue.value;
  const shown = mixes.flatMap((need) => {
    const mix = book?.mixes[need.mix];
    return mix && need.batches.count > 0 ? [<BatchCard key={need.mix} need={need} mix={mix} />] : [];
  });
  return <>{shown}</>;
}
