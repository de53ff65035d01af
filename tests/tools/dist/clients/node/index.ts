// Asks a Sumpwright service; every path has the types of its question, its answer and its problems.

import createFetchClient, { type Client, type ClientOptions } from "openapi-fetch";
import type { paths } from "./schema.js";

export type * from "./schema.js";

type Json = "application/json" | "application/problem+json";

/** A client of the service at `baseUrl`. What is no answer of the service's own is thrown. */
export function createClient(options: ClientOptions & { baseUrl: string }): Client<paths, Json> {
  const client = createFetchClient<paths, Json>(options);
  client.use({
    onResponse({ response }) {
      const kind = response.headers.get("content-type") ?? "nothing";
      if (response.status >= 400 && !kind.startsWith("application/problem+json")) {
        throw new Error(
          `${response.url} answered ${response.status} with ${kind}: that is no problem of Sumpwright's`,
        );
      }
    },
  });
  return client;
}
