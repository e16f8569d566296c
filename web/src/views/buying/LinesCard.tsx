/** The lines to buy, each with a big box to tick it off. */
import type { Line } from "../../model/materials/buying";
import { t } from "../../words";
import { volumeInMeasures } from "../../parts/ticket/amountWords";
import { BasisMark } from "../../parts/ticket/Basis";
import { Card, Empty } from "../../parts/frame/Card";
import { leftWords, needWords, nameWords, orderWords, priceWords, weightWords } from "./lineWords";

function BuyingLine({ line, onHave }: { line: Line; onHave: (have: boolean) => void }) {
  const name = nameWords(line);
  return (
    <li class={line.have ? "buying-line had" : "buying-line"}>
      <label class={line.have ? "tile tick on buying-have" : "tile tick buying-have"}>
        <input type="checkbox" checked={line.have} aria-label={t("buying_have_of", { material: name })} onChange={(event) => onHave(event.currentTarget.checked)} />
        <span class="tile-name">{t("buying_have")}</span>
      </label>
      <div class="grow">
        <p><strong class="buying-order">{orderWords(line)}</strong> <span class="block">{name} <BasisMark basis={line.material.basis} /></span></p>
        <p class="hint">{needWords(line)} {leftWords(line)}</p>
        <p class="hint">{weightWords(line)} {priceWords(line)}</p>
      </div>
    </li>
  );
}

type Props = { lines: readonly Line[]; water_l: number; onHave: (id: string, have: boolean) => void };

export function LinesCard({ lines, water_l, onHave }: Props) {
  return (
    <Card title={t("buying_lines")}>
      {lines.length === 0 ? <Empty small scene="buying">{t("buying_nothing")}</Empty> : <ul class="rows">{lines.map((line) => <BuyingLine key={line.id} line={line} onHave={(have) => onHave(line.id, have)} />)}</ul>}
      {water_l > 0 ? <p class="hint">{t("buying_water", { volume: volumeInMeasures(water_l) })}</p> : null}
    </Card>
  );
}
