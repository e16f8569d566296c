/** Throw a draft away, after a question. */
import { SureButton } from "../../parts/frame/SureButton";
import { go } from "../../parts/frame/route";
import { throwAway } from "../../parts/undo/undo";
import { t } from "../../words";

type Props = { draftKey: string; finish: () => Promise<void>; ask: string; name: string; back: string };

export function ThrowAway({ draftKey, finish, ask, name, back }: Props) {
  const away = async () => {
    await finish();
    await throwAway(draftKey, name, () => go(back, true));
  };
  return <div class="deeds"><SureButton label={t("mark_throw")} title={ask} say={t("mark_throw_say")} yes={t("mark_throw")} onYes={away} /></div>;
}
