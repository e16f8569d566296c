/** English, put together from one book per part of the app. Here is what the first screen says; the rest lies in later/. */
import { common } from "./common";
import { help } from "./help";
import { marks } from "./marks";
import { refusals } from "./refusals";
import { surveys } from "./surveys";
import { walls } from "./walls";
import type { later } from "./later";

export const en = { ...common, ...walls, ...surveys, ...marks, ...refusals, ...help };
export type FirstKey = keyof typeof en;
export type LaterKey = keyof typeof later;
