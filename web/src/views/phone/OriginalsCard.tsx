/** Whether the originals of photos wait for Wi-Fi; where the browser cannot tell, a person lets them go by hand. */
import { holdOriginals, letOriginalsGo, settings, syncNow, syncState } from "../../store";
import { Button } from "../../parts/frame/Button";
import { Card } from "../../parts/frame/Card";
import { Pick } from "../../parts/frame/Field";
import { t } from "../../words";

export function OriginalsCard() {
  const { line, originalsHeld } = syncState.value;
  const onlyWifi = settings.value.originalsOnWifi;
  const change = async (onWifiOnly: boolean) => {
    await holdOriginals(onWifiOnly);
    if (!onWifiOnly) await syncNow();
  };
  const sendNow = () => {
    letOriginalsGo();
    void syncNow();
  };
  return (
    <Card>
      <Pick legend={t("phone_originals")} value={onlyWifi ? "wifi" : "any"} onPick={(one) => void change(one === "wifi")}
        options={[{ id: "any", label: t("phone_originals_any") }, { id: "wifi", label: t("phone_originals_wifi") }]} />
      <p class="hint">{t("phone_originals_say")}</p>
      {onlyWifi && line === "unknown" ? <p class="hint">{t("phone_originals_unknown")}</p> : null}
      {originalsHeld > 0 ? <Button onPress={sendNow}>{t("phone_originals_now")}</Button> : null}
    </Card>
  );
}
