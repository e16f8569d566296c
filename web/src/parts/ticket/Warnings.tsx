/** What the estimate warns of, each with what to do about it; from the urgent to the merely uncertain. */
import type { Warning } from "../../model/materials/job";
import { isSentence, t } from "../../words";
import { Card } from "../frame/Card";

const ORDER: Warning[] = ["cement_over_earth", "stronger_than_wall", "richer_than_below", "thicker_than_below", "too_thick", "lean", "no_area", "no_length",
  "no_count", "no_crack_width", "depth_unknown", "proud_of_face", "thin_over_cover", "odd_hair", "much_oil", "perimeter_assumed", "untested_on_this_wall"];

export function warningWords(code: string): string {
  const key = `warn_${code}`;
  return isSentence(key) ? t(key) : code;
}

export function WarningLines({ warnings }: { warnings: readonly string[] }) {
  const rank = (code: string) => ORDER.indexOf(code as Warning);
  return <ul class="warnings">{[...warnings].sort((a, b) => rank(a) - rank(b)).map((code) => <li key={code}>{warningWords(code)}</li>)}</ul>;
}

export function WarningCard({ warnings }: { warnings: readonly string[] }) {
  return warnings.length === 0 ? null : <Card title={t("warnings_title")}><WarningLines warnings={warnings} /></Card>;
}
