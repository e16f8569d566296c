/** The list as text for whoever goes to the shop. */
import { useState } from "preact/hooks";
import { t } from "../../words";
import { Button } from "../../parts/frame/Button";
import { type HandedOut, shareText } from "../../parts/waiting/handOut";

export function SendList({ text }: { text: string }) {
  const [done, setDone] = useState<HandedOut | null>(null);
  return (
    <>
      <div class="deeds buying-send">
        <Button kind="primary" onPress={() => void shareText(t("buying_title"), text).then(setDone)}>{t("buying_share")}</Button>
        <Button onPress={() => window.print()}>{t("buying_print")}</Button>
      </div>
      <p role="status" class="hint">{done === "copied" ? t("buying_copied") : done === "by_hand" ? t("buying_copy_by_hand") : ""}</p>
      {done === "by_hand" ? <textarea class="buying-text" readOnly rows={8} aria-label={t("buying_text")} value={text} /> : null}
    </>
  );
}
