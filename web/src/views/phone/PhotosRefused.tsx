/** Photos whose bytes the server did not take, with the reason and a second try. */
import { photoJobs, retryPhoto } from "../../store";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { refusalWords, t } from "../../words";
import { showDate, showTime } from "../../words/measures";

export function PhotosRefused() {
  const refused = photoJobs.value.filter((job) => job.state === "refused");
  return (
    <Card title={t("phone_photos_refused", { n: refused.length })} tone="caution">
      <ul class="rows">
        {refused.map((job) => (
          <li key={job.sha256}>
            <p>{`${t("row_photo")}, ${showDate(job.changed_at)} ${showTime(job.changed_at)}: ${refusalWords(job.code ?? "unknown")}`}</p>
            <Button onPress={() => void retryPhoto(job.site, job.sha256)}>{t("phone_parked_again")}</Button>
          </li>
        ))}
      </ul>
    </Card>
  );
}
