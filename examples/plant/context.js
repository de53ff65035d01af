// What the functions of the flow find in the global context: the plant system's rules, and the service.
//
//   SUMPWRIGHT      address of the service; default: http://127.0.0.1:8787
//   SUMPWRIGHT_KEY  its key, if it needs one
//   PLANT_AGAIN     seconds between retries of waiting questions; default: 15

// The flow's timer reads this one itself.
process.env.PLANT_AGAIN ??= "15";

module.exports = {
  plant: require("./plant.js"),
  service: {
    address: (process.env.SUMPWRIGHT ?? "http://127.0.0.1:8787").replace(/\/$/, ""),
    key: process.env.SUMPWRIGHT_KEY,
    attempts: 4,
    // Milliseconds: the first wait if the service names none, doubled each time; the longest
    // wait of a sender; the time limit of one attempt.
    firstWait: 500,
    patience: 10000,
    timeout: 10000,
  },
};
