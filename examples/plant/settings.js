// Settings of Node-RED for the plant system's side of a recharge order.
//
//   SUMPWRIGHT      address of the service; default: http://127.0.0.1:8787
//   SUMPWRIGHT_KEY  its key, if it needs one
//   PLANT_PORT      port for orders on this machine; default: 1880
//   PLANT_STATE     folder for filed orders; default: state beside this file
//   PLANT_AGAIN     seconds between retries of waiting questions; default: 15
//   PLANT_EDITOR    if set, the editor is at /editor, on this machine only

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
    // Written as soon as a function is done, to a second file that is then renamed.
    file: { module: "localfilesystem", config: { flushInterval: 0 } },
  },
  functionGlobalContext: {
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
