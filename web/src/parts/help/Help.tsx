/** A question mark beside a hard word: it opens a sentence or two in place, with a drawing where one helps. */
import type { ComponentChildren } from "preact";
import { useId, useRef, useState } from "preact/hooks";
import { t } from "../../words";
import { vocabularyList, vocabularyWord } from "../../words/vocabulary";
import { Scene } from "../drawing/scene/Scene";
import type { SceneName } from "../drawing/scene/paths";
import "./help.css";

/** Each topic and its drawing; null where words do better. */
const DRAWN = {
  bearing: "bearing", views: "views", lean: "lean", cover: "cover", depths: "depths", crack: "crack", voids: "voids", loss: null, margin: "margin", dose: "dose",
  clash: "answers", urgency: null, gate: "gate", panel: "panel", score: null, bars: "censored",
} as const satisfies Record<string, SceneName | null>;
export type HelpTopic = keyof typeof DRAWN;

/** The urgencies mean something by rule: each with its own sentence, from the vocabulary. */
function Urgencies() {
  return (
    <ul>{vocabularyList("urgencies").map(({ id }) => <li key={id}><strong>{vocabularyWord("urgencies", id)}.</strong> {vocabularyWord("urgencies", id, "means")}</li>)}</ul>
  );
}

type Props = { about: HelpTopic; children?: ComponentChildren };

/** `children`: the word, label or heading that the question mark stands beside. */
export function Help({ about, children }: Props) {
  const [open, setOpen] = useState(false);
  const button = useRef<HTMLButtonElement>(null);
  const words = useId();
  const scene = DRAWN[about];
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key !== "Escape" || !open) return;
    // Inside a dialog the same key would close the dialog too.
    event.preventDefault();
    event.stopPropagation();
    setOpen(false);
    button.current?.focus();
  };
  return (
    <div class="help" onKeyDown={onKeyDown}>
      <div class="help-head">
        {children}
        <button
          ref={button} type="button" class="help-button" aria-expanded={open} aria-controls={open ? words : undefined} onClick={() => setOpen(!open)}
          aria-label={t("help_about", { what: t(`help_${about}_name`) })}
        >
          <span aria-hidden="true">?</span>
        </button>
      </div>
      {open ? (
        <div class="help-words" id={words}>
          {scene ? <Scene name={scene} wide={112} /> : null}
          <div><p>{t(`help_${about}`)}</p>{about === "urgency" ? <Urgencies /> : null}</div>
        </div>
      ) : null}
    </div>
  );
}
