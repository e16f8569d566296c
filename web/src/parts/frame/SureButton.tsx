/** A deed that cannot be lightly undone: its button asks first, and only the answer does it. */
import { useState } from "preact/hooks";
import { t } from "../../words";
import { Ask } from "./Ask";
import { Button } from "./Button";

/** `name` is read aloud in place of the label where several buttons say the same. */
type Props = { label: string; name?: string; title: string; say: string; yes: string; onYes: () => Promise<unknown> };

export function SureButton({ label, name, title, say, yes, onYes }: Props) {
  const [asking, setAsking] = useState(false);
  return (
    <>
      <Button kind="warning" label={name} onPress={() => setAsking(true)}>{label}</Button>
      {asking ? (
        <Ask title={title} onClose={() => setAsking(false)}>
          <p>{say}</p>
          <div class="deeds">
            <Button onPress={() => setAsking(false)}>{t("cancel")}</Button>
            <Button kind="warning" onPress={() => void onYes()}>{yes}</Button>
          </div>
        </Ask>
      ) : null}
    </>
  );
}
