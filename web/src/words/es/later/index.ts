/** Spanish for every screen but the first. */
import { buying } from "./buying";
import { closing } from "./closing";
import { finding } from "./finding";
import { handing } from "./handing";
import { lasting } from "./lasting";
import { measuring } from "./measuring";
import { papers } from "./papers";
import { phone } from "./phone";
import { storms } from "./storms";
import { tickets } from "./tickets";

export const later = { ...buying, ...closing, ...finding, ...handing, ...lasting, ...measuring, ...papers, ...phone, ...storms, ...tickets };
