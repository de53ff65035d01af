// Holds XML files to a schema, by libxml2: validate.js NODE_MODULES SCHEMA FILE…

const { readFileSync } = require("node:fs");
const { join } = require("node:path");
const { pathToFileURL } = require("node:url");

const [modules, schema, ...files] = process.argv.slice(2);

async function validate() {
  const { XmlDocument, XsdValidator } = await import(
    pathToFileURL(join(modules, "libxml2-wasm/lib/index.mjs")).href
  );
  const validator = XsdValidator.fromDoc(XmlDocument.fromBuffer(readFileSync(schema)));
  for (const file of files) {
    try {
      validator.validate(XmlDocument.fromBuffer(readFileSync(file)));
    } catch (fault) {
      console.log(`${file}: ${fault.message}`);
      process.exitCode = 1;
    }
  }
}

validate();
