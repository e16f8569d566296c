/** How the numbers of a ticket came about, step by step. */
import type { Ticket } from "../../model/types";
import { catalogue } from "../../store";
import { language, refusalWords, t } from "../../words";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import { HowSteps } from "../../parts/ticket/how/HowSteps";
import { reckon, ticketName } from "../../parts/ticket/gathered";

export function HowView({ ticket }: { ticket: Ticket }) {
  const reckoned = reckon(ticket, catalogue.value);
  const method = reckoned && "repair" in reckoned ? reckoned.repair.method : null;
  return (
    <Page title={t("how_title")} sub={[ticketName(ticket), method?.words[language()].name].filter(Boolean).join(" · ")} place="tickets" back={`/ticket/${ticket.id}`}>
      {reckoned && "repair" in reckoned && method ? <HowSteps repair={reckoned.repair} method={method} /> : null}
      {reckoned && "refused" in reckoned ? <p class="wrong">{refusalWords(reckoned.refused)}</p> : null}
      <p><Link to={`/ticket/${ticket.id}`} class="btn">{t("how_back")}</Link></p>
      {reckoned ? null : <p>{t("method_none")}</p>}
    </Page>
  );
}
