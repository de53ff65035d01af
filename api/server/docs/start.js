// Starts the documentation page.
//
// The viewer follows every reference of a document each time that it shows a part of it, which takes
// seconds. Here it is given the part with all that it refers to in its place, which takes milliseconds.

const PREFIX = "#/components/";

/** A part of a document, with what it refers to in its place; what refers to itself stays a reference. */
function inPlace(part, document, within = []) {
  if (part === null || typeof part !== "object") return part;
  if (Array.isArray(part)) return part.map((one) => inPlace(one, document, within));
  const { $ref: to, ...beside } = part;
  if (typeof to !== "string" || !to.startsWith(PREFIX)) {
    const entries = Object.entries(part);
    return Object.fromEntries(entries.map(([name, one]) => [name, inPlace(one, document, within)]));
  }
  if (within.includes(to)) return part;
  const [kind, name] = to.slice(PREFIX.length).split("/");
  const meant = inPlace(document.components[kind]?.[name], document, [...within, to]);
  return { ...meant, ...inPlace(beside, document, within), $$ref: to };
}

const inParts = ({ fn: { resolveSubtree } }) => ({
  fn: {
    resolveSubtree(document, path, options) {
      const [kind, name] = path;
      if (kind === "paths" && path.length > 2) {
        const operation = path.reduce((part, step) => part?.[step], document);
        return { spec: inPlace(operation, document), errors: [] };
      }
      // Nothing is referred to in a key.
      if (name === "securitySchemes") return { spec: document.components.securitySchemes, errors: [] };
      return resolveSubtree(document, path, options);
    },
  },
  statePlugins: {
    spec: {
      wrapActions: {
        // The document is JSON. The viewer would read it as YAML, which takes far longer.
        parseToJson:
          (_, { specActions }) =>
          (text) =>
            specActions.updateJsonSpec(JSON.parse(text)),
      },
    },
  },
});

globalThis.SwaggerUIBundle({
  dom_id: "#swagger-ui",
  url: "/openapi.json",
  layout: "BaseLayout",
  presets: [globalThis.SwaggerUIBundle.presets.apis],
  plugins: [inParts],
  deepLinking: true,
  docExpansion: "list",
  // The schemas stand with the operations that have them.
  defaultModelsExpandDepth: -1,
  // Nothing beyond this machine looks at the document.
  validatorUrl: "none",
});
