/** Notes on anything: who said what when, the newest last, and a box to add one. A note is never changed afterwards. */
import { useState } from "preact/hooks";
import type { Id, Note } from "../model/types";
import { nowIso, put, readDraft, saveDraft, dropDraft } from "../store";
import { notesOf } from "../store/lookup";
import { t } from "../words";
import { showDate, showTime } from "../words/measures";
import { Button } from "./frame/Button";
import { Card } from "./frame/Card";
import { TextField } from "./frame/Field";
import { may } from "./may";

const LONGEST = 4000;

function Said({ note }: { note: Note }) {
  return (
    <li>
      <p class="note">{note.text}</p>
      <p class="sub">{t("note_by", { person: note.made_by, date: showDate(note.at), time: showTime(note.at) })}</p>
    </li>
  );
}

function Add({ ofType, ofId }: { ofType: Note["of_type"]; ofId: Id }) {
  const key = `note/${ofId}`;
  const [text, setText] = useState(() => readDraft<string>(key) ?? "");
  const type = (typed: string) => {
    setText(typed);
    void saveDraft(key, typed);
  };
  const keep = async () => {
    await put("note", null, { of_type: ofType, of_id: ofId, at: nowIso(), text: text.trim() });
    await dropDraft(key);
    setText("");
  };
  return (
    <>
      <TextField label={t("note_add")} value={text} onInput={type} long max={LONGEST} />
      <Button onPress={() => void keep()} disabled={text.trim() === ""}>{t("note_keep")}</Button>
    </>
  );
}

export function Notes({ ofType, ofId }: { ofType: Note["of_type"]; ofId: Id }) {
  const notes = notesOf(ofId);
  const mayAdd = may("make", "note");
  if (notes.length === 0 && !mayAdd) return null;
  return (
    <Card title={t("notes_title")}>
      {notes.length > 0 ? <ul class="rows">{notes.map((note) => <Said key={note.id} note={note} />)}</ul> : null}
      {mayAdd ? <Add ofType={ofType} ofId={ofId} /> : null}
    </Card>
  );
}
