/** After a repair: the offer to note what now covers the patch, so that the ledger can follow it. */
import type { Ticket } from "../../model/types";
import { row } from "../../store";
import { t } from "../../words";
import { Card } from "../frame/Card";
import { Link } from "../frame/Link";
import { may } from "../may";
import { withoutFinish } from "./repaired";

export function FinishOffer({ ticket }: { ticket: Ticket }) {
  const [first] = withoutFinish(ticket);
  if (!first || !may("make", "finish") || !row("elevation", first.elevation)) return null;
  return (
    <Card title={t("finish_offer")}>
      <p>{t("finish_offer_say")}</p>
      <Link class="btn" to={`/finish/new?elevation=${first.elevation}&ticket=${ticket.id}&defect=${first.defect}`}>{t("finish_offer_deed")}</Link>
    </Card>
  );
}
