/** One step of a ticket: say that it is done, look a second time, look again after a storm, or open it again. */
import { type Lack, type Look, lacks, lacksAgain, lastDone, pointsOf } from "../../model/closing/closing";
import { stormSince } from "../../model/closing/recheck";
import { dayOf } from "../../model/storm/limits";
import type { StepKind, Ticket } from "../../model/types";
import { catalogue, me, nowIso, role, table } from "../../store";
import { photosOf, stepsOf } from "../../store/lookup";
import { t } from "../../words";
import { vocabularyWord } from "../../words/vocabulary";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { TextField } from "../../parts/frame/Field";
import { Page } from "../../parts/frame/Page";
import { leadToWrong } from "../../parts/frame/wrong";
import { ticketState } from "../../parts/judged";
import { LeaveButton } from "../../parts/undo/LeaveButton";
import { GhostButton } from "../../parts/photo/GhostCamera";
import { PhotoButton } from "../../parts/photo/PhotoButton";
import { DraftPhotos, PhotoStrip } from "../../parts/photo/PhotoStrip";
import { kindsWords, knownOf, reckon, ticketName } from "../../parts/ticket/gathered";
import { LACKS, Lacks, LookCard, OwnWork, StillCures, checkPoints } from "./closing/LookCard";
import { UsedFields, usedOf } from "./closing/UsedFields";
import { curedOn } from "./closing/cured";
import { type StepForm, earlierPhoto, useStepForm } from "./closing/stepDraft";
import { mayStep } from "./may";

/** The steps that have something to say; taking a ticket has not. */
export type AskedStep = Exclude<StepKind, "taken">;

const SAY = { done: "step_done_say", checked: "step_checked_say", rechecked: "step_rechecked_say", reopened: "step_reopened_say" } as const;
const NOTE = { done: "step_note", checked: "step_note_checked", rechecked: "step_note_checked", reopened: "step_note_reopened" } as const;
/** As long as the server takes. */
const LONGEST_NOTE = 4000;
const LOOKS: readonly StepKind[] = ["checked", "rechecked"];

/** The photos of before, to compare with the wall at hand. */
function Before({ ticket }: { ticket: Ticket }) {
  const known = knownOf(ticket.defect_ids).filter((one) => photosOf(one.defect.id).length > 0);
  if (known.length === 0) return null;
  return (
    <Card title={t("step_before")}>
      {known.map((one) => <PhotoStrip key={one.defect.id} ownerId={one.defect.id} about={kindsWords([one])} />)}
    </Card>
  );
}

function lookOf(ticket: Ticket, form: StepForm): Look {
  const done = lastDone(stepsOf(ticket.id));
  const { answers, own_work } = form.draft;
  return {
    by: me.value?.person ?? "", done_by: done?.made_by ?? null, own_work, may_own_work: role.value === "keeper", photos: form.photos.length,
    cured_on: curedOn(ticket, done), today: dayOf(nowIso()), points: pointsOf(ticket.method, checkPoints()), answers,
  };
}

const storms = () => [...table("storm").value.values()];

/** What the step takes along from elsewhere: amounts, the area they went on, the storm it follows. */
function takenAlong(ticket: Ticket, kind: StepKind, form: StepForm) {
  const reckoned = kind === "done" ? reckon(ticket, catalogue.value) : null;
  const area_m2 = reckoned && "repair" in reckoned && reckoned.repair.coated_area_m2 > 0 ? reckoned.repair.coated_area_m2 : null;
  const storm = kind === "done" || kind === "checked" ? null : stormSince(stepsOf(ticket.id), storms());
  return { used: kind === "done" ? usedOf(form.draft.used) : null, area_m2, storm_id: storm?.id ?? null };
}

function Photos({ ticket, kind, form }: { ticket: Ticket; kind: StepKind; form: StepForm }) {
  const { draftKey, photos, draft, change } = form;
  const before = earlierPhoto(ticket);
  return (
    <Card title={t(kind === "rechecked" ? "step_photo" : "step_after_photo")}>
      {kind === "done" && photos.length === 0 ? <p>{t("step_after_why")}</p> : null}
      <DraftPhotos draftKey={draftKey} about={ticketName(ticket)} />
      {before ? <GhostButton draftKey={draftKey} before={before} onTaken={({ sha256 }) => change({ same_place: { ...draft.same_place, [sha256]: before.id } })} /> : null}
      <PhotoButton draftKey={draftKey} />
    </Card>
  );
}

function Used({ ticket, form }: { ticket: Ticket; form: StepForm }) {
  const reckoned = reckon(ticket, catalogue.value);
  return reckoned && "repair" in reckoned ? <UsedFields repair={reckoned.repair} draft={form.draft} change={form.change} /> : null;
}

function Deeds({ ticket, kind, form, lacking }: { ticket: Ticket; kind: StepKind; form: StepForm; lacking: readonly Lack[] }) {
  const keep = async (as: StepKind) => {
    if (!(await leadToWrong())) await form.keep(as, takenAlong(ticket, as, form));
  };
  const unsound = lacking.includes("not_sound");
  const label = kind === "done" && form.photos.length === 0 ? t("step_keep_without") : t("keep");
  return (
    <>
      <LeaveButton draftKey={form.draftKey} onPress={form.leave} />
      {unsound
        ? <Button kind="warning" onPress={() => void keep("reopened")}>{t("look_open_again")}</Button>
        : <Button kind="primary" disabled={lacking.length > 0} describedBy={lacking.length > 0 ? LACKS : undefined} onPress={() => void keep(kind)}>{label}</Button>}
    </>
  );
}

export function StepView({ ticket, kind }: { ticket: Ticket; kind: AskedStep }) {
  const form = useStepForm(ticket, kind);
  const name = ticketName(ticket);
  const back = `/ticket/${ticket.id}`;
  if (!mayStep(role.value, ticketState(ticket)).includes(kind)) {
    return <Page title={name} place="tickets" back={back}><p>{t("step_not_now")}</p></Page>;
  }
  const looking = LOOKS.includes(kind);
  const look = lookOf(ticket, form);
  const lacking = kind === "checked" ? lacks(look) : kind === "rechecked" ? lacksAgain(look) : [];
  return (
    <Page title={vocabularyWord("steps", kind, "do")} sub={name} place="tickets" back={back} actions={<Deeds ticket={ticket} kind={kind} form={form} lacking={lacking} />}>
      <div class="step-form">
        <p>{t(SAY[kind])}</p>
        {lacking.includes("curing") ? <StillCures look={look} /> : null}
        {kind === "checked" ? <OwnWork look={look} change={form.change} /> : null}
        {looking ? <LookCard points={look.points} draft={form.draft} change={form.change} /> : null}
        {kind === "reopened" ? null : <Photos ticket={ticket} kind={kind} form={form} />}
        {kind === "done" ? <Used ticket={ticket} form={form} /> : null}
        <TextField label={t(NOTE[kind])} value={form.draft.note} onInput={(note) => form.change({ note })} long max={LONGEST_NOTE} />
        {looking ? <Lacks look={look} lacks={lacking} /> : null}
        <Before ticket={ticket} />
      </div>
    </Page>
  );
}
