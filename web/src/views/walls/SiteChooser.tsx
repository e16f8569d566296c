/** Which grounds are on the screen; only where this phone holds several. */
import { chooseSite, currentSite, me, sites } from "../../store";
import { Select } from "../../parts/frame/Field";
import { Link } from "../../parts/frame/Link";
import { t } from "../../words";

export function SiteChooser() {
  if (sites.value.length < 2) return null;
  return (
    <div class="site-chooser">
      <Select label={t("walls_site")} value={currentSite.value ?? ""} options={sites.value.map((one) => ({ id: one.id, label: one.name }))} onPick={(id) => void chooseSite(id)} />
      {me.value?.may_found ? <p><Link class="plain-link" to="/site/new">{t("site_new")}</Link></p> : null}
    </div>
  );
}
