// Puts the page, its schemas and the engine into one file: target/page/sumpwright.html.
//
// Run by tests/tools/browser/one-file, with the address of a service.

const { buildSync } = require("esbuild");
const { createHash } = require("node:crypto");
const { readFileSync, readdirSync, writeFileSync } = require("node:fs");
const { resolve } = require("node:path");
const { gzipSync } = require("node:zlib");

const ROOT = resolve(__dirname, "../../..");
const PAGE = `${ROOT}/api/server/page`;
const MOST = 4_500_000;

const text = (name) => readFileSync(`${PAGE}/${name}`, "utf8");
const digest = (content) => `'sha256-${createHash("sha256").update(content).digest("base64")}'`;
const small = (options) =>
  buildSync({
    minify: true,
    write: false,
    legalComments: "none",
    target: "es2022",
    ...options,
  }).outputFiles[0].text.trimEnd();

/** What stands in an element of a page without being taken for its end. */
const held = (json) => json.replaceAll("<", "\\u003c");

/** The licences of the libraries in it, which go along with them, as a comment. */
function licences() {
  const names = readdirSync(`${PAGE}/vendored`).filter((name) => name.endsWith(".LICENSE"));
  if (names.length === 0) throw new Error("no library has a licence");
  const texts = names.map((name) => `${name.replace(".LICENSE", "")}\n\n${text(`vendored/${name}`).trim()}`);
  const whole = `The licences of the libraries of others in this file:\n\n${texts.join("\n\n")}`;
  return `<!--\n${whole.replaceAll("--", "- -")}\n-->\n`;
}

/** Takes out of a page what matches, and gives the first group of each. */
function taken(page, pattern) {
  const found = [...page.matchAll(pattern)].map((match) => match[1]);
  if (found.length === 0) throw new Error(`the page has nothing like ${pattern}`);
  return [page.replaceAll(pattern, ""), found];
}

(async () => {
  const fetched = async (name) => (await fetch(new URL(`page/${name}.json`, process.argv[2]))).json();
  const [forms, others] = await Promise.all(["forms", "other-forms"].map(fetched));
  Object.assign(forms.components.schemas, others.components.schemas);
  const engine = gzipSync(readFileSync(`${ROOT}/target/page/engine.wasm`), { level: 9 });
  const [withoutStyles, styles] = taken(
    text("index.html"),
    /<link rel="stylesheet" href="page\/([^"]+)">\n?/g,
  );
  const [withoutScripts, scripts] = taken(
    withoutStyles,
    /<script type="module" src="page\/([^"]+)"><\/script>\n?/g,
  );
  const [page] = taken(withoutScripts, /<link rel="(manifest|icon|apple-touch-icon)"[^>]*>\n?/g);
  if (/(href|src)="page\//.test(page)) throw new Error("a file of the page is left out");
  const style = small({ stdin: { contents: styles.map(text).join("\n"), loader: "css" } });
  const imports = scripts.map((name) => `import "./${name}";`).join("\n");
  const script = small({ bundle: true, format: "esm", stdin: { contents: imports, resolveDir: PAGE } });
  const worker = small({ stdin: { contents: text("engine-worker.js") } });
  for (const [element, content] of [
    ["style", style],
    ["script", script],
    ["script", worker],
  ]) {
    if (content.toLowerCase().includes(`</${element}`))
      throw new Error(`a ${element} would end its own element`);
  }
  const icon = `data:image/svg+xml;base64,${Buffer.from(text("icon.svg")).toString("base64")}`;
  const policy =
    `default-src 'none'; script-src ${digest(script)} 'wasm-unsafe-eval'; worker-src blob:; ` +
    `style-src ${digest(style)} blob:; img-src data: blob:; form-action 'none'; base-uri 'none'`;
  const head = `<meta http-equiv="Content-Security-Policy" content="${policy}">
<link rel="icon" href="${icon}">
<style>${style}</style>
`;
  const body = `<script type="application/json" id="forms">${held(JSON.stringify(forms))}</script>
<script type="text/plain" id="engine-worker">${worker}</script>
<script type="text/plain" id="engine">${engine.toString("base64")}</script>
<script type="module">${script}</script>
`;
  // As functions: a text would have its dollar signs read as places.
  const whole = page
    .replace("</head>", () => `${head}${licences()}</head>`)
    .replace("</body>", () => `${body}</body>`);
  writeFileSync(`${ROOT}/target/page/sumpwright.html`, whole);
  const size = Buffer.byteLength(whole);
  console.log(`target/page/sumpwright.html: ${size} bytes`);
  if (size > MOST) throw new Error(`that is more than ${MOST}`);
})();
