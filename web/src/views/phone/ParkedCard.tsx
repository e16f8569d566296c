/** Changes the server did not take: each with its sentence, kept until the person decides. */
import type { RowType } from "../../model/types";
import { type ParkedOp, discardParked, parked, putParkedBack, retryParked, row } from "../../store";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { isSentence, refusalWords, t } from "../../words";
import { showDate, showTime } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";
import { type Any, nameOf, ownerOf, pathOf, typeWords } from "../finding/rowWords";
import { offerUndo } from "../../parts/undo/undo";

/** Whether a change to a row that is not on this phone says by itself what it is about. */
const tellsItself = (type: RowType, set: Record<string, unknown>): boolean =>
  (type === "defect" && "elevation_id" in set) || (type === "ticket" && "defect_ids" in set);

/** What a change is about, as the row would be with it, and the page that shows it where there is one. */
function about({ op }: ParkedOp): { name: string; to: string | null } {
  const { type } = op;
  const here = row(type, op.id);
  const set = op.set ?? {};
  const any: Any = { type, id: op.id, fields: { ...here, made_at: op.at, ...set } };
  const owner = ownerOf(any);
  if (!here && !owner && !tellsItself(type, set)) return { name: "", to: null };
  // A step that was not taken did not happen: it is called by its deed.
  const name = type === "step" && owner ? [vocabularyWord("steps", String(any.fields.kind), "do"), nameOf(owner)].join(" · ") : nameOf(any);
  return { name, to: here || owner ? pathOf(any) : null };
}

function ParkedRow({ one }: { one: ParkedOp }) {
  const when = t("phone_parked_what", { type: typeWords(one.op.type), date: showDate(one.op.at), time: showTime(one.op.at) });
  const { name, to } = about(one);
  const what = name ? `${name} (${when})` : when;
  const discard = async () => {
    const gone = await discardParked(one.id);
    if (gone) offerUndo({ say: t("undo_thrown", { name: what }), back: () => putParkedBack(gone) });
  };
  return (
    <li>
      {name && to ? <Link class="row-link" to={to}><strong class="grow">{name}</strong><span aria-hidden="true">›</span></Link> : <p><strong>{name || when}</strong></p>}
      {name ? <p class="sub">{when}</p> : null}
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
