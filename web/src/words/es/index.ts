/** Spanish; each book is typed by its English twin, so that no sentence can be missing. */
import { buying } from "./buying";
import { closing } from "./closing";
import { common } from "./common";
import { finding } from "./finding";
import { lasting } from "./lasting";
import { papers } from "./papers";
import { phone } from "./phone";
import { handing } from "./handing";
import { help } from "./help";
import { marks } from "./marks";
import { refusals } from "./refusals";
import { storms } from "./storms";
import { tickets } from "./tickets";
import { walls } from "./walls";

export const es = { ...common, ...walls, ...marks, ...phone, ...storms, ...tickets, ...closing, ...handing, ...papers, ...buying, ...lasting, ...finding, ...refusals, ...help };
