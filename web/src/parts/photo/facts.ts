/** What is known of a photo, in words: when, which way, where from, and whether it has been sent. */
import type { FileFacts, Id, PositionSource } from "../../model/types";
import { type KeptPhoto, photoJobs } from "../../store";
import { language, refusalWords, t } from "../../words";
import { showBearing, showDate, showMetres, showNumber, showTime } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";

export type Pictured = {
  sha256: string; media_type: KeptPhoto["media_type"]; taken_at: string | null; lat: number | null; lon: number | null; accuracy_m: number | null;
  heading_deg: number | null; position_source: PositionSource | null; file_facts?: FileFacts | null; made_at?: string;
};

/** The row's own place, else what the camera file says; null where neither tells one. */
export function placeOf(photo: Pictured): { lat: number; lon: number; source: PositionSource } | null {
  if (photo.lat !== null && photo.lon !== null) return { lat: photo.lat, lon: photo.lon, source: photo.position_source ?? "hand" };
  const file = photo.file_facts;
  if (file && file.lat !== null && file.lon !== null) return { lat: file.lat, lon: file.lon, source: "camera_file" };
  return null;
}

const when = (iso: string) => ({ date: showDate(iso), time: showTime(iso) });

export function takenWords(photo: Pictured): string | null {
  if (photo.taken_at) return t("photo_taken", when(photo.taken_at));
  if (photo.file_facts?.taken_at) return t("photo_taken_file", when(photo.file_facts.taken_at));
  return photo.made_at ? t("photo_added", when(photo.made_at)) : null;
}

export function lookingWords(photo: Pictured): string | null {
  const heading = photo.heading_deg ?? photo.file_facts?.heading_deg ?? null;
  return heading === null ? null : t("photo_looking", { point: showBearing(heading) });
}

export function placeWords(photo: Pictured): string {
  const place = placeOf(photo);
  if (!place) return t("photo_no_place");
  const source = vocabularyWord("position_sources", place.source);
  if (place.source === "camera_file" || photo.accuracy_m === null) return t("photo_place", { source });
  return t("photo_place_within", { source, accuracy: showMetres(photo.accuracy_m) });
}

export function coordinateWords(photo: Pictured): string | null {
  const place = placeOf(photo);
  return place ? t("photo_coordinates", { lat: showNumber(place.lat, 5), lon: showNumber(place.lon, 5) }) : null;
}

/** What a person who does not see the photo is told. */
export function altWords(photo: Pictured, about: string): string {
  const facts = [takenWords(photo), lookingWords(photo), placeWords(photo)].filter((words) => words !== null);
  return t("photo_alt", { about, facts: new Intl.ListFormat(language(), { type: "unit", style: "long" }).format(facts) });
}

/** Why this photo is not on the server, or null when it is. */
export function waitingWords(photo: { site_id: Id; sha256: string; stored: boolean | null }): string | null {
  const job = photoJobs.value.find((one) => one.site === photo.site_id && one.sha256 === photo.sha256);
  if (job?.state === "refused") return job.code ? refusalWords(job.code) : t("photo_refused");
  if (job?.state === "waiting") return t("photo_waiting");
  return photo.stored || job ? null : t("photo_elsewhere");
}
