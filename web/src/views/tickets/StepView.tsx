/** One step of a ticket: done (with an after-photo), checked, or opened again; kept with its photos in one go. */
import { useState } from "preact/hooks";
import type { StepKind, Ticket } from "../../model/types";
import { dropDraft, drafts, flushDrafts, newId, nowIso, photoRow, putMany, readDraft, role, saveDraft } from "../../store";
import { photosOf } from "../../store/lookup";
import { t } from "../../words";
import { vocabularyWord } from "../../words/vocabulary";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { TextField } from "../../parts/frame/Field";
import { Page } from "../../parts/frame/Page";
import { go, goBack } from "../../parts/frame/route";
import { ticketState } from "../../parts/judged";
import { PhotoButton } from "../../parts/photo/PhotoButton";
import { DraftPhotos, PhotoStrip } from "../../parts/photo/PhotoStrip";
import { kindsWords, knownOf, ticketName } from "../../parts/ticket/gathered";
import { mayStep } from "./may";

type Draft = { note: string };
const SAY = { taken: "step_taken_say", done: "step_done_say", checked: "step_checked_say", rechecked: "step_rechecked_say", reopened: "step_reopened_say" } as const;
const NOTE = { taken: "step_note", done: "step_note", checked: "step_note_checked", rechecked: "step_note_checked", reopened: "step_note_reopened" } as const;
/** As long as the server takes. */
const LONGEST_NOTE = 4000;

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

function useStep(ticket: Ticket, kind: StepKind) {
  const draftKey = `ticket/${ticket.id}?step=${kind}`;
  const [note, setNote] = useState(() => readDraft<Draft>(draftKey)?.note ?? "");
  const photos = drafts.value.get(draftKey)?.photos ?? [];
  const change = (next: string) => {
    setNote(next);
    void saveDraft<Draft>(draftKey, { note: next });
  };
  const keep = async () => {
    const id = newId();
    await flushDrafts();
    const step = { type: "step" as const, id, set: { ticket_id: ticket.id, kind, at: nowIso(), note: note.trim() || null } };
    await putMany([step, ...photos.map((photo) => photoRow("step", id, photo))], { draft: draftKey });
    go(`/ticket/${ticket.id}`, true);
  };
  const leave = async () => {
    await dropDraft(draftKey);
    goBack(`/ticket/${ticket.id}`);
  };
  return { draftKey, note, photos, change, keep, leave };
}

export function StepView({ ticket, kind }: { ticket: Ticket; kind: StepKind }) {
  const { draftKey, note, photos, change, keep, leave } = useStep(ticket, kind);
  const back = `/ticket/${ticket.id}`;
  const name = ticketName(ticket);
  if (!mayStep(role.value, ticketState(ticket)).includes(kind)) {
    return <Page title={name} place="tickets" back={back}><p>{t("step_not_now")}</p></Page>;
  }
  const label = kind === "done" && photos.length === 0 ? t("step_keep_without") : t("keep");
  const actions = <><Button onPress={() => void leave()}>{t("cancel")}</Button><Button kind="primary" onPress={() => void keep()}>{label}</Button></>;
  return (
    <Page title={vocabularyWord("steps", kind, "do")} sub={name} place="tickets" back={back} actions={actions}>
      <p>{t(SAY[kind])}</p>
      {kind === "reopened" ? null : (
        <Card title={t(kind === "done" ? "step_after_photo" : "step_photo")}>
          {kind === "done" && photos.length === 0 ? <p>{t("step_after_why")}</p> : null}
          <DraftPhotos draftKey={draftKey} about={name} />
          <PhotoButton draftKey={draftKey} />
        </Card>
      )}
      <TextField label={t(NOTE[kind])} value={note} onInput={change} long max={LONGEST_NOTE} />
      <Before ticket={ticket} />
    </Page>
  );
}
