/** One ticket: how it stands, where it is, what to do and what it takes, and each step so far. */
import type { Id, Ticket, TicketState } from "../../model/types";
import { useEffect, useState } from "preact/hooks";
import { catalogue, chooseSiteOf, limited, paperAddress, role, row, settings, whole } from "../../store";
import { t } from "../../words";
import { Button } from "../../parts/frame/Button";
import { roomy } from "../../parts/frame/looks";
import { Page } from "../../parts/frame/Page";
import { type Params, go } from "../../parts/frame/route";
import { Notes } from "../../parts/Notes";
import { FinishOffer } from "../../parts/lasting/FinishOffer";
import { ticketState } from "../../parts/judged";
import { EngineerFirst } from "../../parts/ticket/HazardCard";
import { finished } from "../../parts/ticket/PressingChip";
import { type Known, type Reckoned, engineerFirst, kindsWords, knownOf, reckon, siteNow, sizeWords, ticketName, wallsWords } from "../../parts/ticket/gathered";
import { StartDone } from "../../parts/start/StartCard";
import { BeforeAfterCard } from "./closing/BeforeAfterCard";
import { CureCard } from "./closing/CureCard";
import { RecheckCard } from "./closing/RecheckCard";
import { DefectsCard } from "./DefectsCard";
import { EditTicket } from "./form/EditTicket";
import { History } from "./History";
import { HowView } from "./HowView";
import { MethodFirst, MethodSecond, Planned } from "./MethodCards";
import { StandingCard } from "./StandingCard";
import { type AskedStep, StepView } from "./StepView";
import { TicketsBeside } from "./TicketsView";
import { TicketDeeds } from "./TicketDeeds";
import { mayEdit } from "./may";
import "./tickets.css";

/** The record of this repair, to print or to send. */
function ClosurePaper({ ticket }: { ticket: Ticket }) {
  if (ticket.rev === 0 || limited.value) return null;
  const { language, measures } = settings.value;
  return <div class="deeds"><a class="btn btn-quiet" href={paperAddress(ticket.site_id, "closure", { language, measures, id: ticket.id })} download="">{t("paper_closure")}</a></div>;
}

function NotOnPhone() {
  return (
    <Page title={t("not_here_title")} place="tickets" back="/tickets" actions={<Button kind="primary" onPress={() => go(limited.value ? "/list" : "/tickets")}>{t(limited.value ? "list_deed" : "tickets_all")}</Button>}>
      <p>{t(limited.value ? "list_ticket_elsewhere" : "ticket_elsewhere")}</p>
    </Page>
  );
}

/** Look on the other sites of this phone for a ticket that is not on this one, once; `site` is the one it was found on and brought to the screen. */
function useOtherSites(id: Id, missing: boolean): { id: Id; site: Id | null } | null {
  const [looked, setLooked] = useState<{ id: Id; site: Id | null } | null>(null);
  useEffect(() => {
    if (missing && looked?.id !== id) void chooseSiteOf("ticket", id).then((site) => setLooked({ id, site }));
  }, [id, missing]);
  return looked?.id === id ? looked : null;
}

/** Taking a ticket asks nothing: it is one tap on the ticket itself. */
function ToTicket({ id }: { id: Id }) {
  useEffect(() => go(`/ticket/${id}`, true), [id]);
  return <p class="splash">{t("loading")}</p>;
}

export function TicketView({ params }: { params: Params }) {
  const id = params.id ?? "";
  const ticket = row("ticket", id);
  const looked = useOtherSites(id, whole.value && !ticket);
  if (!ticket) return whole.value && looked ? <NotOnPhone /> : <Page title={t("place_tickets")} place="tickets" back="/tickets"><p>{t("loading")}</p></Page>;
  if (params.how) return <HowView ticket={ticket} />;
  if (params.edit) return <EditTicket ticket={ticket} />;
  if (params.step === "taken") return <ToTicket id={id} />;
  if (params.step) return <StepView ticket={ticket} kind={params.step as AskedStep} />;
  return <Whole ticket={ticket} moved={looked?.site === ticket.site_id} />;
}

type Parts = { ticket: Ticket; known: readonly Known[]; state: TicketState; reckoned: Reckoned | null };

function NotesAndDeeds({ ticket }: { ticket: Ticket }) {
  return (
    <>
      <Notes ofType="ticket" ofId={ticket.id} />
      <ClosurePaper ticket={ticket} />
      {mayEdit(role.value) ? <div class="deeds"><Button onPress={() => go(`/ticket/${ticket.id}?edit=1`)}>{t("ticket_change")}</Button></div> : null}
    </>
  );
}

/** Work to be done: which spot on which wall, then what it takes and how, then what happened so far. */
function ToDo({ ticket, known, state, reckoned }: Parts) {
  return (
    <>
      <div>
        <StandingCard ticket={ticket} known={known} state={state} />
        <DefectsCard known={known} />
        <MethodFirst ticket={ticket} reckoned={reckoned} />
      </div>
      <div>
        <MethodSecond ticket={ticket} reckoned={reckoned} />
        <BeforeAfterCard ticket={ticket} />
        <FinishOffer ticket={ticket} />
        <History ticket={ticket} />
        <NotesAndDeeds ticket={ticket} />
      </div>
    </>
  );
}

/** Work that is done: what still cures, how it looks, what happened; the plan is past and folded. */
function Finished({ ticket, known, state, reckoned }: Parts) {
  return (
    <>
      <div>
        <StandingCard ticket={ticket} known={known} state={state} />
        <CureCard ticket={ticket} state={state} />
        {state === "checked" ? <RecheckCard ticket={ticket} /> : null}
        <DefectsCard known={known} past />
        <BeforeAfterCard ticket={ticket} />
      </div>
      <div>
        <History ticket={ticket} />
        <Planned ticket={ticket} reckoned={reckoned} />
        <FinishOffer ticket={ticket} />
        <NotesAndDeeds ticket={ticket} />
      </div>
    </>
  );
}

function Whole({ ticket, moved }: { ticket: Ticket; moved: boolean }) {
  const known = knownOf(ticket.defect_ids);
  const state = ticketState(ticket);
  const reckoned = reckon(ticket, catalogue.value);
  const kinds = kindsWords(known);
  // Several kinds are too long for a heading on a phone.
  const one = !kinds.includes(", ");
  const sub = [one ? "" : kinds, wallsWords(known), sizeWords(known)].filter(Boolean).join(" · ");
  return (
    <Page title={[ticketName(ticket), one ? kinds : ""].filter(Boolean).join(" · ")} sub={sub} place="tickets" back="/tickets" actions={<TicketDeeds ticket={ticket} state={state} />}>
      {moved ? <p role="status">{t("ticket_other_site", { site: siteNow()?.name ?? "" })}</p> : null}
      <StartDone />
      {state !== "checked" && engineerFirst(ticket.method, known) ? <EngineerFirst /> : null}
      <div class="ticket-columns ticket-whole">
        {finished(state) ? <Finished ticket={ticket} known={known} state={state} reckoned={reckoned} /> : <ToDo ticket={ticket} known={known} state={state} reckoned={reckoned} />}
        {roomy.value && !limited.value ? <TicketsBeside open={ticket.id} /> : null}
      </div>
    </Page>
  );
}
