/** A temperature by big buttons or by typing: number pads of phones have no minus. */
import { useState } from "preact/hooks";
import { t } from "../../words";
import { Button } from "../frame/Button";
import { NumberField } from "../frame/Field";
import { celsiusFromTyped, degreeUnit, showDegrees, typedFromCelsius } from "./degrees";

type Props = { label: string; value_c: number | null; onInput: (value_c: number | null) => void };
const MOST_C = 60;
/** Where the buttons begin while nothing is known. */
const BEGIN_C = 10;

export const degreesWrong = (value_c: number | null): boolean => value_c !== null && Math.abs(value_c) > MOST_C;

export function DegreeField({ label, value_c, onInput }: Props) {
  const [pressed, setPressed] = useState(0);
  const typed = typedFromCelsius(value_c);
  const step = (by: number) => {
    const next = typed === null ? (typedFromCelsius(BEGIN_C) ?? 0) : Math.round(typed) + by;
    onInput(celsiusFromTyped(next));
    setPressed(pressed + 1);
  };
  return (
    <div class="degrees">
      <Button onPress={() => step(-1)} label={t("gate_colder_of", { what: label })}><span aria-hidden="true">−</span></Button>
      <NumberField
        key={pressed} label={label} unit={degreeUnit()} value={typed} onInput={(value) => onInput(celsiusFromTyped(value))}
        wrong={degreesWrong(value_c) ? t("gate_temperature_wrong", { low: showDegrees(-MOST_C), high: showDegrees(MOST_C) }) : null}
      />
      <Button onPress={() => step(1)} label={t("gate_warmer_of", { what: label })}><span aria-hidden="true">+</span></Button>
    </div>
  );
}
