/**
 * The store as the screens see it. Signals are read with `.value`; what they hold is never mutated, a change brings a new one.
 * Every function that writes resolves only when the phone has durably stored it, and rejects otherwise.
 */
export { chooseSite, chooseSiteOf, closeStore, openStore, ready, whole } from "./open";
export { troubles, type Draft, type KeptPhoto, type ParkedOp, type PhotoFacts, type PhotoJob } from "./database";
export { localNumber, row, sites, table } from "./view";
export {
  changesOf, discardParked, drop, newId, parked, photoJobs, put, putMany, putParkedBack, retryParked, type Change, type Drop, type Put, type PutOptions,
} from "./outbox";
export {
  beginCamera, bringThrownBack, correctKept, draftAtCamera, drafts, dropDraft, endCamera, flushDrafts, forgetKept, forgetThrown, keepBytes, readDraft,
  saveDraft, throwDraft,
} from "./drafts";
export { haveLooked, lookAgain, looks, news, type News } from "./looked";
export { bringBack, gone, type GoneRow, type RowKey } from "./revive";
export { addPhoto, keptUrl, photoRow, photoUrl, type PhotoSize } from "./photo/photos";
export { mediaTypeOf } from "./photo/picture";
export { clearedAt, currentSite, limited, me, nowIso, role, setClearedAt, setSettings, settings, type Grant, type Me, type Settings } from "./phone";
export { NotReached, Refused, StoreTrouble, type TroubleCode } from "./refusals";
export { saveBundle, type Saved } from "./bundle/save";
export { takeInBundle, type TakenIn } from "./bundle/takeIn";
export { catalogue, serverFacts, type ServerFacts } from "./net/catalogue";
export { enrol, invite, leave, type Invite } from "./net/enrol";
export { holdOriginals, letOriginalsGo } from "./net/line";
export { beginPaper, paperAddress, paperFile, paperProgress, stopPaper, type PaperJob } from "./net/papers";
export { refreshMe } from "./net/me";
export { devicesOf, lookAtLink, openLinks, takeBackLink, takeOutDevice, type Device, type LinkPromise, type OpenLink } from "./net/people";
export { startSync, syncNow, syncState } from "./net/sync";
export { setTransport, type Transport } from "./net/transport";
export { retryPhoto } from "./net/upload";
export {
  RAIN_UNITS, WIND_UNITS, readStation, type StationMapping, type StationRead, type StationSpell, type StationTrouble,
} from "./station";
export { applyUpdate, updateReady, watchForUpdate } from "./net/update";
