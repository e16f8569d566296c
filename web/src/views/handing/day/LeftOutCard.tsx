/** What is not in the plan, by reason; what an engineer must see first stands on top. */
import type { Id } from "../../../model/types";
import { t } from "../../../words";
import { Button } from "../../../parts/frame/Button";
import { Card } from "../../../parts/frame/Card";
import { Link } from "../../../parts/frame/Link";
import { go } from "../../../parts/frame/route";
import { jobName, reasonWords } from "./dayWords";
import type { Planned } from "./planning";

type LeftOut = Planned["plan"]["left_out"][number];

/** To a look at what nobody has measured, so that it can be planned. */
function Measure({ id, planned }: { id: Id; planned: Planned }) {
  const defect = planned.tickets.find((one) => one.id === id)?.defect_ids[0];
  return defect ? <Button label={t("left_out_measure_of", { ticket: jobName(id) })} onPress={() => go(`/defect/${defect}/reading`)}>{t("left_out_measure")}</Button> : null;
}

function OneOut({ one, planned }: { one: LeftOut; planned: Planned }) {
  return (
    <li>
      <Link to={`/ticket/${one.job}`} class="row-link">
        <span class="grow"><strong>{jobName(one.job)}</strong> {one.code === "engineer_first" ? <span class="engineer-mark">{t("do_not_touch")}</span> : null}</span>
      </Link>
      {one.code === "no_size" ? <Measure id={one.job} planned={planned} /> : null}
    </li>
  );
}

/** Those with one reason, by its sentence. */
function byReason(all: readonly LeftOut[], planned: Planned): [say: string, here: LeftOut[]][] {
  const found = new Map<string, LeftOut[]>();
  for (const one of all) {
    const say = reasonWords(one.code, planned.jobs.get(one.job));
    found.set(say, [...(found.get(say) ?? []), one]);
  }
  return [...found];
}

export function LeftOutCard({ planned }: { planned: Planned }) {
  const { left_out, goes_on } = planned.plan;
  const engineer = left_out.filter((one) => one.code === "engineer_first");
  const others = left_out.filter((one) => one.code !== "engineer_first");
  if (left_out.length + goes_on.length === 0) return null;
  return (
    <Card title={t("left_out_title")} aside={left_out.length > 0 ? t("left_out_n", { n: left_out.length }) : undefined}>
      {byReason([...engineer, ...others], planned).map(([say, here]) => (
        <section key={say} class="left-out">
          <p>{say}</p>
          <ul class="rows">{here.map((one) => <OneOut key={one.job} one={one} planned={planned} />)}</ul>
        </section>
      ))}
      {goes_on.length > 0 ? <p class="hint">{t("goes_on", { tickets: goes_on.map(jobName).join(", ") })}</p> : null}
    </Card>
  );
}
