/** Spanish; each book is typed by its English twin, so that no sentence can be missing. */
import { common } from "./common";
import { help } from "./help";
import { marks } from "./marks";
import { refusals } from "./refusals";
import { surveys } from "./surveys";
import { walls } from "./walls";

export const es = { ...common, ...walls, ...surveys, ...marks, ...refusals, ...help };
