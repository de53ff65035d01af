// Settings of Node-RED for the plant system's side of a recharge order.
//
//   SUMPWRIGHT      the service's address; http://127.0.0.1:8787 when left out
//   SUMPWRIGHT_KEY  its key, where it asks for one
//   PLANT_PORT      where orders come in on this machine; 1880 when left out
//   PLANT_STATE     the folder that orders are filed in; state beside this file when left out
//   PLANT_AGAIN     seconds between looks at what still waits; 15 when left out
//   PLANT_EDITOR    set it to have the editor at /editor, on this machine alone

const path = require("node:path");

// The flow's timer reads this one itself.
process.env.PLANT_AGAIN ??= "15";

module.exports = {
  uiHost: "127.0.0.1",
  uiPort: Number(process.env.PLANT_PORT ?? 1880),
  httpAdminRoot: process.env.PLANT_EDITOR ? "/editor" : false,
  httpNodeRoot: "/",
  flowFile: path.join(__dirname, "flows.json"),
  userDir: process.env.PLANT_STATE ?? path.join(__dirname, "state"),
  credentialSecret: false,

  contextStorage: {
    default: { module: "memory" },
    // Written as soon as a function is done, by way of a second file and a rename.
    file: { module: "localfilesystem", config: { flushInterval: 0 } },
  },
  functionGlobalContext: {
    plant: require("./plant.js"),
    service: {
      address: (process.env.SUMPWRIGHT ?? "http://127.0.0.1:8787").replace(/\/$/, ""),
      key: process.env.SUMPWRIGHT_KEY,
      attempts: 4,
      // Milliseconds: the first wait, doubled each time, where the service names none; the longest
      // that somebody is kept waiting for; how long one attempt may take.
      firstWait: 500,
      patience: 10000,
      timeout: 10000,
    },
  },
  exportGlobalContextKeys: false,

  telemetry: { enabled: false, updateNotification: false },
  diagnostics: { enabled: false, ui: false },
  runtimeState: { enabled: false, ui: false },
  functionExternalModules: false,
  externalModules: {
    autoInstall: false,
    palette: { allowInstall: false },
    modules: { allowInstall: false },
  },
  editorTheme: { tours: false, projects: { enabled: false } },
  logging: { console: { level: "info", metrics: false, audit: false } },
};
