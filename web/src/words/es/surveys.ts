/** Palabras del recorrido en marcha en este dispositivo, que están en los muros. */
import type { surveys as english } from "../en/surveys";

export const surveys: Record<keyof typeof english, string> = {
  storms_date_wrong: "Indica un día entre 1900 y mañana.",
  survey_of: "Recorrido del {date}",
  survey_of_after: "Recorrido del {date} tras «{storm}»",
  survey_readings: "{n} lectura | {n} lecturas",
  survey_by: "empezado por {person}",
  survey_start: "Empezar un recorrido",
  survey_finish: "Terminar",
  survey_bar: "Recorrido",
  survey_change: "Cambiar el recorrido",
  survey_start_lead: "Todo lo que marques y midas desde ahora es de este recorrido, hasta que lo termines.",
  survey_replaces: "{survey} está en marcha en este dispositivo. Termina aquí al empezar otro; sus lecturas se quedan.",
  survey_join: "Alguien empezó uno hoy. Súmate a él:",
  survey_date: "Día",
  survey_storm: "¿Tras qué temporal?",
  survey_storm_none: "ninguno, una vuelta normal",
  survey_storm_option: "{name}, {date}",
  survey_note: "Nota",
  survey_note_hint: "luz y tiempo, quién miró qué muro",
  survey_go: "Empezar",
  first_title: "Mira aquí primero",
};
