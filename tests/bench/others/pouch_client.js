// Replicates records up to an empty server and down to an empty client:
// node pouch_client.js FOLDER ADDRESS BATCH < records, one a line; prints {"push", "pull"} in seconds.
const fs = require("fs");
const path = require("path");
const PouchDB = require("pouchdb");

async function main(folder, address, batch) {
  const lines = fs.readFileSync(0, "utf8").split("\n").filter(Boolean);
  const docs = lines.map((line) => {
    const { id, ...rest } = JSON.parse(line);
    return { _id: id, ...rest };
  });
  const name = "b" + batch + "-" + Date.now();
  const remote = new PouchDB(address + name);
  await remote.info();
  const up = new PouchDB(path.join(folder, name + "-up"));
  const down = new PouchDB(path.join(folder, name + "-down"));
  await up.bulkDocs(docs);
  const how = { batch_size: batch };
  let begun = process.hrtime.bigint();
  const pushed = await up.replicate.to(remote, how);
  const push = Number(process.hrtime.bigint() - begun) / 1e9;
  begun = process.hrtime.bigint();
  const pulled = await down.replicate.from(remote, how);
  const pull = Number(process.hrtime.bigint() - begun) / 1e9;
  if (pushed.docs_written !== docs.length || pulled.docs_written !== docs.length) {
    throw new Error("not all records were replicated");
  }
  console.log(JSON.stringify({ push, pull }));
}

main(process.argv[2], process.argv[3], Number(process.argv[4])).catch((error) => {
  console.error(error);
  process.exit(1);
});
