/** What one litre (or gallon) in place takes of each material, with its range; times an amount where there is one. */
import type { Mix, PerLitre } from "../../model/catalogue";
import { catalogue } from "../../store";
import { language, t } from "../../words";
import { showMass, showVolume } from "../../words/measures";
import { perUnitMass, perUnitVolume, rangeWords } from "./amountWords";
import { BasisMark, SourceWords } from "./Basis";

/** The materials of a mix in the order of its parts, then water, then what is added. */
export function materialsInOrder(mix: Mix): [string, PerLitre][] {
  const first = [...mix.parts.map((part) => part.material), "water", ...mix.additions.map((one) => one.material)];
  const rank = (id: string) => (first.includes(id) ? first.indexOf(id) : first.length);
  return Object.entries(mix.per_l).sort((a, b) => rank(a[0]) - rank(b[0]));
}

type LineProps = { id: string; each: PerLitre; litres: number | null; sourced: boolean };

function PerLitreLine({ id, each, litres, sourced }: LineProps) {
  const material = catalogue.value?.materials[id];
  if (!material) return null;
  const poured = material.unit === "l";
  const own = poured ? each.l : each.kg;
  if (!own) return null;
  const show = poured ? perUnitVolume : perUnitMass;
  const loose = !poured && each.l ? ` · ${t("amount_loose", { amount: perUnitVolume(each.l.likely) })}` : "";
  const needed = litres === null ? null : poured ? showVolume(own.likely * litres) : showMass(own.likely * litres);
  return (
    <li>
      <span class="grow">
        {material.words[language()]} <BasisMark basis={material.basis} />
        {sourced ? <small class="block"><SourceWords source={material.source} /></small> : null}
      </span>
      <span class="per">
        <strong>{show(own.likely)}</strong>{loose}
        <small class="block">{rangeWords(own, show)}</small>
        {needed ? <span class="block">{t("how_times", { needed })}</span> : null}
      </span>
    </li>
  );
}

/** `litres`: multiply by it and show what is needed; `sourced`: say where each material's density comes from. */
export function PerLitreLines({ mix, litres = null, sourced = false }: { mix: Mix; litres?: number | null; sourced?: boolean }) {
  return <ul class="rows plain-rows">{materialsInOrder(mix).map(([id, each]) => <PerLitreLine key={id} id={id} each={each} litres={litres} sourced={sourced} />)}</ul>;
}
