// Settings of Node-RED for the plant system's side of a recharge order. context.js reads more of them.
//
//   PLANT_PORT      port for orders on this machine; default: 1880
//   PLANT_STATE     folder for what is filed; default: plant-state beside the node_modules that the package is in
//   PLANT_EDITOR    if set, the editor is at /editor, on this machine only

const path = require("node:path");

module.exports = {
  uiHost: "127.0.0.1",
  uiPort: Number(process.env.PLANT_PORT ?? 1880),
  httpAdminRoot: process.env.PLANT_EDITOR ? "/editor" : false,
  httpNodeRoot: "/",
  flowFile: path.join(__dirname, "flows.json"),
  userDir: path.resolve(process.env.PLANT_STATE ?? path.join(__dirname, "../../plant-state")),
  credentialSecret: false,

  contextStorage: {
    default: { module: "memory" },
    // Written as soon as a function is done, to a second file that is then renamed.
    file: { module: "localfilesystem", config: { flushInterval: 0 } },
  },
  functionGlobalContext: require("./context.js"),
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
