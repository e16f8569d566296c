/** The season plan: which walls need what, with material and work, as a plan to print. */
import { type Reason, type WallPlan, daysOfWork } from "../../model/lasting/season";
import type { Range, Ticket } from "../../model/types";
import { catalogue, row, whole } from "../../store";
import { Button } from "../../parts/frame/Button";
import { Card, Empty } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { Page } from "../../parts/frame/Page";
import { showDose } from "../../parts/lasting/lastedWords";
import { entryOf } from "../../parts/lasting/ledger";
import { may } from "../../parts/may";
import { kindWords, knownOf, methodHere, ticketName } from "../../parts/ticket/gathered";
import { gather } from "../buying/gathering";
import { nameWords, needWords, orderWords } from "../buying/lineWords";
import { language, t } from "../../words";
import { showNumber } from "../../words/measures";
import { openTickets, seasonNow } from "./seasonRows";
import "./lasting.css";

/** Assumed: two people who work six hours each. */
const [PEOPLE, DAY_H] = [2, 6];

const hoursWords = (hours: Range): string => t("season_hours", { likely: showNumber(hours.likely, 1), low: showNumber(hours.low, 1), high: showNumber(hours.high, 1) });

const methodWord = (ticket: Ticket): string => methodHere(ticket.method, knownOf(ticket.defect_ids), ticket.coats)?.words[language()].name ?? t("not_recorded");

function stormsWords(storms: number): string {
  return t("wear_storms_short", { n: Math.max(1, Math.round(storms)) });
}

function ReasonWords({ reason }: { reason: Reason }) {
  if (reason.why === "open") {
    const ticket = row("ticket", reason.ticket);
    if (!ticket) return null;
    return (
      <>
        <Link to={`/ticket/${ticket.id}`}>{t("season_why_to_do", { ticket: ticketName(ticket), method: methodWord(ticket) })}</Link>
        {reason.hours ? <small class="block">{hoursWords(reason.hours)}</small> : null}
      </>
    );
  }
  if (reason.why === "untested") return null;
  if (reason.why === "bare") {
    const defect = row("defect", reason.defect);
    return <Link to={`/defect/${reason.defect}`}><b>{t("season_why_bare")}</b> {defect ? kindWords(defect) : null}</Link>;
  }
  const entry = entryOf(reason.finish);
  const finish = entry?.finish.name ?? "";
  const said = reason.why === "wear" ? t("season_why_wear", { finish, storms: stormsWords(reason.storms) })
    : reason.why === "better" ? t("season_why_better", { finish, amount: showDose(entry?.followed.l_m2?.left ?? 0) }) : t(reason.why === "let_go" ? "season_why_let_go" : "season_why_worn", { finish });
  return <Link to={`/finish/${reason.finish}`}>{said}</Link>;
}

function WallCard({ plan }: { plan: WallPlan }) {
  const elevation = row("elevation", plan.elevation);
  const name = [row("structure", elevation?.structure_id)?.name, elevation?.name].filter(Boolean).join(" · ");
  return (
    <Card title={name}>
      <ul class="season-why">{plan.reasons.filter((one) => one.why !== "untested").map((one, i) => <li key={i}><ReasonWords reason={one} /></li>)}</ul>
      {plan.without_ticket && may("make", "defect") ? <p class="hint">{t("season_no_ticket")} <Link to={`/elevation/${plan.elevation}`}>{t("season_open_mark")}</Link></p> : null}
    </Card>
  );
}

function WorkCard({ hours }: { hours: readonly (Range | null)[] }) {
  const { hours: sum, days, unknown } = daysOfWork(hours, PEOPLE, DAY_H);
  return (
    <Card title={t("season_all_hours")}>
      {sum.likely > 0 ? <><p>{hoursWords(sum)}</p><p>{t("season_days", { n: days, hours: DAY_H })}</p></> : null}
      {unknown ? <p>{t("season_left_out", { n: unknown })}</p> : null}
      <p class="hint">{t("season_hours_basis")}</p>
    </Card>
  );
}

function MaterialCard() {
  const book = catalogue.value;
  if (!book) return null;
  const { lines } = gather(openTickets(), book, []);
  return (
    <Card title={t("season_material")}>
      {lines.length ? (
        <table>
          <thead class="unseen"><tr><th scope="col">{t("season_material")}</th><th scope="col">{t("season_amount")}</th></tr></thead>
          <tbody>{lines.map((line) => <tr key={line.id}><th scope="row">{nameWords(line)}</th><td class="num">{orderWords(line)}<small class="block">{needWords(line)}</small></td></tr>)}</tbody>
        </table>
      ) : <p>{t("season_material_none")}</p>}
    </Card>
  );
}

export function SeasonView(_props: { params: Record<string, string> }) {
  const { walls, repairs } = seasonNow();
  return (
    <Page title={t("season_title")} sub={t("season_sub")} place="storms" back="/lasted" actions={walls.length ? <Button onPress={() => window.print()}>{t("season_print")}</Button> : null}>
      {walls.length ? null : <Empty scene="walls">{t(whole.value ? "season_none" : "loading")}</Empty>}
      {walls.some((plan) => plan.reasons.some((one) => one.why === "untested")) ? <p class="hint">{t("season_why_untested")}</p> : null}
      <div class="season-walls">
        {walls.map((plan) => <WallCard key={plan.elevation} plan={plan} />)}
        {repairs.length ? <><WorkCard hours={repairs.map((one) => one.hours)} /><MaterialCard /></> : null}
      </div>
    </Page>
  );
}
