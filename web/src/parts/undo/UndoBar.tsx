/** The bar that says what was taken away and brings it back. It is always there for a screen reader, so that it speaks up when it fills. */
import { t } from "../../words";
import { Button } from "../frame/Button";
import { closeOffers, offers, undoLast, undoTrouble } from "./undo";
import "./undo.css";

/** The button that had the focus is gone after it was pressed. */
const toHeading = () => document.querySelector("h1")?.focus({ preventScroll: true });

export function UndoBar() {
  const last = offers.value.at(-1);
  const trouble = undoTrouble.value;
  const undo = () => void undoLast().then(toHeading);
  const close = () => {
    closeOffers();
    toHeading();
  };
  const shown = Boolean(last ?? trouble);
  return (
    <div class={shown ? "undo-bar" : "unseen"} role="status">
      {shown ? <span class="undo-say">{trouble ?? last?.say}</span> : null}
      {last ? <Button onPress={undo} label={t("undo_of", { say: last.say })}>{t("undo")}</Button> : null}
      {shown ? <Button kind="plain" label={t("undo_close")} onPress={close}><span aria-hidden="true">×</span></Button> : null}
    </div>
  );
}
