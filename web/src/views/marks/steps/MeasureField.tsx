/** A measure typed in this device's units and kept in metric; what is out of range is said and not kept. */
import { useEffect, useRef, useState } from "preact/hooks";
import { NumberField } from "../../../parts/frame/Field";
import type { HelpTopic } from "../../../parts/help/Help";
import { t } from "../../../words";
import { showNumber } from "../../../words/measures";

type Props = {
  label: string; value: number | null; onInput: (value: number | null) => void; most: number;
  from: (typed: number | null) => number | null; to: (value: number | null) => number | null;
  unit?: string; hint?: string; wrong?: string | null; help?: HelpTopic;
};

/** A field made anew shows a number that came from elsewhere, from a tile or the drawing, in place of what was typed. */
function useOutsideChange(value: number | null): { made: number; typed: (value: number | null) => void } {
  const own = useRef(value);
  const [made, setMade] = useState(0);
  useEffect(() => {
    if (own.current === value) return;
    own.current = value;
    setMade((n) => n + 1);
  }, [value]);
  return {
    made,
    typed: (next) => {
      own.current = next;
    },
  };
}

export function MeasureField({ label, value, onInput, most, from, to, unit, hint, wrong, help }: Props) {
  const [outside, setOutside] = useState(false);
  const { made, typed } = useOutsideChange(value);
  const read = (number: number | null) => {
    const found = from(number);
    const fits = found === null || (found >= 0 && found <= most);
    setOutside(!fits);
    const kept = fits ? found : null;
    typed(kept);
    onInput(kept);
  };
  const says = outside ? t("measure_outside", { most: showNumber(to(most) ?? most, 0), unit: unit ?? "" }) : wrong;
  return <NumberField key={made} label={label} value={to(value)} onInput={read} unit={unit} hint={hint} help={help} wrong={says} />;
}
