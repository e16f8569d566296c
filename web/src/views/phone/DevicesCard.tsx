/** The devices that have a part in the site, for its keeper: when each was last here, and taking one out. */
import { useEffect, useState } from "preact/hooks";
import { type Device, currentSite, devicesOf, me, refreshMe, takeOutDevice } from "../../store";
import { Button } from "../../parts/frame/Button";
import { Card, Chip } from "../../parts/frame/Card";
import { SureButton } from "../../parts/frame/SureButton";
import { t } from "../../words";
import { showDate } from "../../words/measures";
import { vocabularyWord } from "../../words/vocabulary";
import { useAsking } from "./asking";

function DeviceRow({ device, onOut }: { device: Device; onOut: () => Promise<void> }) {
  const who = t("devices_row", { person: device.person, device: device.device_name });
  const date = showDate(device.seen_at);
  const part = device.limited
    ? t("devices_seen_list", { n: device.handout_ids.length, date })
    : t("devices_seen", { role: vocabularyWord("roles", device.role), date });
  return (
    <li>
      <p><strong>{who}</strong> {device.device_id === me.value?.device_id ? <Chip>{t("devices_this")}</Chip> : null}</p>
      <p class="sub">{part}</p>
      <SureButton label={t("devices_out")} name={`${t("devices_out")}: ${who}`} title={t("devices_out_ask", { who })} say={t("devices_out_say")} yes={t("devices_out")} onYes={onOut} />
    </li>
  );
}

export function DevicesCard() {
  const site = currentSite.value;
  const [devices, setDevices] = useState<Device[]>([]);
  const { ask, trouble, asking } = useAsking();
  const load = async () => {
    if (site) setDevices(await devicesOf(site));
  };
  useEffect(() => void ask(load), [site]);
  const takeOut = (device: Device) => ask(async () => {
    if (site) await takeOutDevice(site, device.device_id);
    if (device.device_id === me.value?.device_id) await refreshMe();
    else await load();
  });
  return (
    <Card title={t("devices_title")}>
      <p>{t("devices_say")}</p>
      {trouble ? <p class="wrong" role="alert">{trouble}</p> : null}
      <ul class="rows people">{devices.map((one) => <DeviceRow key={one.device_id} device={one} onOut={() => takeOut(one)} />)}</ul>
      <Button disabled={asking} onPress={() => void ask(load)}>{t("devices_again")}</Button>
    </Card>
  );
}
