/** One shopping list for several tickets: merged first, rounded up once, ticked off on this phone. */
import { useEffect } from "preact/hooks";
import { totalsOf } from "../../model/materials/buying";
import type { Id, Ticket } from "../../model/types";
import { catalogue, currentSite, readDraft, saveDraft, whole } from "../../store";
import { t } from "../../words";
import { Button } from "../../parts/frame/Button";
import { Card, Empty } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import { type Params, go } from "../../parts/frame/route";
import { may } from "../../parts/may";
import { EngineerFirst, HazardCard } from "../../parts/ticket/HazardCard";
import { kindsWords, knownOf, ticketName, wallsWords } from "../../parts/ticket/gathered";
import { GateCard } from "../../parts/waiting/GateCard";
import { LinesCard } from "./LinesCard";
import { PickTickets } from "./PickTickets";
import { SendList } from "./SendList";
import { TotalsCard, loadNow, loadsWords } from "./TotalsCard";
import { WeightBars } from "./WeightBars";
import { type BuyingDraft, FRESH, choosable, chosenOf, gather } from "./gathering";
import { engineerWords, listAsText, ticketNames } from "./lineWords";
import "./buying.css";

const key = (): string => `buying/${currentSite.value ?? ""}`;
const kept = (): BuyingDraft => readDraft<BuyingDraft>(key()) ?? FRESH;
const keep = (change: Partial<BuyingDraft>) => void saveDraft<BuyingDraft>(key(), { ...kept(), ...change });

/** Tickets named in the address become the choice of this phone, so that the list is the same when it is opened again. */
function useNamedTickets(named: string | undefined): Id[] | null {
  useEffect(() => {
    if (!named) return;
    keep({ picked: named.split(",") });
    go("/buying", true);
  }, [named]);
  return named ? named.split(",") : kept().picked;
}

/** The way to the sums of each ticket, folded: a list as long as the one to buy. */
function HowCard({ chosen }: { chosen: readonly Ticket[] }) {
  return (
    <details class="card how">
      <summary>{t("buying_how", { n: chosen.length })}</summary>
      <ul class="rows">
        {chosen.map((ticket) => {
          const known = knownOf(ticket.defect_ids);
          return (
            <li key={ticket.id}>
              <Link class="row-link" to={`/ticket/${ticket.id}?how=1`}>
                <span class="grow"><strong>{[ticketName(ticket), kindsWords(known)].filter(Boolean).join(" · ")}</strong><small class="block">{wallsWords(known)}</small></span>
                <span aria-hidden="true">›</span>
              </Link>
            </li>
          );
        })}
      </ul>
    </details>
  );
}

function List({ picked }: { picked: Id[] | null }) {
  const { have, load } = kept();
  const book = catalogue.value;
  const chosen = chosenOf(picked);
  if (!book) return <p>{t("loading")}</p>;
  if (chosen.length === 0) return <p>{t("buying_none_chosen")}</p>;
  const found = gather(chosen, book, have);
  const load_kg = loadNow(load);
  const text = listAsText(found, chosen, totalsOf(found.lines), loadsWords(found.lines, load_kg));
  const onHave = (id: string, on: boolean) => keep({ have: on ? [...have.filter((one) => one !== id), id] : have.filter((one) => one !== id) });
  return (
    <>
      {engineerWords(found).length > 0 ? <><EngineerFirst />{engineerWords(found).map((words) => <p key={words}>{words}</p>)}</> : null}
      <div class="buying">
        <div>
          <LinesCard lines={found.lines} water_l={found.water_l} onHave={onHave} />
          {found.left_out.length > 0 ? <p class="wrong">{t("buying_not_counted", { tickets: ticketNames(found.left_out) })}</p> : null}
        </div>
        <div>
          <TotalsCard lines={found.lines} load_kg={load_kg} onLoad={(next) => keep({ load: next })} />
          {found.lines.length > 0 ? <SendList text={text} /> : null}
          {currentSite.value && may("edit", "site") ? <p class="deeds buying-bags"><Link to={`/site/${currentSite.value}`} class="btn">{t("buying_bags_deed")}</Link></p> : null}
          <WeightBars lines={found.lines} />
          <HowCard chosen={chosen} />
          <HazardCard hazards={found.hazards} />
          <div class="buying-gate"><GateCard of={key()} frost_free_days={found.frost_free_days}><p class="hint">{t("buying_gate_hint")}</p></GateCard></div>
        </div>
      </div>
    </>
  );
}

export function BuyingView({ params }: { params: Params }) {
  const picked = useNamedTickets(params.tickets);
  const all = choosable(picked);
  const chosen = chosenOf(picked);
  return (
    <Page title={t("buying_title")} sub={chosen.length > 0 ? t("buying_sub", { n: chosen.length }) : ""} place="tickets" back="/tickets">
      {all.length === 0 ? (
        whole.value ? <Empty scene="buying" action={<Button onPress={() => go("/tickets")}>{t("tickets_all")}</Button>}>{t("buying_none")}</Empty> : <p>{t("loading")}</p>
      ) : <><PickTickets all={all} chosen={chosen} onPick={(next) => keep({ picked: next })} /><List picked={picked} /></>}
    </Page>
  );
}
