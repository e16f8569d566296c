/** Which tickets the list is for: tiles with a box each, all of them chosen at first. */
import type { Id, Ticket } from "../../model/types";
import { t } from "../../words";
import { Button } from "../../parts/frame/Button";
import { Toggle } from "../../parts/frame/Field";
import { kindsWords, knownOf, ticketName, wallsWords } from "../../parts/ticket/gathered";
import { ticketState } from "../../parts/judged";
import { vocabularyWord } from "../../words/vocabulary";

type Props = { all: readonly Ticket[]; chosen: readonly Ticket[]; onPick: (picked: Id[] | null) => void };

export function PickTickets({ all, chosen, onPick }: Props) {
  const ids = chosen.map((ticket) => ticket.id);
  const flip = (id: Id, on: boolean) => onPick(on ? [...ids, id] : ids.filter((one) => one !== id));
  return (
    <details class="buying-pick" open={chosen.length === 0}>
      <summary>{t("buying_pick")} <span class="aside">{t("buying_picked", { n: chosen.length, of: all.length })}</span></summary>
      <div class="buying-tiles">
        {all.map((ticket) => {
          const known = knownOf(ticket.defect_ids);
          const state = vocabularyWord("ticket_states", ticketState(ticket));
          return (
            <Toggle
              key={ticket.id} on={ids.includes(ticket.id)} onChange={(on) => flip(ticket.id, on)} label={[ticketName(ticket), kindsWords(known)].filter(Boolean).join(" · ")}
              hint={[wallsWords(known), state].filter(Boolean).join(" · ")}
            />
          );
        })}
      </div>
      <div class="deeds"><Button onPress={() => onPick(null)}>{t("buying_pick_all")}</Button></div>
    </details>
  );
}
