/** The sentences of measuring on a photo. */
import { bookOf } from "../../words";
import { measuring as en } from "../../words/en/measuring";
import { measuring as es } from "../../words/es/measuring";

export const say = bookOf({ en, es });
