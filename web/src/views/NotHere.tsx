/** The two screens for when something is not there: an address without a page, and a phone that cannot store. */
import { Button } from "../parts/frame/Button";
import { Page } from "../parts/frame/Page";
import { go } from "../parts/frame/route";
import { t } from "../words";

export function NotHere() {
  return (
    <Page title={t("not_here_title")} place={null} actions={<Button kind="primary" onPress={() => go("/walls")}>{t("to_walls")}</Button>}>
      <p>{t("not_here")}</p>
    </Page>
  );
}

export function StorageTrouble() {
  return (
    <main class="page">
      <div class="page-body page-main trouble" role="alert">
        <h1>{t("trouble_title")}</h1>
        <p>{t("trouble_say")}</p>
        <Button kind="primary" onPress={() => location.reload()}>{t("trouble_again")}</Button>
      </div>
    </main>
  );
}
