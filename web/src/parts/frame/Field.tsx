/** Form fields with a label, a hint, a unit and the sentence that says what is wrong. */
import type { ComponentChildren } from "preact";
import { useId, useState } from "preact/hooks";
import type { Language } from "../../model/catalogue";
import { LANGUAGES, t } from "../../words";
import { parseNumber, typedNumber } from "../../words/measures";
import { Help, type HelpTopic } from "../help/Help";

type Common = { label: string; hint?: string; wrong?: string | null; optional?: boolean; help?: HelpTopic };

function Frame(props: Common & { id: string; children: ComponentChildren }) {
  const { id, label, hint, wrong, help, children } = props;
  const named = <label for={id}>{label}</label>;
  return (
    <div class={wrong ? "field field-wrong" : "field"}>
      {help ? <Help about={help}>{named}</Help> : named}
      {children}
      {hint ? <p class="hint" id={`${id}-hint`}>{hint}</p> : null}
      {wrong ? <p class="wrong" id={`${id}-wrong`} role="alert">{wrong}</p> : null}
    </div>
  );
}

const describe = (id: string, hint?: string, wrong?: string | null) =>
  [hint && `${id}-hint`, wrong && `${id}-wrong`].filter(Boolean).join(" ") || undefined;

type TextProps = Common & { value: string; onInput: (value: string) => void; long?: boolean; type?: "text" | "date"; max?: number };

export function TextField({ value, onInput, long, type = "text", max, ...common }: TextProps) {
  const id = useId();
  const [unread, setUnread] = useState(false);
  const wrong = unread ? t("date_wrong") : common.wrong;
  const shared = {
    id, value, maxLength: max, "aria-invalid": wrong ? true : undefined,
    "aria-describedby": describe(id, common.hint, wrong),
    onInput: (event: { currentTarget: { value: string } }) => onInput(event.currentTarget.value),
  };
  // A day of which a part is missing reads as empty; it is told apart when the person leaves the box.
  const look = (event: { currentTarget: HTMLInputElement }) => setUnread(event.currentTarget.validity.badInput);
  const box = type === "date" ? <input type="date" {...shared} onBlur={look} onChange={look} /> : <input type="text" {...shared} />;
  return <Frame id={id} {...common} wrong={wrong}>{long ? <textarea rows={3} {...shared} /> : box}</Frame>;
}

type NumberProps = Common & {
  value: number | null; onInput: (value: number | null) => void; unit?: string;
  /** The id of a sentence elsewhere that says what is wrong with this and its neighbours together. */
  wrongBy?: string;
};

/** A number typed with either decimal mark; null while empty. What is no number stays in the box, with a sentence. */
export function NumberField({ value, onInput, unit, wrong, wrongBy, ...labels }: NumberProps) {
  const id = useId();
  const [unread, setUnread] = useState(false);
  const said = unread ? t("number_wrong") : wrong;
  const read = (text: string) => {
    const found = parseNumber(text);
    setUnread(found === null && text.trim() !== "");
    onInput(found);
  };
  return (
    <Frame id={id} wrong={said} {...labels}>
      <span class="with-unit">
        <input
          id={id} type="text" inputMode="decimal" autocomplete="off" defaultValue={value === null ? "" : typedNumber(value)}
          aria-invalid={said || wrongBy ? true : undefined} aria-describedby={[describe(id, labels.hint, said), wrongBy].filter(Boolean).join(" ") || undefined}
          onInput={(event) => read(event.currentTarget.value)}
        />
        {unit ? <span class="unit">{unit}</span> : null}
      </span>
    </Frame>
  );
}

type PickProps<V extends string> = {
  legend: string; value: V | null; onPick: (value: V) => void; hideLegend?: boolean; columns?: 1 | 2 | 3 | 4; wrong?: string | null; help?: HelpTopic;
  options: { id: V; label: ComponentChildren; hint?: string; drawing?: ComponentChildren }[];
};

/** One of several, as big tiles: a radio group by keyboard and screen reader. */
export function Pick<V extends string>({ legend, value, onPick, options, hideLegend, columns = 2, wrong, help }: PickProps<V>) {
  const name = useId();
  return (
    <fieldset class={`pick pick-${columns}`} role="radiogroup" aria-invalid={wrong ? true : undefined} aria-describedby={wrong ? `${name}-wrong` : undefined}>
      <legend class={hideLegend || help ? "unseen" : undefined}>{legend}</legend>
      {help ? <Help about={help}><span class="help-said" aria-hidden="true">{hideLegend ? "" : legend}</span></Help> : null}
      {options.map((option) => (
        <label key={option.id} class={value === option.id ? "tile on" : "tile"}>
          <input type="radio" name={name} value={option.id} checked={value === option.id} onChange={() => onPick(option.id)} />
          {option.drawing}
          <span class="tile-name">{option.label}</span>
          {option.hint ? <small>{option.hint}</small> : null}
        </label>
      ))}
      {wrong ? <p class="wrong" id={`${name}-wrong`} role="alert">{wrong}</p> : null}
    </fieldset>
  );
}

/** Every language by its own name, said in itself. */
export const languageTiles = () => (Object.keys(LANGUAGES) as Language[]).map((id) => ({ id, label: <span lang={id}>{LANGUAGES[id]}</span> }));

type SelectProps = Common & { value: string; onPick: (value: string) => void; options: { id: string; label: string }[] };

export function Select({ value, onPick, options, ...common }: SelectProps) {
  const id = useId();
  return (
    <Frame id={id} {...common}>
      <select id={id} value={value} aria-invalid={common.wrong ? true : undefined} aria-describedby={describe(id, common.hint, common.wrong)} onChange={(event) => onPick(event.currentTarget.value)}>
        {options.map((option) => <option key={option.id} value={option.id}>{option.label}</option>)}
      </select>
    </Frame>
  );
}

type ToggleProps = { label: ComponentChildren; on: boolean; onChange: (on: boolean) => void | Promise<void>; hint?: string };

/** Yes or no, as a tile with a check box. While an answer is being kept the box shows it, though the screen be drawn anew meanwhile. */
export function Toggle({ label, on, onChange, hint }: ToggleProps) {
  const [asked, setAsked] = useState<boolean | null>(null);
  const change = (to: boolean) => {
    setAsked(to);
    void Promise.resolve(onChange(to)).finally(() => setAsked((now) => (now === to ? null : now)));
  };
  const shown = asked ?? on;
  return (
    <label class={shown ? "tile tick on" : "tile tick"}>
      <input type="checkbox" checked={shown} onChange={(event) => change(event.currentTarget.checked)} />
      <span class="tile-name">{label}</span>
      {hint ? <small>{hint}</small> : null}
    </label>
  );
}
