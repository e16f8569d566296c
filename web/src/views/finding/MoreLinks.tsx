/** From the search to what changed and to what was deleted. */
import { gone, news } from "../../store";
import { Link } from "../../parts/frame/Link";
import { t } from "../../words";
import { recent } from "./deleted";
import { told } from "./told";

export function MoreLinks() {
  return (
    <ul class="rows card find-more">
      <li><Link class="row-link" to="/changes"><span class="grow">{t("changes_link", { n: told(news.value).length })}</span><span aria-hidden="true">›</span></Link></li>
      <li><Link class="row-link" to="/deleted"><span class="grow">{t("deleted_link", { n: recent(gone.value).length })}</span><span aria-hidden="true">›</span></Link></li>
    </ul>
  );
}
