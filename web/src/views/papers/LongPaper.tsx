/** A paper that takes a while: begun, watched, stopped or fetched. */
import { useEffect, useState } from "preact/hooks";
import { NotReached, type PaperJob, Refused, beginPaper, currentSite, paperFile, paperProgress, settings, stopPaper } from "../../store";
import { refusalWords, t } from "../../words";
import { Button } from "../../parts/frame/Button";

const ASK_EVERY_MS = 700;

export function whyNot(error: unknown): string {
  if (error instanceof NotReached) return t("phone_not_reached");
  if (error instanceof Refused) return refusalWords(error.code);
  throw error;
}

function useJob(paper: string) {
  const [job, setJob] = useState<PaperJob | null>(null);
  const [trouble, setTrouble] = useState("");
  const fail = (error: unknown) => {
    setJob(null);
    setTrouble(whyNot(error));
  };
  useEffect(() => {
    if (!job || job.ready) return;
    const timer = setTimeout(() => void paperProgress(job.job).then(setJob, fail), ASK_EVERY_MS);
    return () => clearTimeout(timer);
  }, [job]);
  const begin = () => {
    setTrouble("");
    const wishes = { language: settings.value.language, measures: settings.value.measures };
    void beginPaper(currentSite.value ?? "", paper, wishes).then((id) => setJob({ job: id, done: 0, of: 0, ready: false }), fail);
  };
  const stop = () => {
    const now = job;
    setJob(null);
    if (now) void stopPaper(now.job).catch(fail);
  };
  return { job, trouble, begin, stop };
}

export function LongPaper({ paper, name }: { paper: string; name: string }) {
  const { job, trouble, begin, stop } = useJob(paper);
  return (
    <>
      {job === null ? <Button onPress={begin} label={t("paper_make_of", { paper: name })}>{t("paper_make")}</Button> : null}
      {job && !job.ready ? (
        <div class="paper-job">
          <progress value={job.done} max={Math.max(job.of, 1)} aria-label={name} />
          <span role="status">{job.of > 0 ? t("paper_progress", { done: job.done, of: job.of }) : t("paper_begun")}</span>
          <Button onPress={stop}>{t("paper_stop")}</Button>
        </div>
      ) : null}
      {job?.ready ? <a class="btn btn-primary" href={paperFile(job.job)} download="">{t("paper_fetch")}</a> : null}
      {trouble ? <p class="wrong" role="alert">{trouble}</p> : null}
    </>
  );
}
