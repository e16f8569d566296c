/** All tickets of the site, the most pressing first, with how many there are of each drawn on top. */
import { useEffect, useRef, useState } from "preact/hooks";
import type { Id, TicketState, Urgency } from "../../model/types";
import type { UrgencyTable } from "../../model/urgency";
import { catalogue, limited, readDraft, role, saveDraft, table, whole } from "../../store";
import { t } from "../../words";
import { vocabularyList, vocabularyWord } from "../../words/vocabulary";
import { Button } from "../../parts/frame/Button";
import { Empty } from "../../parts/frame/Card";
import { Select } from "../../parts/frame/Field";
import { Page } from "../../parts/frame/Page";
import { go } from "../../parts/frame/route";
import { may } from "../../parts/may";
import { type Listed, TicketRow, listed } from "./TicketRow";
import { UrgencyBar } from "./UrgencyBar";
import { mayMake } from "./may";
import "./tickets.css";

type Filter = { states: TicketState[]; wall: string };
const KEY = "filter/tickets";
const FIRST: Filter = { states: ["open", "taken", "done"], wall: "" };

const filterNow = (): Filter => readDraft<Filter>(KEY) ?? FIRST;
const setFilter = (change: Partial<Filter>) => void saveDraft<Filter>(KEY, { ...filterNow(), ...change });

function StateFilter({ filter, all }: { filter: Filter; all: readonly Listed[] }) {
  const flip = (state: TicketState) =>
    setFilter({ states: filter.states.includes(state) ? filter.states.filter((one) => one !== state) : [...filter.states, state] });
  return (
    <div class="filter" role="group" aria-label={t("filter_states")}>
      {vocabularyList("ticket_states").map(({ id }) => {
        const state = id as TicketState;
        const n = all.filter((one) => one.state === state).length;
        return (
          <Button key={id} pressed={filter.states.includes(state)} onPress={() => flip(state)}>
            <span><b>{n}</b> {t(`filter_many_${state}`, { n })}</span>
          </Button>
        );
      })}
    </div>
  );
}

function WallFilter({ filter, all }: { filter: Filter; all: readonly Listed[] }) {
  const walls = new Map(all.flatMap((one) => one.known.map(({ defect }) => [defect.elevation_id, one.wallOf(defect)] as const)));
  if (walls.size < 2) return null;
  const options = [...walls].map(([id, label]) => ({ id, label })).sort((a, b) => a.label.localeCompare(b.label));
  return <Select label={t("filter_wall")} value={filter.wall} onPick={(wall) => setFilter({ wall })} options={[{ id: "", label: t("filter_all_walls") }, ...options]} />;
}

const urgencies = (): readonly Urgency[] => (catalogue.value?.urgency as UrgencyTable | undefined)?.order ?? [];
const inTurn = (): Listed[] => [...table("ticket").value.values()].map(listed).sort((a, b) => a.turn - b.turn);

const fits = (filter: Filter) => (one: Listed) =>
  filter.states.includes(one.state) && (!filter.wall || one.known.some(({ defect }) => defect.elevation_id === filter.wall));

/** As many rows as a screen draws at once without a pause on a slow phone. */
const ROWS_AT_ONCE = 50;

function GroupRows({ here, open }: { here: readonly Listed[]; open?: Id }) {
  const [most, setMost] = useState(ROWS_AT_ONCE);
  const more = Math.min(ROWS_AT_ONCE, here.length - most);
  return (
    <>
      <ul class="rows card">{here.slice(0, most).map((one) => <TicketRow key={one.ticket.id} one={one} current={one.ticket.id === open} />)}</ul>
      {more > 0 ? <Button onPress={() => setMost(most + ROWS_AT_ONCE)}>{t("tickets_more", { n: more })}</Button> : null}
    </>
  );
}

function Groups({ shown, open }: { shown: readonly Listed[]; open?: Id }) {
  const order = urgencies();
  return (
    <>
      {order.map((urgency) => {
        const here = shown.filter((one) => one.urgency === urgency);
        if (here.length === 0) return null;
        return (
          <section key={urgency} class="urgency-group" aria-labelledby={`group-${urgency}`}>
            <h2 id={`group-${urgency}`}>{vocabularyWord("urgencies", urgency)} <span class="aside">{here.length}</span></h2>
            <GroupRows here={here} open={open} />
          </section>
        );
      })}
    </>
  );
}

function NoTickets({ filtered }: { filtered: boolean }) {
  if (!whole.value) return <p class="empty">{t("loading")}</p>;
  const toWalls = table("defect").value.size === 0 ? <Button onPress={() => go("/walls")}>{t("to_walls")}</Button> : null;
  const showAll = <Button onPress={() => setFilter({ states: ["open", "taken", "done", "checked"], wall: "" })}>{t("filter_show_all")}</Button>;
  return (
    <Empty scene="tickets" action={filtered ? showAll : toWalls}>
      {t(filtered ? "tickets_none_fit" : "tickets_none")}
    </Empty>
  );
}

/** The list, as it was filtered, beside the ticket that is open from it. */
export function TicketsBeside({ open }: { open: Id }) {
  const list = useRef<HTMLElement>(null);
  // Only the list scrolls to the open one, never the page.
  useEffect(() => {
    const row = list.current?.querySelector<HTMLElement>("[aria-current]");
    if (list.current && row) list.current.scrollTop += row.getBoundingClientRect().top - list.current.getBoundingClientRect().top - list.current.clientHeight / 2;
  }, [open]);
  const filter = filterNow();
  return (
    <section ref={list} class="tickets-beside" aria-label={t("tickets_beside")}>
      <Groups shown={inTurn().filter((one) => one.ticket.id === open || fits(filter)(one))} open={open} />
    </section>
  );
}

/** What is made of all tickets together. */
function Ways({ tickets }: { tickets: number }) {
  const ways: readonly [boolean, string, string][] = [
    [tickets > 0, "/board", t("board_deed")],
    [tickets > 0, "/buying", t("buying_deed")],
    [may("see", "work_day"), "/workdays", t("workdays_deed")],
    [tickets > 0 || table("defect").value.size > 0, "/papers", t("papers_deed")],
  ];
  return <div class="ways">{ways.map(([there, to, words]) => (there ? <Button key={to} onPress={() => go(to)}>{words}</Button> : null))}</div>;
}

export function TicketsView() {
  const filter = filterNow();
  const all = inTurn();
  const shown = all.filter(fits(filter));
  const deeds = (
    <>
      {mayMake(role.value) ? <Button kind="primary" onPress={() => go("/ticket/new")}>{t("ticket_open")}</Button> : null}
      {limited.value ? <Button onPress={() => go("/list")}>{t("list_deed")}</Button> : null}
    </>
  );
  return (
    <Page title={t("place_tickets")} sub={t("tickets_sub", { n: all.filter((one) => one.state !== "checked").length })} place="tickets" actions={deeds}>
      <Ways tickets={all.length} />
      {all.length > 0 ? (
        <div class="tickets-pick">
          <UrgencyBar shown={shown} order={urgencies()} />
          <StateFilter filter={filter} all={all} />
          <WallFilter filter={filter} all={all} />
        </div>
      ) : null}
      {shown.length > 0 ? <div class="urgency-groups"><Groups shown={shown} /></div> : <NoTickets filtered={all.length > 0} />}
    </Page>
  );
}
