/** Throw a draft away, after a question. */
import { SureButton } from "../../parts/frame/SureButton";
import { go } from "../../parts/frame/route";
import { dropDraft } from "../../store";
import { t } from "../../words";

type Props = { draftKey: string; finish: () => Promise<void>; ask: string; back: string };

export function ThrowAway({ draftKey, finish, ask, back }: Props) {
  const throwAway = async () => {
    await finish();
    await dropDraft(draftKey);
    go(back, true);
  };
  return <div class="deeds"><SureButton label={t("mark_throw")} title={ask} say={t("mark_throw_say")} yes={t("mark_throw")} onYes={throwAway} /></div>;
}
