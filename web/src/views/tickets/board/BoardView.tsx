/** How the site stands: late, to look at again, square metres not finished and checked, week by week, and every ticket by urgency and state. */
import { go } from "../../../parts/frame/route";
import { Button } from "../../../parts/frame/Button";
import { type Totals, burnDown, totals } from "../../../model/closing/board";
import { dayOf } from "../../../model/storm/limits";
import type { TicketStates } from "../../../model/ticket";
import type { TicketState, Urgency } from "../../../model/types";
import type { UrgencyTable } from "../../../model/urgency";
import { catalogue, nowIso, whole } from "../../../store";
import { t } from "../../../words";
import { areaUnit, showArea, showDate } from "../../../words/measures";
import { vocabularyList, vocabularyWord } from "../../../words/vocabulary";
import { Card, Empty } from "../../../parts/frame/Card";
import { Link } from "../../../parts/frame/Link";
import { Page } from "../../../parts/frame/Page";
import { kindsWords, ticketName, wallsWords } from "../../../parts/ticket/gathered";
import { HandsCard } from "./HandsCard";
import { OwnFiguresCard } from "./OwnFiguresCard";
import { WeeksPlot } from "./WeeksPlot";
import { type Boarded, boarded } from "./gather";
import "./board.css";

const WEEKS = 12;
/** More in one field of the board would be a list; that is what the list of tickets is for. */
const MOST_IN_FIELD = 12;
const MOST_LINES = 5;

function Line({ at, more }: { at: Boarded; more: string }) {
  const { ticket, known } = at.one;
  return (
    <li>
      <Link to={`/ticket/${ticket.id}`} class="row-link">
        <span class="grow"><strong>{ticketName(ticket)} · {kindsWords(known)}</strong><small class="block">{[wallsWords(known), more].filter(Boolean).join(" · ")}</small></span>
      </Link>
    </li>
  );
}

/** Where the rest is, when there is more than a card should show. */
function More({ n }: { n: number }) {
  if (n <= MOST_LINES) return null;
  return <li><Link to="/tickets" class="row-link">{t("board_more", { n: n - MOST_LINES })}</Link></li>;
}

function Late({ all }: { all: readonly Boarded[] }) {
  const late = all.filter((at) => at.late !== null);
  return (
    <Card title={t("board_late")} aside={late.length > 0 ? String(late.length) : undefined} tone={late.length > 0 ? "caution" : undefined}>
      {late.length === 0 ? <p>{t("board_no_late")}</p> : <ul class="rows">{late.slice(0, MOST_LINES).map((at) => <Line key={at.one.ticket.id} at={at} more={at.late ? t(`late_${at.late}`) : ""} />)}<More n={late.length} /></ul>}
    </Card>
  );
}

function Again({ all }: { all: readonly Boarded[] }) {
  const due = all.flatMap((at) => (at.due ? [{ at, due: at.due }] : []));
  return (
    <Card title={t("board_recheck")} aside={due.length > 0 ? String(due.length) : undefined}>
      {due.length === 0 ? <p>{t("board_no_recheck")}</p> : (
        <ul class="rows">
          {due.slice(0, MOST_LINES).map(({ at, due: why }) => (
            <Line key={at.one.ticket.id} at={at} more={why.why === "storm" ? t("look_after_storm", { storm: why.storm.name }) : t("look_by_date", { date: showDate(why.on) })} />
          ))}
          <More n={due.length} />
        </ul>
      )}
    </Card>
  );
}

function TotalsCard({ sums }: { sums: Totals }) {
  const rows = [["board_open", sums.open], ["board_checked", sums.closed], ["board_reopened", sums.reopened]] as const;
  const full = Math.max(...rows.map(([, one]) => one.area_m2), 0.01);
  return (
    <Card title={t("board_totals")}>
      <ul class="totals">
        {rows.map(([key, one]) => (
          <li key={key}>
            <span>{t(key)}</span>
            <svg viewBox="0 0 160 14" aria-hidden="true" preserveAspectRatio="none"><rect class={`total-${key}`} x="1" y="1" width={Math.max(1, (156 * one.area_m2) / full)} height="12" /></svg>
            <span class="num"><b>{showArea(one.area_m2)}</b> <small>{t("board_tickets", { n: one.tickets })}</small></span>
          </li>
        ))}
      </ul>
    </Card>
  );
}

function Field({ here }: { here: readonly Boarded[] }) {
  if (here.length === 0) return null;
  return (
    <ul>
      {here.slice(0, MOST_IN_FIELD).map(({ one }) => <li key={one.ticket.id}><Link to={`/ticket/${one.ticket.id}`}>{ticketName(one.ticket)}<small class="block">{kindsWords(one.known)}</small></Link></li>)}
      {here.length > MOST_IN_FIELD ? <li><Link to="/tickets">+ {here.length - MOST_IN_FIELD}</Link></li> : null}
    </ul>
  );
}

function Grid({ all, order }: { all: readonly Boarded[]; order: readonly Urgency[] }) {
  const states = vocabularyList("ticket_states").map(({ id }) => id as TicketState);
  return (
    <table class="board-grid">
      <thead><tr><th scope="col"><span class="unseen">{t("board_columns")}</span></th>{states.map((state) => <th key={state} scope="col">{vocabularyWord("ticket_states", state)}</th>)}</tr></thead>
      <tbody>
        {order.map((urgency) => (
          <tr key={urgency}>
            <th scope="row">{vocabularyWord("urgencies", urgency)}</th>
            {states.map((state) => <td key={state} data-state={vocabularyWord("ticket_states", state)}><Field here={all.filter(({ one }) => one.urgency === urgency && one.state === state)} /></td>)}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

export function BoardView() {
  const all = boarded();
  const states = catalogue.value?.states as TicketStates | undefined;
  const order = (catalogue.value?.urgency as UrgencyTable | undefined)?.order ?? [];
  if (all.length === 0 || !states) {
    return <Page title={t("board_title")} place="tickets" back="/tickets">{whole.value ? <Empty scene="board" action={<Button onPress={() => go("/walls")}>{t("to_walls")}</Button>}>{t("board_none")}</Empty> : <p>{t("loading")}</p>}</Page>;
  }
  const counted = all.map((at) => at.counted);
  const sums = totals(counted);
  const sub = t("board_sub", { open: sums.open.tickets, late: all.filter((at) => at.late !== null).length });
  return (
    <Page title={t("board_title")} sub={sub} place="tickets" back="/tickets">
      <div class="board-cards">
        <Late all={all} />
        <Again all={all} />
        <TotalsCard sums={sums} />
        <Card title={t("board_weeks", { unit: areaUnit() })}><WeeksPlot weeks={burnDown(counted, states, dayOf(nowIso()), WEEKS)} /></Card>
        <HandsCard />
        <OwnFiguresCard />
      </div>
      <Card title={t("board_columns")}><Grid all={all} order={order} /></Card>
    </Page>
  );
}
