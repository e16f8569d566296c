/** Changes the server did not take: each with its sentence, kept until the person decides. */
import { type ParkedOp, discardParked, parked, putParkedBack, retryParked } from "../../store";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { isSentence, refusalWords, t } from "../../words";
import { showDate, showTime } from "../../words/measures";
import { offerUndo } from "../../parts/undo/undo";

function typeWords(type: string): string {
  const key = `row_${type}`;
  return isSentence(key) ? t(key) : type;
}

function ParkedRow({ one }: { one: ParkedOp }) {
  const what = t("phone_parked_what", { type: typeWords(one.op.type), date: showDate(one.op.at), time: showTime(one.op.at) });
  const discard = async () => {
    const gone = await discardParked(one.id);
    if (gone) offerUndo({ say: t("undo_thrown", { name: what }), back: () => putParkedBack(gone) });
  };
  return (
    <li>
      <p><strong>{what}</strong></p>
      <p>{isSentence(`refusal_${one.code}`) ? refusalWords(one.code) : one.say}</p>
      <div class="deeds">
        <Button label={`${t("phone_parked_again")}: ${what}`} onPress={() => void retryParked(one.id)}>{t("phone_parked_again")}</Button>
        <Button kind="warning" label={`${t("parked_throw")}: ${what}`} onPress={() => void discard()}>{t("parked_throw")}</Button>
      </div>
    </li>
  );
}

export function ParkedCard() {
  return (
    <Card title={t("phone_parked_title")} tone="caution">
      <p>{t("phone_parked_lead")}</p>
      <ul class="rows">{parked.value.map((one) => <ParkedRow key={one.id} one={one} />)}</ul>
    </Card>
  );
}
