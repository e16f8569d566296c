/** A length by two big buttons, half a metre or a foot at a time, or typed. */
import { useState } from "preact/hooks";
import { Button } from "../../../parts/frame/Button";
import { NumberField } from "../../../parts/frame/Field";
import { t } from "../../../words";
import { isUs, lengthUnit, metresFromTyped, typedFromMetres } from "../../../words/measures";

type Props = { label: string; value_m: number | null; onChange: (value_m: number | null) => void };

export function SizeStepper({ label, value_m, onChange }: Props) {
  // The typed field starts anew when a button gives another value.
  const [pressed, setPressed] = useState(0);
  const step = isUs() ? 1 : 0.5;
  const press = (way: 1 | -1) => {
    const typed = typedFromMetres(value_m) ?? 0;
    const next = way > 0 ? Math.floor(typed / step + 1e-9) * step + step : Math.ceil(typed / step - 1e-9) * step - step;
    setPressed(pressed + 1);
    onChange(metresFromTyped(Math.max(step, next)));
  };
  const said = `${label}, ${lengthUnit()}`;
  return (
    <div class="size-stepper">
      <NumberField key={pressed} label={said} value={typedFromMetres(value_m)} onInput={(typed) => onChange(metresFromTyped(typed))} />
      <Button onPress={() => press(-1)} label={t("start_less", { what: label })}><span aria-hidden="true">−</span></Button>
      <Button onPress={() => press(1)} label={t("start_more", { what: label })}><span aria-hidden="true">+</span></Button>
    </div>
  );
}
