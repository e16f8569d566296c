/** How an estimate came about: each step with its sum in words, what went in, where that comes from, and its range. */
import type { ComponentChildren } from "preact";
import { type Catalogue, type Method, mixName, nameOf } from "../../../model/catalogue";
import { type Repair, withoutLoss } from "../../../model/repair/repair";
import type { Layer } from "../../../model/materials/job";
import type { Range } from "../../../model/types";
import { catalogue, row } from "../../../store";
import { language, t } from "../../../words";
import { showArea, showMm, showNumber, showPercent, showVolume } from "../../../words/measures";
import { Card } from "../../frame/Card";
import { Help } from "../../help/Help";
import { defectLabel } from "../../judged";
import { bucketL, oneUnit, orderWords, rangeWords, unitAmount } from "../amountWords";
import { SourceWords, basisWords } from "../Basis";
import { HowSizes } from "./HowSizes";
import { MovesBars } from "./MovesBars";
import { RangeBar } from "../RangeBar";
import { partsWords } from "../PartsBar";
import { PerLitreLines } from "../PerLitre";

type Props = { repair: Repair; method: Method };

/** Where a number comes from, in one line. */
export function Source({ basis, source }: { basis: string; source: string }) {
  return <p class="hint source"><span><SourceWords source={source} /></span> <small class="basis">{basisWords(basis)}</small></p>;
}

export function Step({ title, children }: { title: string; children: ComponentChildren }) {
  return <li class="how-step"><Card title={title}>{children}</Card></li>;
}

function Ranged({ words, range, show }: { words: string; range: Range; show: (value: number) => string }) {
  return (
    <div class="ranged">
      <p>{words} <strong>{show(range.likely)}</strong> <small>{rangeWords(range, show)}</small></p>
      <RangeBar range={range} />
    </div>
  );
}

const factor = (value: number): string => showNumber(value, 3);

function layerWords(layer: Layer, repair: Repair, area_m2: number): string {
  if (layer.thickness_mm === null) return layer.part === "fill" ? t("how_layer_fill") : t("how_layer_wash", { area: showArea(area_m2) });
  return t("how_layer", { area: showArea(area_m2), mm: showMm(layer.thickness_mm), volume: showVolume(withoutLoss(layer, repair.loss).likely) });
}

function LayersStep({ repair, method, book }: Props & { book: Catalogue }) {
  const loss = repair.loss;
  return (
    <Step title={t("how_layers_title")}>
      <p>{t("how_layers_say", { low: factor(method.thickness_factor.low), high: factor(method.thickness_factor.high), loss: showPercent(loss.likely), factor: factor(1 + loss.likely) })}</p>
      {repair.parts.map((part) => {
        const defect = row("defect", part.defect_id);
        return (
          <section key={part.defect_id}>
            {repair.parts.length > 1 && defect ? <h3>{t("how_of_mark", { mark: defectLabel(defect) })}</h3> : null}
            {part.estimate.layers.map((layer, i) => (
              <div key={i}>
                <Ranged words={`${nameOf(book, "mixes", layer.mix, language())}:`} range={layer.wet_l} show={showVolume} />
                <p class="hint">{layerWords(layer, repair, layer.part === "dub_out" ? part.estimate.area_m2 : part.estimate.coated_area_m2)}</p>
              </div>
            ))}
          </section>
        );
      })}
      <Source basis={method.basis} source={method.source} />
      <p class="hint">{t(loss.low === loss.high ? "how_loss_set" : "how_loss_method")}</p>
    </Step>
  );
}

function MixStep({ id, wet_l, book }: { id: string; wet_l: Range; book: Catalogue }) {
  const mix = book.mixes[id];
  if (!mix) return null;
  const voids = mix.yield.voids_filled;
  return (
    <Step title={t("how_mix_title", { mix: mixName(mix, language()) })}>
      <p>{partsWords(mix)}</p>
      <p>{t("how_mix_say", { volume: showVolume(wet_l.likely) })}</p>
      <h3>{t("how_per_unit", { unit: oneUnit() })}</h3>
      <PerLitreLines mix={mix} litres={wet_l.likely} sourced />
      {voids === null ? null : <Help about="voids"><p class="hint">{t("how_voids", { share: showPercent(voids) })}</p></Help>}
      <p class="hint">{t("how_yield")}</p>
      <Source basis={mix.basis} source={mix.source} />
    </Step>
  );
}

function BatchStep({ repair, book }: { repair: Repair; book: Catalogue }) {
  return (
    <Step title={t("batches_title")}>
      <p>{t("how_batches_say")}</p>
      <ul>
        {repair.mixes.map((need) => {
          const mix = book.mixes[need.mix];
          if (!mix || need.batches.count === 0) return null;
          const words = { mix: mixName(mix, language()), volume: showVolume(need.wet_l.likely), vessel: showVolume(mix.container_l), hours: mix.working_h.low,
            speed: showVolume(mix.laying_l_per_h), n: need.batches.count, each: showVolume(need.batches.each_l) };
          return <li key={need.mix}>{t("how_batch", words)}</li>;
        })}
      </ul>
      <Source basis="assumed" source={t("how_batch_source")} />
    </Step>
  );
}

function OrderStep({ repair, book }: { repair: Repair; book: Catalogue }) {
  return (
    <Step title={t("how_order_title")}>
      <p>{t("how_order_say", { bucket: showVolume(bucketL()) })}</p>
      <ul>
        {Object.entries(repair.purchases).map(([id, bought]) => {
          const material = book.materials[id];
          const order = material ? orderWords(id, material, bought) : "";
          if (!material || !order) return null;
          return <li key={id}>{t("how_order", { material: material.words[language()], high: unitAmount(material, bought.need.amount.high), order, left: unitAmount(material, Math.max(0, bought.left)) })}</li>;
        })}
      </ul>
    </Step>
  );
}

function ExtrasStep({ method, book }: { method: Method; book: Catalogue }) {
  if (method.extra.length === 0) return null;
  return (
    <Step title={t("how_extras_title")}>
      <ul>
        {method.extra.map((extra) => {
          const material = book.materials[extra.material];
          const each = extra.per_m2 ?? extra.per_m ?? extra.per_each;
          if (!material || !each) return null;
          const of = extra.per_m2 ? "how_extra_m2" : extra.per_m ? "how_extra_m" : "how_extra_each";
          return <li key={extra.material}>{t(of, { material: material.words[language()], amount: rangeWords(each, factor) })}</li>;
        })}
      </ul>
      <Source basis={method.basis} source={method.source} />
    </Step>
  );
}

export function HowSteps({ repair, method }: Props) {
  const book = catalogue.value;
  if (!book) return null;
  const laid = repair.with_loss_l.likely > 0;
  return (
    <>
      <p>{t("how_lead")}</p>
      <ol class="how-steps">
        <HowSizes repair={repair} method={method} />
        {laid ? <LayersStep repair={repair} method={method} book={book} /> : null}
        {repair.mixes.map((need) => <MixStep key={need.mix} id={need.mix} wet_l={need.wet_l} book={book} />)}
        <ExtrasStep method={method} book={book} />
        {laid ? <BatchStep repair={repair} book={book} /> : null}
        {Object.keys(repair.purchases).length > 0 ? <OrderStep repair={repair} book={book} /> : null}
        {laid ? <Step title={t("moves_title")}><MovesBars repair={repair} method={method} book={book} /></Step> : null}
      </ol>
    </>
  );
}
