// A document leaf by leaf: its numbers and words by the path that leads to them.

/** Every leaf of a value: its path with dots, its schema and itself. */
export function leaves(spec, schema, value) {
  const found = [];
  spec.map(schema, value, (s, leaf, path) => {
    found.push({ path: path.join("."), schema: s, leaf });
    return leaf;
  });
  return found;
}

/** Puts a leaf into a document, with a list where a step is a number. */
export function put(document, [step, ...rest], leaf) {
  if (rest.length > 0) {
    if (!Object.hasOwn(document, step)) document[step] = /^\d+$/.test(rest[0]) ? [] : {};
    put(document[step], rest, leaf);
  } else document[step] = leaf;
}

/** The schema at a path of a document that is being read. */
export function schemaAt(spec, schema, document, steps) {
  let s = spec.resolve(schema);
  let value = document;
  for (const step of steps) {
    if (spec.kind(s) === "union") s = spec.branchOf(s, value)?.schema ?? s;
    s = s.items ? spec.resolve(s.items) : spec.reachable(s, step);
    value = value?.[step];
  }
  return s;
}
