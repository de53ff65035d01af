// What the functions of the flow find in the global context: the plant system's rules, and the service.
//
//   SUMPWRIGHT      address of the service; default: http://127.0.0.1:8787
//   SUMPWRIGHT_KEY  its key, if it needs one
//   PLANT_AGAIN     seconds between retries of waiting questions; default: 15
//   PLANT_BROKER    address of the MQTT broker, for the sumps that are watched; default: 127.0.0.1
//   PLANT_BROKER_PORT  its port; default: 1883

// The flows read these themselves.
process.env.PLANT_AGAIN ??= "15";
process.env.PLANT_BROKER ??= "127.0.0.1";
process.env.PLANT_BROKER_PORT ??= "1883";

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
