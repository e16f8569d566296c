/** A second look at a known defect while it is being entered: what it would say, and the row it becomes. */
import { sizeOfMark } from "../defect";
import { type Growth, compareReadings } from "../growth";
import type { OnPhoto } from "../measuring/draft";
import type { Elevation, Fields, Id, Reading, ReadingState } from "../types";
import { type Drawn, type Measures, NO_MEASURES, markOfDrawn, measuredOn } from "./marking";

export type ReadingDraft = Measures & {
  /** The person's own word; null leaves it to the numbers. */
  state: ReadingState | null;
  /** The mark drawn anew; null while the old one stands. */
  redrawn: Drawn | null;
  note: string;
  headings: Record<string, number>;
  on_photo?: OnPhoto | null;
  /** Photos taken through an earlier one, by hash. */
  same_place?: Record<string, Id>;
};

export const EMPTY_READING: ReadingDraft = { ...NO_MEASURES, state: null, redrawn: null, note: "", headings: {} };

/** After everything else in time order, whatever the clock of this phone says. */
const LAST = "9999-12-31T23:59:59Z";

/** The measures of a draft; a mark drawn anew tells its own area or length. */
export function readMeasures(draft: ReadingDraft, elevation: Elevation): Measures {
  const mark = draft.redrawn ? markOfDrawn(draft.redrawn) : null;
  return measuredOn(draft, mark ? sizeOfMark(mark, elevation) : null);
}

/** What the numbers say against the reading before; null while they say nothing. */
export function suggestState(draft: ReadingDraft, before: readonly Reading[], elevation: Elevation): Growth | null {
  const measures = readMeasures(draft, elevation);
  if (Object.values(measures).every((value) => value === null)) return null;
  return compareReadings([...before, { ...measures, id: "draft", at: LAST, state: null }]);
}

export function readingFields(draft: ReadingDraft, before: readonly Reading[], elevation: Elevation): Partial<Fields<"reading">> {
  const note = draft.note.trim();
  return {
    ...readMeasures(draft, elevation), mark: draft.redrawn ? markOfDrawn(draft.redrawn) : null, note: note === "" ? null : note,
    state: draft.state ?? suggestState(draft, before, elevation)?.state ?? null,
  };
}

export const isBlankReading = (draft: ReadingDraft): boolean =>
  draft.state === null && draft.redrawn === null && draft.note === ""
  && [draft.area_m2, draft.length_m, draft.depth_max_mm, draft.depth_mean_mm, draft.crack_width_mm, draft.count].every((one) => one === null);
