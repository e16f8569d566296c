/** Signs that tell how pressing it is, then the suspected cause and a note, apart from what is seen. */
import { useState } from "preact/hooks";
import { Button } from "../../../parts/frame/Button";
import { Select, TextField, Toggle } from "../../../parts/frame/Field";
import { t } from "../../../words";
import { vocabularyList, vocabularyWord } from "../../../words/vocabulary";
import { StopCard } from "../cards/UrgencyCard";
import { kindEntry, signs as allSigns } from "../trade";

const NOTE_MAX = 4000;

type SignProps = { kind: string | null; value: readonly string[]; onChange: (signs: string[]) => void; stop: readonly string[] };

/** Those that fit the kind, then those that mean danger; the rest behind a button. */
function split(kind: string | null, value: readonly string[]): { first: string[]; more: string[] } {
  const fitting = kindEntry(kind)?.signs ?? ["bulging", "leaning", "growing", "overhead", "active_leak", "near_wires"];
  const ids = allSigns().map((one) => one.id);
  const first = [...fitting, ...ids.filter((id) => value.includes(id) && !fitting.includes(id))];
  return { first, more: ids.filter((id) => !first.includes(id)) };
}

export function SignStep({ kind, value, onChange, stop }: SignProps) {
  const [all, setAll] = useState(false);
  const { first, more } = split(kind, value);
  const shown = all ? [...first, ...more] : first;
  const set = (id: string, on: boolean) => onChange(on ? [...value, id] : value.filter((one) => one !== id));
  return (
    <section>
      <h2>{t("mark_signs")}</h2>
      <div class="pick">
        {shown.map((id) => <Toggle key={id} label={vocabularyWord("signs", id)} on={value.includes(id)} onChange={(on) => set(id, on)} />)}
      </div>
      {more.length > 0 && !all ? <div class="deeds"><Button onPress={() => setAll(true)}>{t("mark_signs_more", { n: more.length })}</Button></div> : null}
      <StopCard reasons={stop} />
    </section>
  );
}

type CauseProps = { kind: string | null; cause: string | null; note: string; onCause: (cause: string | null) => void; onNote: (note: string) => void };

export function CauseStep({ kind, cause, note, onCause, onNote }: CauseProps) {
  const fitting = kindEntry(kind)?.causes ?? [];
  const others = vocabularyList("causes").map((one) => one.id).filter((id) => !fitting.includes(id));
  return (
    <section>
      <Select
        label={t("mark_cause")} hint={t("mark_cause_hint")} value={cause ?? ""} onPick={(id) => onCause(id === "" ? null : id)}
        options={[{ id: "", label: t("mark_cause_unknown") }, ...[...fitting, ...others].map((id) => ({ id, label: vocabularyWord("causes", id) }))]}
      />
      <TextField label={t("mark_note")} value={note} onInput={onNote} long max={NOTE_MAX} />
    </section>
  );
}
