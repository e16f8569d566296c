/** Who comes, for how long, and what each can do. */
import { useState } from "preact/hooks";
import type { Worker } from "../../../model/types";
import { t } from "../../../words";
import { Button } from "../../../parts/frame/Button";
import { NumberField, Pick, TextField, Toggle } from "../../../parts/frame/Field";
import { type ChangeDay, type DayDraft, MOST_PEOPLE, USUAL_HOURS, skillsToTick } from "./draft";
import { personWords, skillShort } from "./dayWords";
import { useTakeOut } from "../../../parts/undo/undo";

type PersonProps = { one: Worker; n: number; change: (fields: Partial<Worker>) => void; onRemove: () => void };

function Person({ one, n, change, onRemove }: PersonProps) {
  const name = personWords(one.person, n);
  const flip = (skill: string) => change({ skills: one.skills.includes(skill) ? one.skills.filter((other) => other !== skill) : [...one.skills, skill] });
  const wrong = one.hours >= 0 && one.hours <= 24 ? null : t("crew_hours_wrong");
  return (
    <fieldset class="crew-person">
      <legend>{name}</legend>
      <div class="crew-line">
        <TextField label={t("crew_name")} value={one.person} max={120} onInput={(person) => change({ person })} />
        <NumberField label={t("crew_hours")} unit="h" value={one.hours} wrong={wrong} onInput={(hours) => change({ hours: hours ?? 0 })} />
      </div>
      <div class="crew-skills" role="group" aria-label={t("crew_can", { person: name })}>
        {skillsToTick().map((skill) => <Toggle key={skill} label={skillShort(skill)} on={one.skills.includes(skill)} onChange={() => flip(skill)} />)}
      </div>
      <Button kind="warning" label={t("crew_remove_of", { person: name })} onPress={onRemove}>{t("remove")}</Button>
    </fieldset>
  );
}

/** `open`: for a day that is only being planned; of a kept one the plan is what people come for. */
type Props = { draft: DayDraft; change: ChangeDay; open: boolean };

export function CrewCard({ draft, change, open }: Props) {
  // The boxes read a value only once: after somebody left or came back each is drawn anew.
  const [round, setRound] = useState(0);
  const { crew } = draft;
  const takeOut = useTakeOut(crew, (next: Worker[]) => {
    change({ crew: next });
    setRound((one) => one + 1);
  });
  const edit = (at: number, fields: Partial<Worker>) => change({ crew: crew.map((one, n) => (n === at ? { ...one, ...fields } : one)) });
  return (
    <details class="card handing-fold" open={open}>
      <summary><h2>{t("crew_title")}</h2> <span class="aside">{crew.map((one, n) => personWords(one.person, n)).join(", ")}</span></summary>
      {crew.map((one, n) => (
        <Person key={`${round}-${n}`} one={one} n={n} change={(fields) => edit(n, fields)} onRemove={() => takeOut(n, personWords(one.person, n))} />
      ))}
      <div class="deeds"><Button disabled={crew.length >= MOST_PEOPLE} onPress={() => change({ crew: [...crew, { person: "", hours: USUAL_HOURS, skills: [] }] })}>{t("crew_add")}</Button></div>
      <Pick
        legend={t("crew_mixing")} value={draft.mixer ? "mixer" : "by_hand"} onPick={(how) => change({ mixer: how === "mixer" })}
        options={(["by_hand", "mixer"] as const).map((id) => ({ id, label: t(`crew_${id}`) }))}
      />
    </details>
  );
}
