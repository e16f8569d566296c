/** What is seen: kinds as drawn tiles, the commonest first, all of them by family behind one button. */
import { useState } from "preact/hooks";
import { KindDrawing } from "../../../parts/drawing/KindDrawing";
import { Button } from "../../../parts/frame/Button";
import { Pick } from "../../../parts/frame/Field";
import { t } from "../../../words";
import { vocabularyList, vocabularyWord } from "../../../words/vocabulary";
import { COMMONEST, type KindEntry, kindEntry, kinds } from "../trade";

type Props = { kind: string | null; onPick: (kind: string | null) => void };

const tile = ({ id }: KindEntry) => ({ id, label: vocabularyWord("kinds", id), hint: vocabularyWord("kinds", id, "see"), drawing: <KindDrawing kind={id} /> });

/** The first six, with the chosen one among them. */
function firstKinds(kind: string | null): KindEntry[] {
  const ids = kind && !COMMONEST.includes(kind) ? [kind, ...COMMONEST] : COMMONEST;
  return ids.map(kindEntry).filter((one) => one !== null);
}

function Families({ kind, onPick }: Props) {
  return (
    <>
      {vocabularyList("families").map(({ id }) => (
        <Pick
          key={id} legend={t("mark_family", { name: vocabularyWord("families", id), hint: vocabularyWord("families", id, "hint") })} value={kind} onPick={onPick}
          options={kinds().filter((one) => one.family === id).map(tile)}
        />
      ))}
    </>
  );
}

export function KindStep({ kind, onPick }: Props) {
  const [all, setAll] = useState(false);
  return (
    <section class="mark-kinds">
      <h2>{t("mark_kind")}</h2>
      {all ? <Families kind={kind} onPick={onPick} /> : <Pick legend={t("mark_kind")} hideLegend value={kind} onPick={onPick} options={firstKinds(kind).map(tile)} />}
      <div class="deeds">
        <Button onPress={() => setAll(!all)}>{all ? t("mark_kind_few") : t("mark_kind_all", { n: kinds().length })}</Button>
        {kind ? <Button onPress={() => onPick(null)}>{t("mark_kind_later")}</Button> : null}
      </div>
    </section>
  );
}
