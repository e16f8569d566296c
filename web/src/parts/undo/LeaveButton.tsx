/** The way out of a form without keeping: plain while nothing was entered, else it says what would be thrown away. */
import { drafts } from "../../store";
import { t } from "../../words";
import { Button } from "../frame/Button";

/** `changes`: the form changes something that was kept before. */
export function LeaveButton({ draftKey, changes = false, onPress }: { draftKey: string; changes?: boolean; onPress: () => unknown }) {
  return <Button onPress={() => void onPress()}>{t(!drafts.value.has(draftKey) ? "cancel" : changes ? "throw_changes" : "throw_entry")}</Button>;
}
