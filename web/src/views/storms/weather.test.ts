import { beforeEach, describe, expect, test } from "vitest";
import { settings } from "../../store";
import { withWords } from "../../words";
import { storms as english } from "../../words/en/later/storms";
import { storms as spanish } from "../../words/es/later/storms";
import { RAIN_EYES, joinNote, tileOf, rainWords, speedFromTyped, splitNote, typedFromSpeed, windWords } from "./weather";

const speak = async (language: "en" | "es", measures: "metric" | "us" = "metric") => {
  settings.value = { ...settings.value, language, measures };
  await withWords(Promise.resolve());
};
const storm = {
  id: "s", site_id: "s", rev: 1, made_at: "2031-10-09T08:00:00Z", made_by: "Robin", name: "Gale", began_on: "2031-10-09", duration_h: null, rain_mm: null,
  wind_m_s: null, wind_from_deg: null, gust_m_s: null, hail: null, note: null,
};
beforeEach(() => speak("en"));

describe("rain by eye", () => {
  test.each(RAIN_EYES)("%s is found again in a note written in either language", async (eye) => {
    for (const language of ["en", "es"] as const) {
      await speak(language);
      const note = joinNote(eye, "Oona took the hide.\nDry by noon.");
      await speak(language === "en" ? "es" : "en");
      expect(splitNote(note)).toEqual({ eye, rest: "Oona took the hide.\nDry by noon." });
    }
  });

  test("the sentences differ, so that none is taken for another", () => {
    const all = RAIN_EYES.flatMap((eye) => [english[`storms_eye_${eye}`], spanish[`storms_eye_${eye}`]]);
    expect(new Set(all).size).toBe(2 * RAIN_EYES.length);
  });

  test("a plain note stays as it is, and nothing makes no note", () => {
    expect(splitNote("Hail at four.\nRain by eye: heavy.")).toEqual({ eye: null, rest: "Hail at four.\nRain by eye: heavy." });
    expect(joinNote(null, "")).toBeNull();
  });

  test("it never becomes a figure, and a figure stands before it", () => {
    expect(rainWords({ ...storm, note: joinNote("heavy", "") })).toBe("heavy, by eye, not measured");
    expect(rainWords({ ...storm, note: joinNote("heavy", ""), rain_mm: 12, duration_h: 1 })).toBe("12\u00a0mm over 1 hour");
    expect(rainWords(storm)).toBe("not recorded");
    expect(rainWords({ ...storm, rain_mm: 0 })).toBe("0\u00a0mm");
  });
});

test("wind says what is known of it", async () => {
  expect(windWords(storm)).toBe("not recorded");
  expect(windWords({ ...storm, wind_from_deg: 225 })).toBe("from SW");
  expect(windWords({ ...storm, wind_m_s: 0 })).toBe("0\u00a0m/s");
  await speak("es", "us");
  expect(windWords({ ...storm, wind_m_s: 17, wind_from_deg: 225 })).toBe("38\u00a0mph del SO");
});

test("miles an hour go in and come out the same", async () => {
  await speak("en", "us");
  expect(typedFromSpeed(speedFromTyped(45))).toBe(45);
  expect(speedFromTyped(null)).toBeNull();
  await speak("en");
  expect(speedFromTyped(17)).toBe(17);
});

test.each([[null, ""], [0, "0"], [360, "0"], [225, "225"], [240, null], [292, null], [44, null]])("%s degrees ticks %s", (from, point) => {
  expect(tileOf(from)).toBe(point);
});
