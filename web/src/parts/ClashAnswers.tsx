/** Both answers of a clash, with who gave them; whoever may takes one. */
import type { Clash } from "../model/types";
import { t } from "../words";
import { chooseAnswer } from "./clashes";
import "./clash.css";
import { Button } from "./frame/Button";
import { may } from "./may";

type Props = { clash: Clash; words: (value: unknown) => string; spoken: (answer: string, by: string) => string };

export function ClashAnswers({ clash, words, spoken }: Props) {
  const answers = [["kept", clash.kept, clash.kept_by], ["lost", clash.lost, clash.lost_by]] as const;
  return (
    <>
      {answers.map(([which, value, by]) => (
        <div key={which} class="clash-answer">
          <p><strong>{words(value)}</strong><br /><small>{t(which === "kept" ? "clash_stands" : "clash_other_answer", { by })}</small></p>
          {may("edit", "clash") ? <Button onPress={() => void chooseAnswer(clash, which, words(value))} label={spoken(words(value), by)}>{t("clash_take")}</Button> : null}
        </div>
      ))}
    </>
  );
}
