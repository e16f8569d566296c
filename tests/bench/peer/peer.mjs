// The peer of tests/bench/beside.py: a general-purpose sync engine, its server and its clients in one process on loopback.
// Arguments: a folder to work in, rows to push, rows of a first pull, photos, bytes of a photo. Prints milliseconds as JSON.
import { randomBytes } from "node:crypto";
import { mkdirSync } from "node:fs";
import { createRequire } from "node:module";

const [folder, ...counts] = process.argv.slice(2);
const [pushed, pulled, photos, bytes] = counts.map(Number);
const require = createRequire(`${folder}/package.json`);
const [PouchDB, express, served] = [require("pouchdb"), require("express"), require("express-pouchdb")];
// As it comes, LevelDB answers before a write is on the disk. Here both sides flush each write, as ours do.
const LevelDown = require("leveldown");
for (const name of ["_put", "_batch", "_del"]) {
  const plain = LevelDown.prototype[name];
  LevelDown.prototype[name] = function (...given) {
    const options = given.at(-2);
    return plain.apply(this, [...given.slice(0, -2), { ...options, sync: true }, given.at(-1)]);
  };
}
const chained = require("leveldown/chained-batch").prototype;
const write = chained._write;
chained._write = function (options, callback) {
  return write.call(this, { ...options, sync: true }, callback);
};
for (const part of ["server", "client"]) mkdirSync(`${folder}/${part}`, { recursive: true });
const Client = PouchDB.defaults({ prefix: `${folder}/client/` });
const app = express();
app.use("/db", served(PouchDB.defaults({ prefix: `${folder}/server/` }), { mode: "minimumForPouchDB", inMemoryConfig: true, logPath: `${folder}/log.txt` }));

const row = (n) => ({
  _id: `row-${String(n).padStart(6, "0")}`, type: "defect", elevation: "00000000-0000-4000-8000-000000000001", kind: "spalling",
  mark: { view: "seen", shape: "pin", points_m: [[1.25, 0.75]] }, note: `what was seen at the foot of the wall, number ${n}`,
});
const timed = async (deed) => {
  const begun = performance.now();
  await deed();
  return performance.now() - begun;
};
async function filled(name, rows) {
  const db = new Client(name);
  for (let n = 0; n < rows; n += 500) await db.bulkDocs(Array.from({ length: Math.min(500, rows - n) }, (_, i) => row(n + i)));
  return db;
}
async function taken(name, photos) {
  const camera = new Client(name);
  for (let n = 0; n < photos; n += 1) {
    const data = randomBytes(bytes).toString("base64"); // packs no better than a photo
    await camera.put({ ...row(n), _attachments: { photo: { content_type: "image/jpeg", data } } });
  }
  return camera;
}

app.listen(0, "127.0.0.1", async function () {
  const address = (name) => `http://127.0.0.1:${this.address().port}/db/${name}`;
  const one = await filled("one", pushed);
  const push = await timed(() => one.replicate.to(address("site")));
  const pull = await timed(() => new Client("two").replicate.from(address("site")));
  const idle = await timed(() => one.sync(address("site")));
  await (await filled("three", pulled)).replicate.to(address("large"));
  const first = await timed(() => new Client("four").replicate.from(address("large")));
  const camera = await taken("camera", photos);
  const sent = await timed(() => camera.replicate.to(address("photos")));
  const other = await taken("other", photos);
  const singly = await timed(() => other.replicate.to(address("singly"), { batch_size: 1 }));
  process.stdout.write(JSON.stringify({ push, pull, idle, first, photos: sent, singly }));
  process.exit(0);
});
