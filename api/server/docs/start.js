// Starts the documentation page.
//
// The viewer follows every reference of a document each time that it shows a part of it,
// which takes seconds for all calculations together. Here it is given the part alone, with
// the components that the part refers to.

const PREFIX = "#/components/";

/** Notes the references in a part of a document, and in what those refer to. */
function references(part, document, found) {
  if (part === null || typeof part !== "object") return;
  const to = part.$ref;
  if (typeof to === "string" && to.startsWith(PREFIX) && !found.has(to)) {
    found.add(to);
    const [kind, name] = to.slice(PREFIX.length).split("/");
    references(document.components[kind]?.[name], document, found);
  }
  // A branch is referred to by name as well.
  for (const branch of Object.values(part.discriminator?.mapping ?? {})) {
    references({ $ref: branch }, document, found);
  }
  for (const inner of Object.values(part)) references(inner, document, found);
}

/** The operation at a path, and what it refers to, as a document. */
function operationAlone({ openapi, info, servers, security, ...document }, [, address, method]) {
  const operation = document.paths[address][method];
  const found = new Set();
  references(operation, document, found);
  const components = {};
  for (const reference of found) {
    const [kind, name] = reference.slice(PREFIX.length).split("/");
    components[kind] ??= {};
    components[kind][name] = document.components[kind][name];
  }
  return { openapi, info, servers, security, paths: { [address]: { [method]: operation } }, components };
}

const inParts = ({ fn: { resolveSubtree } }) => ({
  fn: {
    resolveSubtree(document, path, options) {
      const [kind, name] = path;
      if (kind === "paths" && path.length > 2) {
        return resolveSubtree(operationAlone(document, path), path, options);
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
