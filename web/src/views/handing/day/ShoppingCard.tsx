/** What must be bought for all that is planned: merged first, rounded up once; ticked off as on the shopping list. */
import type { Catalogue } from "../../../model/catalogue";
import type { Ticket } from "../../../model/types";
import { catalogue, currentSite, readDraft, saveDraft } from "../../../store";
import { t } from "../../../words";
import { Button } from "../../../parts/frame/Button";
import { go } from "../../../parts/frame/route";
import { LinesCard } from "../../buying/LinesCard";
import { TotalsCard, loadNow } from "../../buying/TotalsCard";
import { WeightBars } from "../../buying/WeightBars";
import { type BuyingDraft, FRESH, gather } from "../../buying/gathering";
import "../../buying/buying.css";

const key = (): string => `buying/${currentSite.value ?? ""}`;
const kept = (): BuyingDraft => readDraft<BuyingDraft>(key()) ?? FRESH;
const keep = (change: Partial<BuyingDraft>) => void saveDraft<BuyingDraft>(key(), { ...kept(), ...change });

function Lines({ tickets, book }: { tickets: readonly Ticket[]; book: Catalogue }) {
  const { have, load } = kept();
  const { lines, water_l } = gather(tickets, book, have);
  const flip = (id: string, on: boolean) => keep({ have: on ? [...have.filter((one) => one !== id), id] : have.filter((one) => one !== id) });
  return (
    <>
      <LinesCard lines={lines} water_l={water_l} onHave={flip} />
      <TotalsCard lines={lines} load_kg={loadNow(load)} onLoad={(next) => keep({ load: next })} />
      <WeightBars lines={lines} />
    </>
  );
}

/** `tickets`: those the plan has work for. */
export function ShoppingCard({ tickets }: { tickets: readonly Ticket[] }) {
  const book = catalogue.value;
  if (!book || tickets.length === 0) return null;
  const ids = tickets.map((ticket) => ticket.id).join(",");
  return (
    <details class="handing-fold">
      <summary><h2>{t("day_shopping")}</h2></summary>
      <Lines tickets={tickets} book={book} />
      <div class="deeds"><Button onPress={() => go(`/buying?tickets=${ids}`)}>{t("day_shopping_open")}</Button></div>
    </details>
  );
}
