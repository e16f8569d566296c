/** What was found on a side: the chosen mark as a card, and all of them as a list, the most pressing first. */
import { useEffect, useRef, useState } from "preact/hooks";
import type { Defect, Id } from "../../model/types";
import { defectLabel, isClosed, judged, sizeWords, ticketFor } from "../../parts/judged";
import { StandingChip } from "../../parts/StandingChip";
import { Button } from "../../parts/frame/Button";
import { Card, Chip, Empty } from "../../parts/frame/Card";
import { go } from "../../parts/frame/route";
import { whole } from "../../store";
import { t } from "../../words";
import { showArea, showMm } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";

const kindWords = (defect: Defect) => (defect.kind ? vocabularyWord("kinds", defect.kind) : t("elevation_no_kind"));

function ticketWords(defect: Defect): string {
  const found = ticketFor(defect);
  if (!found) return t("elevation_no_ticket");
  return t("elevation_ticket", { number: found.ticket.number ?? t("elevation_number_words"), state: vocabularyWord("ticket_states", found.state) });
}

/** The card of the chosen mark, under the drawing. */
export function ChosenCard({ defect }: { defect: Defect }) {
  const found = judged(defect);
  const card = useRef<HTMLElement>(null);
  useEffect(() => card.current?.scrollIntoView({ block: "nearest" }), []);
  if (!found) return null;
  const { size, facts } = found;
  const curved = size.area_m2 !== null && size.as_drawn_m2 !== null && Math.abs(size.area_m2 - size.as_drawn_m2) > 0.005 * size.area_m2;
  const measures = [sizeWords(size), facts.depth_max_mm === null ? null : t("elevation_deep", { depth: showMm(facts.depth_max_mm) }), facts.crack_width_mm === null ? null : t("elevation_wide", { width: showMm(facts.crack_width_mm) })];
  return (
    <section ref={card} class="chosen-card" aria-label={t("elevation_chosen")} aria-live="polite">
      <div class="chosen-head">
        <StandingChip defect={defect} found={found} />
        {found.engineer_first && !isClosed(defect) ? <Chip strong>{t("elevation_engineer")}</Chip> : null}
        <h2>{defectLabel(defect)} · {kindWords(defect)}</h2>
      </div>
      <ul class="measures">{measures.filter((one) => one !== null).map((one) => <li key={one}>{one}</li>)}<li>{ticketWords(defect)}</li></ul>
      {curved ? <p class="sub">{t("elevation_area_drawn", { area: showArea(size.area_m2 ?? 0), drawn: showArea(size.as_drawn_m2 ?? 0) })}</p> : null}
      <div class="deeds"><Button onPress={() => go(`/defect/${defect.id}`)}>{t("elevation_open")}</Button></div>
    </section>
  );
}

function FoundRow({ defect, on, onPick }: { defect: Defect; on: boolean; onPick: () => void }) {
  const found = judged(defect);
  return (
    <li class={on ? "on" : undefined}>
      <button type="button" class="pick-row" aria-pressed={on} onClick={onPick}>
        <span class="number">{defectLabel(defect)}</span>
        <span class="grow">
          {kindWords(defect)}
          <small>{found ? (sizeWords(found.size) ?? t("elevation_no_size")) : ""}</small>
          <small>{ticketWords(defect)}</small>
        </span>
        {found ? <StandingChip defect={defect} found={found} /> : null}
      </button>
    </li>
  );
}

/** Rows shown at first and with each asking for more: a list of thousands would be slow to draw and nobody reads it through. */
const AT_ONCE = 40;

type RowsProps = { defects: readonly Defect[]; chosen: Id | null; onPick: (id: Id) => void };

function FoundRows({ defects, chosen, onPick }: RowsProps) {
  const [shown, setShown] = useState(AT_ONCE);
  const rest = defects.length - shown;
  return (
    <>
      <ul class="rows">{defects.slice(0, shown).map((one) => <FoundRow key={one.id} defect={one} on={one.id === chosen} onPick={() => onPick(one.id)} />)}</ul>
      {rest > 0 ? <div class="deeds"><Button onPress={() => setShown(shown + AT_ONCE)}>{t("elevation_more", { n: Math.min(rest, AT_ONCE), rest })}</Button></div> : null}
    </>
  );
}

/** `counted`: every row is here; before that nothing is claimed. */
type ListProps = { counted: boolean; open: readonly Defect[]; closed: readonly Defect[]; chosen: Id | null; onPick: (id: Id) => void };

export function FoundList({ counted, open, closed, chosen, onPick }: ListProps) {
  return (
    <div class="found">
      <Card title={t("elevation_found")} aside={counted ? t("elevation_count", { n: open.length }) : t("walls_counting")}>
        {open.length + closed.length === 0 ? <Empty small scene="mark">{t(counted ? "elevation_found_none" : "loading")}</Empty> : <FoundRows defects={open} chosen={chosen} onPick={onPick} />}
        {closed.length ? <details><summary>{t("elevation_closed", { n: closed.length })}</summary><FoundRows defects={closed} chosen={chosen} onPick={onPick} /></details> : null}
      </Card>
    </div>
  );
}
