/** How big and how deep: only the questions that fit, each with tiles for a hand without a rule and a field for one with. */
import type { Size } from "../../../model/defect";
import type { Measures, Question } from "../../../model/marking/marking";
import { CoatSection } from "../../../parts/drawing/CoatSection";
import { Button } from "../../../parts/frame/Button";
import { Card } from "../../../parts/frame/Card";
import { t } from "../../../words";
import { areaFromTyped, areaUnit, lengthUnit, metresFromTyped, mmFromTyped, showArea, showMetres, showMm, showNumber, smallUnit, typedFromArea, typedFromMetres, typedFromMm } from "../../../words/measures";
import { vocabularyList, vocabularyWord } from "../../../words/vocabulary";
import { MeasureField } from "./MeasureField";
import { crackWords } from "../sizes";
import { StepTiles } from "./StepTiles";
import type { Under } from "../trade";

export type Last = { measures: Measures; words: (measure: keyof Measures) => string | null };
type Props = {
  questions: readonly Question[]; value: Measures; onChange: (change: Partial<Measures>) => void; under: Under;
  /** What the drawing tells of itself; null for a pin. */
  size: Size | null; last?: Last;
  /** Goes to where the outline is drawn on a photo. */
  onPhoto: () => void;
};
type AreaStep = { id: string; area_m2: number };
type DepthStep = { id: string; depth_mm: number };

const CRACKS_MM = [0.1, 0.3, 1, 3, 5, 10];
const LENGTHS_M = [0.1, 0.3, 0.5, 1, 2, 3];
const COUNTS = [1, 2, 3, 5, 10, 20];

function AreaQuestion({ value, onChange, last, onPhoto }: Props) {
  const steps = vocabularyList("size_steps") as unknown as readonly AreaStep[];
  return (
    <>
      <StepTiles
        legend={t("measure_area")} last={last?.words("area_m2")} value={value.area_m2} onPick={(area_m2) => onChange({ area_m2 })}
        steps={steps.map(({ id, area_m2 }) => ({ value: area_m2, label: vocabularyWord("size_steps", id), hint: t("measure_about", { size: showArea(area_m2) }) }))}
      />
      <MeasureField label={t("measure_area_typed")} unit={areaUnit()} most={10000} value={value.area_m2} from={areaFromTyped} to={typedFromArea} onInput={(area_m2) => onChange({ area_m2 })} />
      <div class="deeds"><Button onPress={onPhoto}>{t("measure_on_photo")}</Button></div>
    </>
  );
}

function DepthQuestion({ value, onChange, under, last }: Props) {
  const steps = vocabularyList("depth_steps") as unknown as readonly DepthStep[];
  const mean = value.depth_mean_mm;
  const meanTooDeep = mean !== null && value.depth_max_mm !== null && mean > value.depth_max_mm;
  return (
    <>
      <p class="measure-head">{t("measure_depth")}</p>
      {last?.words("depth_max_mm") ? <p class="hint">{last.words("depth_max_mm")}</p> : null}
      <CoatSection {...under} depth_mm={value.depth_max_mm} onDepth={(depth_max_mm) => onChange({ depth_max_mm })} />
      <StepTiles
        legend={t("measure_depth")} hideLegend value={value.depth_max_mm} onPick={(depth_max_mm) => onChange({ depth_max_mm })}
        steps={steps.map(({ id, depth_mm }) => ({ value: depth_mm, label: vocabularyWord("depth_steps", id), hint: t("measure_about", { size: showMm(depth_mm) }) }))}
      />
      <MeasureField label={t("measure_depth_typed")} unit={smallUnit()} most={2000} value={value.depth_max_mm} from={mmFromTyped} to={typedFromMm} onInput={(depth_max_mm) => onChange({ depth_max_mm })} />
      <MeasureField
        label={t("measure_depth_mean")} hint={t("measure_depth_mean_hint")} help="depths" unit={smallUnit()} most={2000} value={mean} from={mmFromTyped} to={typedFromMm}
        wrong={meanTooDeep ? t("measure_mean_too_deep") : null} onInput={(depth_mean_mm) => onChange({ depth_mean_mm })}
      />
    </>
  );
}

function CrackLine({ width_mm }: { width_mm: number }) {
  return (
    <svg viewBox="0 0 100 48" aria-hidden="true" class="crack-line">
      <path d="M0 26Q16 21 34 24T66 23T100 26" fill="none" stroke="currentColor" stroke-width={width_mm * 3.78} />
    </svg>
  );
}

function CrackQuestion({ value, onChange, last }: Props) {
  return (
    <>
      <StepTiles
        legend={t("measure_crack")} last={last?.words("crack_width_mm")} value={value.crack_width_mm} onPick={(crack_width_mm) => onChange({ crack_width_mm })}
        steps={CRACKS_MM.map((mm) => ({ value: mm, label: crackWords(mm), drawing: <CrackLine width_mm={mm} /> }))}
      />
      <MeasureField label={t("measure_crack_typed")} help="crack" unit={smallUnit()} most={500} value={value.crack_width_mm} from={mmFromTyped} to={typedFromMm} onInput={(crack_width_mm) => onChange({ crack_width_mm })} />
    </>
  );
}

function LengthQuestion({ value, onChange, last }: Props) {
  return (
    <>
      <StepTiles
        legend={t("measure_length")} last={last?.words("length_m")} value={value.length_m} onPick={(length_m) => onChange({ length_m })}
        steps={LENGTHS_M.map((m) => ({ value: m, label: showMetres(m) }))}
      />
      <MeasureField label={t("measure_length_typed")} unit={lengthUnit()} most={1000} value={value.length_m} from={metresFromTyped} to={typedFromMetres} onInput={(length_m) => onChange({ length_m })} />
    </>
  );
}

const whole = (typed: number | null) => (typed === null ? null : Math.round(typed));

function CountQuestion({ value, onChange, last }: Props) {
  return (
    <>
      <StepTiles
        legend={t("measure_count")} last={last?.words("count")} value={value.count} onPick={(count) => onChange({ count })}
        steps={COUNTS.map((n) => ({ value: n, label: showNumber(n, 0) }))}
      />
      <MeasureField label={t("measure_count_typed")} most={100000} value={value.count} from={whole} to={whole} onInput={(count) => onChange({ count })} />
    </>
  );
}

const ASKED = { area: AreaQuestion, depth: DepthQuestion, crack_width: CrackQuestion, length: LengthQuestion, count: CountQuestion };

export function MeasureStep(props: Props) {
  if (props.questions.length === 0) return <Card title={t("measure_title")}><p>{t("measure_nothing")}</p></Card>;
  // What the drawing tells of itself stands below it already.
  const drawn = { area: props.size?.area_m2 != null, length: props.size?.length_m != null } as Partial<Record<Question, boolean>>;
  const asked = props.questions.filter((question) => !drawn[question]);
  if (asked.length === 0) return null;
  return (
    <>
      <h2>{t("measure_title")}</h2>
      {asked.map((question) => {
        const Ask = ASKED[question];
        return <Card key={question}><Ask {...props} /></Card>;
      })}
    </>
  );
}
