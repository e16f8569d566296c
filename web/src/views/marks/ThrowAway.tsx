/** Throw a draft away, after a question. */
import { SureButton } from "../../parts/frame/SureButton";
import { go } from "../../parts/frame/route";
import { throwAway } from "../../parts/undo/undo";
import { t } from "../../words";

/** `changes`: what is drafted changes a defect that was kept before. */
type Props = { draftKey: string; finish: () => Promise<void>; ask: string; name: string; back: string; changes?: boolean };

export function ThrowAway({ draftKey, finish, ask, name, back, changes = false }: Props) {
  const deed = t(changes ? "throw_changes" : "throw_entry");
  const away = async () => {
    await finish();
    await throwAway(draftKey, name, () => go(back, true));
  };
  return <div class="deeds"><SureButton label={deed} title={ask} say={t(changes ? "mark_throw_changes_say" : "mark_throw_say")} yes={deed} onYes={away} /></div>;
}
