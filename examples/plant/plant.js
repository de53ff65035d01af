// The functions that the nodes of the flow call, by name: global.get("plant").

const ask = require("./plant/ask");
const batch = require("./plant/batch");
const claims = require("./plant/claims");
const job = require("./plant/job");
const record = require("./plant/batchml/record");
const reply = require("./plant/reply");
const watch = require("./plant/watch/sump");
const { questionOf } = require("./plant/order");
const { busy } = require("./plant/problem");
const { jobResponse, stateOf } = require("./plant/response");

module.exports = {
  ...ask,
  ...batch,
  ...claims,
  ...job,
  ...record,
  ...reply,
  ...watch,
  busy,
  jobResponse,
  questionOf,
  stateOf,
};
