/** Which tickets changed hands since this person last looked, and notices of the next ones. */
import { useState } from "preact/hooks";
import { t } from "../../../words";
import { setSettings, settings } from "../../../store";
import { showDate, showTime } from "../../../words/measures";
import { vocabularyWord } from "../../../words/vocabulary";
import { Button } from "../../../parts/frame/Button";
import { Card, Empty } from "../../../parts/frame/Card";
import { Link } from "../../../parts/frame/Link";
import { ticketName } from "../../../parts/ticket/gathered";
import { handsChanged, markHandsSeen } from "./gather";

const MOST_SHOWN = 5;

function Tell() {
  const [refused, setRefused] = useState(false);
  if (!("Notification" in window)) return null;
  const ask = async () => {
    const answer = await Notification.requestPermission();
    setRefused(answer !== "granted");
    if (answer === "granted") await setSettings({ tellHands: true });
  };
  return (
    <>
      {settings.value.tellHands && Notification.permission === "granted" ? <p class="hint">{t("board_tell_on")}</p> : <div class="deeds"><Button onPress={() => void ask()}>{t("board_tell")}</Button></div>}
      {refused ? <p class="wrong" role="alert">{t("board_tell_no")}</p> : null}
      <p class="hint">{t("board_tell_why")}</p>
    </>
  );
}

export function HandsCard() {
  const changed = handsChanged();
  return (
    <Card title={t("board_hands")} aside={changed.length > 0 ? String(changed.length) : undefined}>
      {changed.length === 0 ? <Empty small scene="people">{t("board_hands_none")}</Empty> : (
        <>
          <ul class="rows">
            {changed.slice(0, MOST_SHOWN).map(({ ticket, step }) => (
              <li key={step.id}>
                <Link to={`/ticket/${ticket.id}`} class="row-link">
                  <span class="grow">{t("board_hands_line", { ticket: ticketName(ticket), what: vocabularyWord("steps", step.kind, "did"), person: step.made_by })}
                    <small class="block">{showDate(step.at)}, {showTime(step.at)}</small></span>
                </Link>
              </li>
            ))}
          </ul>
          <div class="deeds"><Button onPress={markHandsSeen}>{t("board_hands_seen")}</Button></div>
        </>
      )}
      <Tell />
    </Card>
  );
}
