// express-pouchdb over LevelDB in a folder: node pouch_server.js FOLDER; prints its port.
const path = require("path");
const express = require("express");
const PouchDB = require("pouchdb");

const folder = process.argv[2] + path.sep;
const Stored = PouchDB.defaults({ prefix: folder });
const app = express();
app.use(
  "/",
  require("express-pouchdb")(Stored, {
    configPath: path.join(folder, "config.json"),
    logPath: path.join(folder, "log.txt"),
  })
);
const listening = app.listen(0, "127.0.0.1", () => console.log(listening.address().port));
