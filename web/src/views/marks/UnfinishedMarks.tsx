/** Marks and readings that were begun and not kept, to go on with; and a word on what was kept last. */
import { useEffect } from "preact/hooks";
import type { MarkDraft } from "../../model/marking/marking";
import type { Id } from "../../model/types";
import { Card } from "../../parts/frame/Card";
import { Link } from "../../parts/frame/Link";
import { type Draft, drafts, row } from "../../store";
import { t } from "../../words";
import { showDate, showTime } from "../../words/measures";
import { lastKept } from "./keep";
import { defectName, kindName, wallName } from "./trade";

const READING = /^defect\/([^/]+)\/reading$/;

type Unfinished = { draft: Draft; elevation: Id; words: string };

function unfinished(draft: Draft): Unfinished | null {
  const of = draft.key.match(READING)?.[1];
  if (of) {
    const defect = row("defect", of);
    return defect ? { draft, elevation: defect.elevation_id, words: t("unfinished_reading", { name: defectName(defect) }) } : null;
  }
  const value = draft.key.startsWith("mark/") ? (draft.value as MarkDraft | null) : null;
  const elevation = row("elevation", value?.elevation_id);
  if (!value || !elevation) return null;
  const changed = row("defect", value.defect_id);
  const words = changed ? t("unfinished_change", { name: defectName(changed) }) : t("unfinished_mark", { kind: kindName(value.kind), wall: wallName(elevation) });
  return { draft, elevation: elevation.id, words };
}

/** Those on one elevation, or on the whole site. Nothing is shown where there are none. */
export function UnfinishedMarks({ elevation }: { elevation?: Id }) {
  const found = [...drafts.value.values()].map(unfinished).filter((one) => one !== null && (!elevation || one.elevation === elevation));
  if (found.length === 0) return null;
  const newest = found.filter((one) => one !== null).sort((a, b) => b.draft.saved_at.localeCompare(a.draft.saved_at));
  return (
    <Card title={t("unfinished_title", { n: newest.length })}>
      <ul class="rows">
        {newest.map(({ draft, words }) => (
          <li key={draft.key}>
            <Link class="row-link" to={`/${draft.key}`}>
              <span class="grow">
                {words}
                <small class="unfinished-when">{t("unfinished_when", { date: showDate(draft.saved_at), time: showTime(draft.saved_at), n: draft.photos.length })}</small>
              </span>
              <span aria-hidden="true">›</span>
            </Link>
          </li>
        ))}
      </ul>
    </Card>
  );
}

/** "Kept: 14 spalling", on the wall one comes back to. */
export function KeptStatus({ elevation }: { elevation: Id }) {
  const kept = lastKept.value;
  useEffect(() => () => {
    lastKept.value = null;
  }, []);
  const defect = row("defect", kept?.defect);
  const here = kept?.new && defect?.elevation_id === elevation ? defect : null;
  const words = here ? t("kept_mark", { name: defectName(here) }) : "";
  return <p class={here ? "kept-status" : "unseen"} role="status">{words}</p>;
}
