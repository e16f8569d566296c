/** What the hatches and pins mean, beside the drawing that uses them. */
import { useId } from "preact/hooks";
import { vocabularyWord } from "../../words/vocabulary";
import { HatchPattern, familyOf, pinPath } from "./hatch";

function Swatch({ id }: { id: string }) {
  const hatch = `swatch${useId()}`;
  const family = familyOf(id);
  if (!family) return null;
  return (
    <svg viewBox="0 0 64 26" width="64" height="26" aria-hidden="true">
      <defs><HatchPattern id={hatch} family={family} /></defs>
      <rect x="2" y="2" width="34" height="22" fill={`url(#${hatch})`} stroke={family.colour} stroke-width="2" />
      <path d={pinPath(id)} transform="translate(52 14)" fill={family.colour} stroke="#fffdf8" stroke-width="1.5" />
    </svg>
  );
}

/** Only the families that stand on the drawing, in the vocabulary's order. */
export function Legend({ families }: { families: readonly string[] }) {
  if (families.length === 0) return null;
  return (
    <ul class="legend">
      {families.map((id) => <li key={id}><Swatch id={id} /><span>{vocabularyWord("families", id)}</span></li>)}
    </ul>
  );
}
