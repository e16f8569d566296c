/** What every screen but the first says; it comes with the first of them that is gone to. */
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
