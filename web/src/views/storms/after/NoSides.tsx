/** Nothing for the rain to fall on yet. */
import { Button } from "../../../parts/frame/Button";
import { Empty } from "../../../parts/frame/Card";
import { go } from "../../../parts/frame/route";
import { t } from "../../../words";

export function NoSides() {
  return <Empty scene="wall" action={<Button onPress={() => go("/walls")}>{t("to_walls")}</Button>}>{t("rain_no_sides")}</Empty>;
}
