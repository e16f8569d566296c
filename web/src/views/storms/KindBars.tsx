/** How many of each kind: a table whose bars carry the hatch of the family. */
import { useId } from "preact/hooks";
import { countKinds } from "../../model/storm/survey";
import type { Defect } from "../../model/types";
import { familyOfKind } from "../../parts/drawing/KindDrawing";
import { Hatches, familyOf } from "../../parts/drawing/hatch";
import { t } from "../../words";
import { showNumber } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";

export const kindWord = (kind: string | null): string => (kind === null ? t("storms_kind_unsaid") : vocabularyWord("kinds", kind));

function Bar({ kind, share, hatch }: { kind: string | null; share: number; hatch: string }) {
  const id = familyOfKind(kind);
  const family = familyOf(id);
  return (
    <svg class="kind-bar" width="100%" height="20" aria-hidden="true">
      <rect x="1" y="1" width={`${share * 98}%`} height="18" fill={family ? `url(#${hatch}-${id})` : "none"} stroke={family?.colour ?? "var(--ink)"} stroke-width="1.5" />
    </svg>
  );
}

export function KindBars({ defects }: { defects: readonly Defect[] }) {
  const hatch = `bars${useId()}`;
  const kinds = countKinds(defects);
  const most = Math.max(...kinds.map((one) => one.n));
  // Bars that are all as long tell nothing that the numbers do not.
  const alike = kinds.every((one) => one.n === most);
  return (
    <>
      <svg class="bar-hatches" width="0" height="0" aria-hidden="true"><defs><Hatches prefix={hatch} scale={1} /></defs></svg>
      <table class={alike ? undefined : "kind-bars"}>
        <caption class="unseen">{t("storms_kinds")}</caption>
        <thead class="unseen"><tr><th scope="col">{t("storms_kind")}</th><th scope="col">{t("storms_number_of")}</th></tr></thead>
        <tbody>
          {kinds.map(({ kind, n }) => (
            <tr key={kind}>
              <th scope="row">{kindWord(kind)}{alike ? null : <Bar kind={kind} share={n / most} hatch={hatch} />}</th>
              <td class="num">{showNumber(n, 0)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}
