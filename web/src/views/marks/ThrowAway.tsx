/** Throw a draft away, after a question. */
import { useState } from "preact/hooks";
import { Ask } from "../../parts/frame/Ask";
import { Button } from "../../parts/frame/Button";
import { go } from "../../parts/frame/route";
import { dropDraft } from "../../store";
import { t } from "../../words";

type Props = { draftKey: string; finish: () => Promise<void>; ask: string; back: string };

export function ThrowAway({ draftKey, finish, ask, back }: Props) {
  const [asking, setAsking] = useState(false);
  const throwAway = async () => {
    await finish();
    await dropDraft(draftKey);
    go(back, true);
  };
  return (
    <>
      <div class="deeds"><Button kind="warning" onPress={() => setAsking(true)}>{t("mark_throw")}</Button></div>
      {asking ? (
        <Ask title={ask} onClose={() => setAsking(false)}>
          <p>{t("mark_throw_say")}</p>
          <div class="deeds">
            <Button onPress={() => setAsking(false)}>{t("cancel")}</Button>
            <Button kind="warning" onPress={() => void throwAway()}>{t("mark_throw")}</Button>
          </div>
        </Ask>
      ) : null}
    </>
  );
}
